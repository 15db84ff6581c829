"""What holds the pipe, as it is bought: brackets, hangers with their rods, backing boards."""

from __future__ import annotations

import math
from collections import Counter

from drafter.quantity import Units
from drafter.quantity.kinds import INCH_M
from drafter.supports.boards import BOARD_TALL_M, BOARD_THICK_M
from drafter.supports.design import Board, Bracket, Console, Design
from drafter.takeoff.part import SUPPORTS
from drafter.takeoff.rows import Row

SPARE_SHARE = 0.1
"""Spare fittings, clips and screws, rounded up (from memory)."""

ROD_STEP_M = 0.25
"""Rods are bought in steps of this and cut (common practice)."""

LONGEST_ROD_M = 1.0
"""Threaded rod is sold in metres; what is longer is joined (common practice)."""

GIVES_STEP_M, GIVES_STEP_IN_INCHES_M = 0.005, 0.25 * INCH_M
"""Loose brackets are bought alike where they let the pipe move alike, in steps of 5 mm or 1/4 in (common practice)."""

BRACE = "brace for a fixed point's rod, along the pipe up to the next joist or the ceiling, an angle at either end"


def spares(count: int) -> int:
    """Return how many more to buy of so many."""
    return math.ceil(count * SPARE_SHARE)


def held_by(bracket: Bracket) -> tuple[str, str]:
    """Return what a bracket is screwed to, and its number or tag; that is empty where it has none."""
    if bracket.board:
        return "board", bracket.board
    if bracket.on_column:
        return "column", ""
    if bracket.stud:
        return ("joist" if bracket.hangs else "stud"), str(bracket.stud)
    return ("ceiling" if bracket.hangs else "wall"), ""


def console_held_by(console: Console) -> tuple[str, str]:
    """Return what a console is screwed to, and its number or tag; that is empty where it has none."""
    if console.on_floor:
        return "floor", ""
    if console.board:
        return "board", console.board
    return ("stud", str(console.stud)) if console.stud else ("wall", "")


def rods_m(bracket: Bracket) -> tuple[float, ...]:
    """Return the lengths of rod to buy for a hanger, the longest first [m]; none for a bracket."""
    if not bracket.hangs:
        return ()
    whole, rest_m = divmod(math.ceil(bracket.stand_off_m / ROD_STEP_M - 1e-6) * ROD_STEP_M, LONGEST_ROD_M)
    return (*[LONGEST_ROD_M] * int(whole), *([rest_m] if rest_m else []))


def bracket_item(bracket: Bracket, units: Units) -> str:
    """Return what a bracket or hanger is bought as; rods of hangers are cut on site.

    A rod swings, so that of a fixed point is braced to the ceiling along the pipe (common practice).
    """
    kind = f"{'hanger' if bracket.hangs else 'bracket'}, {_holding(bracket, units)}"
    if bracket.hangs:
        rods = [units.length_with_unit(rod_m) for rod_m in rods_m(bracket)]
        return f"{kind}, with a rod of {rods[0]}" if len(rods) == 1 else f"{kind}, with rods of {' + '.join(rods)}"
    face = "board" if bracket.board else "column" if bracket.on_column else "wall"
    return f"{kind}, {units.length_with_unit(bracket.stand_off_m)} off the {face}"


def _holding(bracket: Bracket, units: Units) -> str:
    if bracket.fixed:
        return "fixed point, rod braced along the pipe" if bracket.hangs else "fixed point"
    if not bracket.gives_m:
        return "sliding"
    step_m = GIVES_STEP_IN_INCHES_M if units.imperial else GIVES_STEP_M
    gives_m = math.ceil(bracket.gives_m / step_m - 1e-6) * step_m
    return f"loose, {units.room_to_move(gives_m)} or more to either side"


def brace_m(design: Design, bracket: Bracket) -> float:
    """Return how long a brace is bought for the rod of a fixed hanger: up to the next joist, or at 45° [m].

    Source:
        common practice.
    """
    joists = design.network.layout.site.rooms[bracket.room].studs_of(bracket.wall) if bracket.stud else None
    aside_m = joists.spacing_m if joists else bracket.stand_off_m
    return math.ceil(math.hypot(aside_m, bracket.stand_off_m) / ROD_STEP_M - 1e-6) * ROD_STEP_M


def bracket_rows(design: Design) -> list[Row]:
    """Return brackets and hangers, and the joiners of rods in several lengths."""
    units = design.network.layout.site.units
    count = Counter((bracket_item(bracket, units), bracket.size.name) for bracket in design.brackets)
    rows = [
        Row(SUPPORTS, kind, size, number, "pcs", number + spares(number), ()) for (kind, size), number in count.items()
    ]
    braced: dict[float, list[str]] = {}
    for bracket in (each for each in design.brackets if each.hangs and each.fixed):
        braced.setdefault(brace_m(design, bracket), []).append(bracket.tag)
    for long_m, tags in braced.items():
        item = f"{BRACE}, {units.length_with_unit(long_m)} long"
        rows.append(Row(SUPPORTS, item, "", len(tags), "pcs", len(tags), tuple(tags)))
    joiners = sum(max(0, len(rods_m(bracket)) - 1) for bracket in design.brackets)
    if joiners:
        rows.append(
            Row(SUPPORTS, "joiner for threaded rods, with lock nuts", "", joiners, "pcs", joiners + spares(joiners), ())
        )
    return rows


def board_rows(design: Design) -> list[Row]:
    """Return backing boards by length, cut from dressed boards of the usual width."""
    units = design.network.layout.site.units
    tags: dict[tuple[str, str], list[str]] = {}
    for board in design.boards:
        tags.setdefault(board_item(board, units), []).append(board.tag)
    return [Row(SUPPORTS, item, size, len(here), "pcs", len(here), tuple(here)) for (item, size), here in tags.items()]


def board_item(board: Board, units: Units) -> tuple[str, str]:
    """Return what a backing board is bought as: item and size."""
    size = "1 x 6 in nominal" if units.imperial else f"{BOARD_THICK_M * 1000:.0f} x {BOARD_TALL_M * 1000:.0f} mm"
    return f"backing board, {units.length_with_unit(board.length_m)} long", size
