"""The cutting plan: for each size the stock lengths to buy and which pieces come out of each."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from drafter.site.model import Site
from drafter.takeoff.assembling import Piece
from drafter.takeoff.packing import pack

RECUT_M = 0.05
"""Lost of a coil for each piece, to a fresh square end (from memory)."""

SQUARING_M = 0.003
"""Lost of a straight length for each piece, to the cut and a squared end (common practice)."""

WORTH_KEEPING_M = 0.3
"""Shortest offcut that is listed as one to keep (common practice)."""


@dataclass(frozen=True, slots=True)
class Bar:
    """One stock length, straight or coiled, with the numbers of the pieces cut from it, the longest first."""

    size: str
    stock_m: float
    pieces: tuple[int, ...]
    offcut_m: float


@dataclass(frozen=True, slots=True)
class SizeCut:
    """The plan of one size.

    Attributes:
        cut_m: length of all its pieces.
        least_m: no plan buys less of the stock lengths sold.
    """

    size: str
    cut_m: float
    bars: tuple[Bar, ...]
    least_m: float

    @property
    def bought_m(self) -> float:
        return sum(bar.stock_m for bar in self.bars)

    @property
    def proved(self) -> bool:
        """Whether no plan buys less."""
        return self.bought_m <= self.least_m + 1e-9

    @property
    def stocks(self) -> dict[float, int]:
        """How many to buy of each stock length, the longest first."""
        return dict(sorted(Counter(bar.stock_m for bar in self.bars).items(), reverse=True))

    @property
    def worth_keeping_m(self) -> tuple[float, ...]:
        """The offcuts worth keeping, the longest first."""
        return tuple(sorted((bar.offcut_m for bar in self.bars if bar.offcut_m >= WORTH_KEEPING_M), reverse=True))


def cut_allowance_m(site: Site) -> float:
    """Return what each piece takes from its stock length besides its own [m]."""
    family, given = site.material, site.main.kerf_m
    if given is not None:
        return given
    return RECUT_M if family.coil else max(SQUARING_M, family.kerf_m)


def cutting_plan(pieces: tuple[Piece, ...], site: Site) -> tuple[SizeCut, ...]:
    """Return for each size the stock lengths needed and what is cut from each."""
    lost, plans = cut_allowance_m(site), []
    for size in dict.fromkeys(piece.size for piece in pieces):
        mine = [piece for piece in pieces if piece.size == size]
        packed = pack([piece.cut_m + lost for piece in mine], site.material.stock_lengths_m)
        bars = tuple(
            Bar(
                size,
                stock,
                tuple(mine[place].number for place in places),
                max(0.0, stock - sum(mine[place].cut_m + lost for place in places)),
            )
            for stock, places in packed.stocks
        )
        plans.append(SizeCut(size, sum(piece.cut_m for piece in mine), bars, packed.least_m))
    return tuple(plans)
