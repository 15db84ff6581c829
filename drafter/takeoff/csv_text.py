"""Take-off schedules as CSV text after RFC 4180: one row an item, units in the names of the columns.

Lengths are whole millimetres. Where a site draws in feet, a column in feet, inches and sixteenths stands before them.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Sequence
from io import StringIO

from drafter.quantity import Units
from drafter.quantity.kinds import FOOT_M
from drafter.takeoff import Takeoff
from drafter.takeoff.bend_words import bends_words
from drafter.takeoff.job_tools import JobRow
from drafter.takeoff.pieces import Piece
from drafter.takeoff.pipe_threads import SHORT_WORDS

Cell = str | int | float

_FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r")


def parts_csv(takeoff: Takeoff, units: Units) -> str:
    """Return what to buy: how much the drawings show, how much to order with spares, and in which unit.

    Tube is counted in metres, or in feet where the site draws in feet; prices are each or of a metre.
    """
    priced = takeoff.bill is not None
    prices = takeoff.bill.prices if takeoff.bill else (None,) * len(takeoff.parts)
    rows = [
        (
            part.group,
            part.item,
            part.size,
            *_amounts((part.quantity, part.order), part.unit, units),
            " ".join(part.tags),
            *(_price_cells(price, part.order) if priced else ()),
        )
        for part, price in zip(takeoff.parts, prices, strict=True)
    ]
    heads = ("group", "item", "size", "quantity", "to_order", "unit", "tags")
    return _csv((*heads, *(("each_or_a_metre", "cost") if priced else ())), rows)


def _price_cells(price: float | None, order: float) -> tuple[Cell, Cell]:
    return ("", "") if price is None else (price, round(price * order, 2))


def cutting_csv(takeoff: Takeoff, units: Units, short: Sequence[Piece] = ()) -> str:
    """Return every piece of tube with its lengths, the number of its stock length, and where on that it begins.

    Where some are bent, a last column says how, in the lengths of the site: turn, radius, from and to on the piece.

    Args:
        short: pieces too short to thread in the vice; where there are some, a column says how they are made.
    """
    bent = any(piece.bends for piece in takeoff.pieces)
    stock = {
        piece: (bar.number, *_length(bar.stock_m, units), *_length(start_m, units))
        for bar in takeoff.bars
        for piece, start_m in zip(bar.pieces, bar.starts_m, strict=True)
    }
    rows = [
        (
            piece.number,
            piece.size,
            piece.start,
            piece.end,
            *_length(piece.centre_to_centre_m, units),
            *_length(piece.cut_m, units),
            "yes" if piece.make_up else "",
            *stock[piece.number],
            *((SHORT_WORDS if piece in short else "",) if short else ()),
            *((bends_words(piece, units),) if bent else ()),
        )
        for piece in takeoff.pieces
    ]
    lengths = (*_columns("centre_to_centre", units), *_columns("cut", units))
    stock_columns = ("stock_length_no", *_columns("stock_length", units), *_columns("begins_at", units))
    bends = ("bends_ft_in" if units.imperial else "bends_mm",) if bent else ()
    chuck = ("too_short_for_the_vice",) if short else ()
    return _csv(("piece", "size", "from", "to", *lengths, "cut_on_site", *stock_columns, *chuck, *bends), rows)


def tools_csv(rows: Sequence[JobRow], units: Units) -> str:
    """Return the tools to bring and what the joints use up; lengths in metres, or in feet where the site draws so."""
    cells = [(row.kind, row.item, *_amounts((row.amount,), row.unit, units), row.use) for row in rows]
    return _csv(("kind", "item", "amount", "unit", "for"), cells)


def mark_out_csv(takeoff: Takeoff, units: Units, level_line_m: float) -> str:
    """Return what to mark on each wall: from its left-hand corner, above finished floor, and from the level line."""
    rows = [
        (
            mark.room, mark.wall, mark.tag, mark.what,
            *_length(mark.from_left_m, units), *_length(mark.height_m, units),
            *_signed_length(mark.height_m - level_line_m, units),
        )
        for mark in takeoff.marks
    ]  # fmt: skip
    lengths = (
        *_columns("from_left_corner", units), *_columns("height_above_floor", units),
        *_columns("from_level_line", units),
    )  # fmt: skip
    return _csv(("room", "wall", "tag", "what", *lengths), rows)


def _columns(name: str, units: Units) -> tuple[str, ...]:
    return (f"{name}_ft_in", f"{name}_mm") if units.imperial else (f"{name}_mm",)


def _length(length_m: float, units: Units) -> tuple[Cell, ...]:
    millimetres = round(length_m * 1000)
    return (units.length(length_m), millimetres) if units.imperial else (millimetres,)


def _signed_length(length_m: float, units: Units) -> tuple[Cell, ...]:
    millimetres = round(length_m * 1000)
    if not units.imperial:
        return (millimetres,)
    words = units.length(abs(length_m))
    on_the_line = words == units.length(0.0)
    return words if on_the_line else f"{words} {'down' if length_m < 0.0 else 'up'}", millimetres


def _amounts(amounts: Sequence[float], unit: str, units: Units) -> tuple[Cell, ...]:
    """Return amounts and their unit, metres as feet where the site draws in feet."""
    if unit == "m" and units.imperial:
        return (*(round(amount / FOOT_M, 1) for amount in amounts), "ft")
    return (*(int(amount) if amount == int(amount) else round(amount, 3) for amount in amounts), unit)


def _csv(header: Sequence[str], rows: Iterable[Sequence[Cell]]) -> str:
    stream = StringIO(newline="")
    writer = csv.writer(stream)
    writer.writerow(header)
    writer.writerows([_guarded(cell) for cell in row] for row in rows)
    return stream.getvalue()


def _guarded(cell: Cell) -> Cell:
    """Return a text that no spreadsheet takes for a formula; numbers stay numbers."""
    return f"'{cell}" if isinstance(cell, str) and cell.startswith(_FORMULA_SIGNS) else cell
