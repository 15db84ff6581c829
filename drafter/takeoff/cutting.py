"""The cutting plan: which stock lengths of each size to buy, which pieces come out of each, what is left."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from drafter.standards.materials import Material
from drafter.takeoff.nesting import nested
from drafter.takeoff.pieces import Piece

RECUT_M = 0.05
"""Lost of a coil for each piece, to a fresh square end (from memory)."""

SQUARING_M = 0.003
"""Lost of a straight length at each cut where no kerf is given, to the cut and a squared end (common practice)."""

MAKE_UP_M = 0.01
"""Left on a make-up piece until it is measured: several fittings, each off by 1 to 2 mm (from memory)."""

REUSABLE_M = 0.3
"""Offcuts of this length and more are worth keeping (common practice)."""

STEP_M = 0.0001
"""Lengths are laid out in steps of this: pieces rounded up, stock rounded down."""


@dataclass(frozen=True, slots=True)
class Bar:
    """One stock length, straight or coiled, and what is cut from it in the order of cutting, longest first.

    Attributes:
        number: over all sizes.
        pieces: numbers of the pieces.
        starts_m: how far from the end first cut each piece begins; on a coil a metre mark.
        offcut_m: what is left.
    """

    number: int
    size: str
    stock_m: float
    pieces: tuple[int, ...]
    starts_m: tuple[float, ...]
    offcut_m: float


@dataclass(frozen=True, slots=True)
class SizeCutting:
    """The stock lengths of one size.

    Attributes:
        cut_m: all pieces together, without what make-up pieces are left longer.
        least_m, least_bars: the least purchase that is not ruled out; `proved` where it is the one planned.
    """

    size: str
    bars: tuple[Bar, ...]
    cut_m: float
    least_m: float
    least_bars: int

    @property
    def bought_m(self) -> float:
        return sum(bar.stock_m for bar in self.bars)

    @property
    def proved(self) -> bool:
        return len(self.bars) == self.least_bars and abs(self.bought_m - self.least_m) < STEP_M

    @property
    def reusable_m(self) -> float:
        """Offcuts worth keeping."""
        return sum(bar.offcut_m for bar in self.bars if bar.offcut_m >= REUSABLE_M)

    @property
    def waste_m(self) -> float:
        """What is bought, less the pieces and the offcuts worth keeping."""
        return max(0.0, self.bought_m - self.cut_m - self.reusable_m)

    @property
    def purchase(self) -> tuple[tuple[int, float], ...]:
        """How many of which stock length, the longest first."""
        lengths = [bar.stock_m for bar in self.bars]
        return tuple((lengths.count(length), length) for length in sorted(set(lengths), reverse=True))


def cut_allowance_m(family: Material, kerf_m: float | None = None) -> float:
    """Return what each cut takes from the stock length; ``kerf_m`` is that of the site file, if it gives one [m]."""
    if family.coil:
        return RECUT_M + (family.kerf_m if kerf_m is None else kerf_m)
    return max(SQUARING_M, family.kerf_m) if kerf_m is None else kerf_m


def laid_m(piece: Piece, longest_m: float) -> float:
    """Return what a piece takes of its stock length before it is cut to fit [m]."""
    return min(piece.cut_m + MAKE_UP_M, max(longest_m, piece.cut_m)) if piece.make_up else piece.cut_m


def cutting_plan(pieces: Sequence[Piece], family: Material, kerf_m: float | None = None) -> tuple[SizeCutting, ...]:
    """Return for each size the stock lengths needed, least length and then fewest, and what is cut from each."""
    plans: list[SizeCutting] = []
    for size in dict.fromkeys(piece.size for piece in pieces):
        mine = [piece for piece in pieces if piece.size == size]
        begun = sum(len(plan.bars) for plan in plans)
        plans.append(_of_size(size, mine, family, cut_allowance_m(family, kerf_m), begun))
    return tuple(plans)


def _of_size(size: str, pieces: list[Piece], family: Material, lost_m: float, begun: int) -> SizeCutting:
    laid = {piece.number: laid_m(piece, family.longest_piece_m) for piece in pieces}
    steps = {number: math.ceil(length_m / STEP_M - 1e-6) for number, length_m in laid.items()}
    stocks = [int(stock_m / STEP_M + 1e-6) for stock_m in family.stock_lengths_m]
    nesting = nested(list(steps.values()), stocks, round(lost_m / STEP_M), round(family.trim_m / STEP_M))
    waiting: dict[int, list[int]] = {}
    for number in sorted(laid, key=lambda number: (laid[number], -number)):
        waiting.setdefault(steps[number], []).append(number)
    bars = []
    for number, (stock, lengths) in enumerate(nesting.bars, begun + 1):
        held = {(piece := waiting[length].pop()): laid[piece] for length in lengths}
        bars.append(_bar(number, size, stock * STEP_M, held, lost_m, family.trim_m))
    least, count = nesting.least
    return SizeCutting(size, tuple(bars), sum(piece.cut_m for piece in pieces), least * STEP_M, count)


def _bar(number: int, size: str, stock_m: float, held: dict[int, float], lost_m: float, trim_m: float) -> Bar:
    starts_m, at_m = [], trim_m
    for length_m in held.values():
        starts_m.append(at_m)
        at_m += length_m + lost_m
    return Bar(number, size, round(stock_m, 6), tuple(held), tuple(starts_m), max(0.0, stock_m - at_m))
