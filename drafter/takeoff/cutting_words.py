"""The cutting plan in words, as the sheets and the report say it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drafter.quantity import Units
from drafter.standards.materials import Material
from drafter.takeoff.cutting import SizeCutting
from drafter.takeoff.numbers_told import ranges
from drafter.takeoff.part import TUBE
from drafter.takeoff.pieces import Piece
from drafter.takeoff.pipe_threads import SHORT_WORDS, SHORTEST_M
from drafter.takeoff.rows import Row


def purchase_words(plan: SizeCutting, units: Units) -> str:
    """Return what to buy, such as ``2 x 6.00 m + 1 x 3.00 m``."""
    return " + ".join(f"{count} x {units.long_length(length)}" for count, length in plan.purchase)


def bound_words(plan: SizeCutting, units: Units) -> str:
    """Return whether less could do."""
    if plan.proved:
        return "no less will do"
    bars = f"{plan.least_bars} length{'' if plan.least_bars == 1 else 's'}"
    return f"at least {units.long_length(plan.least_m)} in {bars}; not settled whether that will do"


MANY_PIECES = 5
"""More pieces than this of one size, and one may well be cut wrong (from memory)."""


def has_no_spare(plan: SizeCutting) -> bool:
    """Return whether there are many pieces of a size and no length is left for a bad cut."""
    return not plan.reusable_m and sum(len(bar.pieces) for bar in plan.bars) > MANY_PIECES


def spare_tube(item: str, plans: Sequence[SizeCutting], family: Material) -> Iterator[Row]:
    """Yield the row of the parts schedule for a length for a bad cut, where none is left: one for the longest piece."""
    for plan in filter(has_no_spare, plans):
        ends_m = [bar.starts_m[1] if len(bar.pieces) > 1 else bar.stock_m - bar.offcut_m for bar in plan.bars]
        enough = [stock_m for stock_m in family.stock_lengths_m if stock_m >= max(ends_m) - 1e-9]
        spare_m = min(enough, default=max(family.stock_lengths_m))
        yield Row(TUBE, f"{item}, one more for a bad cut", plan.size, 0.0, "m", spare_m, ())


def kept_words(plan: SizeCutting, units: Units) -> str:
    """Return how much of a size is left to keep, and what to do where there should be some and is none."""
    kept = units.long_length(plan.reusable_m)
    return f"{kept}: none for a bad cut, one more is in the parts" if has_no_spare(plan) else kept


def without_spare(plans: Sequence[SizeCutting]) -> str:
    """Return in a sentence which sizes have nothing left for a bad cut; empty where each has."""
    bare = ", ".join(plan.size for plan in plans if has_no_spare(plan))
    return f"Of {bare} no length is left for a bad cut: one more is in the parts." if bare else ""


def short_words(pieces: Sequence[Piece], units: Units) -> str:
    """Return which pieces are too short to thread between vice and threader; empty where none is."""
    if not pieces:
        return ""
    numbers = ranges(piece.number for piece in pieces)
    return (
        f"Under {units.length_with_unit(SHORTEST_M)}, too short for vice and threader: piece {numbers}: {SHORT_WORDS}."
    )


def cutting_order(family: Material) -> str:
    """Return how to go about it."""
    if family.coil:
        return "Cut long pieces first, as the cutting plan says; its metre marks count from the free end of the coil."
    return "Cut long pieces first, as the cutting plan says."
