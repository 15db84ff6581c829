"""The cutting list and the cutting plan as tables."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from drafter.sheets.scene import Scene, hold_words
from drafter.sheets.tables import Column, Table
from drafter.takeoff.bend_words import bends_words
from drafter.takeoff.cutting import MAKE_UP_M, REUSABLE_M, Bar, cut_allowance_m
from drafter.takeoff.cutting_words import bound_words, kept_words, purchase_words
from drafter.takeoff.pipe_threads import SHORT_WORDS, short_pieces

BENDS_MM = 60.0
"""Where the bends of a piece wrap."""


def cutting_table(scene: Scene) -> Table:
    """Pieces of tube, centre to centre and as cut, and where bends are marked on them if any are bent."""
    units, bent = scene.units, any(piece.bends for piece in scene.takeoff.pieces)
    short = short_pieces(scene.design.network, scene.takeoff.pieces)
    rows = tuple(
        (
            str(p.number), p.size, p.start, p.end, units.length(p.centre_to_centre_m), units.length(p.cut_m),
            "on site" if p.make_up else "", *((SHORT_WORDS if p in short else "",) if short else ()),
            *((bends_words(p, units),) if bent else ()),
        )
        for p in scene.takeoff.pieces
    )  # fmt: skip
    columns = (
        Column("piece", True), Column("size"), Column("from"), Column("to"), Column("centres", True),
        Column("cut", True), Column("make-up"),
        *((Column("too short for the vice"),) if short else ()),
        *((Column("bends, from its first end", widest_mm=BENDS_MM),) if bent else ()),
    )  # fmt: skip
    return Table(f"CUTTING LIST, measure a fitting first{hold_words(scene)}", columns, rows)


def bars_tables(scene: Scene) -> Iterator[Table]:
    """For each stock length what is cut from it and what is left, then what each size comes to."""
    if not scene.takeoff.bars:
        return
    family, units = scene.design.network.material, scene.units
    allowed = units.length_with_unit(cut_allowance_m(family, scene.site.main.kerf_m))
    rows = tuple(row for bar in scene.takeoff.bars for row in _rows(scene, bar))
    columns = (
        Column("length", True), Column("size"), Column("stock"), Column("begin at", True), Column("cut", True),
        Column("pieces"), Column("offcut", True), Column(""),
    )  # fmt: skip
    more = units.length_with_unit(MAKE_UP_M)
    title = f"CUTTING PLAN, {allowed} allowed for each {'recut' if family.coil else 'cut'}, {more} for make-up"
    title += f", {units.length_with_unit(family.trim_m)} off the first end of each length" if family.trim_m else ""
    yield Table(title, columns, rows)
    totals = tuple(
        (
            plan.size,
            purchase_words(plan, units),
            bound_words(plan, units),
            kept_words(plan, units),
            f"{units.long_length(plan.waste_m)}, {plan.waste_m / plan.bought_m * 100:.0f} %",
        )
        for plan in scene.takeoff.cutting
    )
    heads = ("size", "buy", "bound", "offcuts to keep", "lost")
    yield Table("TUBE TO BUY", tuple(Column(head) for head in heads), totals)


def _rows(scene: Scene, bar: Bar) -> Iterator[tuple[str, ...]]:
    """One row for pieces cut alike one after the other; the first names the bar, the last what is left of it.

    Coils are cut at their own marks of length, bars with a tape.
    """
    units = scene.units
    cut_m = {piece.number: piece.cut_m for piece in scene.takeoff.pieces}
    cuts = zip(bar.pieces, bar.starts_m, strict=True)
    alike = [list(group) for _, group in groupby(cuts, key=lambda cut: units.length(cut_m[cut[0]]))]
    for number, group in enumerate(alike, 1):
        name = (str(bar.number), bar.size, units.long_length(bar.stock_m)) if number == 1 else ("", "", "")
        keep = "keep" if bar.offcut_m >= REUSABLE_M else ""
        rest = (units.length(bar.offcut_m), keep) if number == len(alike) else ("", "")
        first, start_m = group[0]
        pieces = ", ".join(str(piece) for piece, _ in group)
        begins = units.long_length(start_m) if scene.design.network.material.coil else units.length(start_m)
        yield *name, begins, units.length(cut_m[first]), pieces, *rest
