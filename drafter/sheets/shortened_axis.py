"""One axis of a view not to scale: lengths keep their order, long empty ones shrink, short ones stay readable."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

GRID_M = 1e-3
"""Places nearer to each other than this are one."""

SWEEPS = 60


@dataclass(frozen=True, slots=True)
class ShortenedAxis:
    """Where places along an axis are drawn; between them in proportion, beyond them as far as at the ends.

    Attributes:
        places_m: true, rising.
        drawn_mm: on paper, rising.
    """

    places_m: tuple[float, ...]
    drawn_mm: tuple[float, ...]

    def __call__(self, place_m: float) -> float:
        """Return where a place is drawn [mm on paper]."""
        index = min(max(bisect_right(self.places_m, place_m), 1), len(self.places_m) - 1)
        low, high = self.places_m[index - 1], self.places_m[index]
        share = min(max((place_m - low) / (high - low), 0.0), 1.0)
        return self.drawn_mm[index - 1] + share * (self.drawn_mm[index] - self.drawn_mm[index - 1])

    @property
    def length_mm(self) -> float:
        return self.drawn_mm[-1] - self.drawn_mm[0]


@dataclass(frozen=True)
class Spacing:
    """The places of an axis, and how far apart some of them must be drawn at least.

    Attributes:
        places_m: rising, no two the same.
        least_mm: by the numbers of two places, the lower first.
    """

    places_m: tuple[float, ...]
    least_mm: Mapping[tuple[int, int], float]

    @classmethod
    def of(cls, places_m: Iterable[float], least: Iterable[tuple[float, float, float]]) -> Spacing:
        """Return the spacing of some places.

        Args:
            least: two places [m] and the least distance between them on paper [mm]; both become places.
        """
        asked = [(round(min(a, b) / GRID_M), round(max(a, b) / GRID_M), mm) for a, b, mm in least]
        steps = sorted({round(place / GRID_M) for place in places_m} | {end for a, b, _ in asked for end in (a, b)})
        number = {step: index for index, step in enumerate(steps)}
        found: dict[tuple[int, int], float] = {}
        for low, high, mm in asked:
            if low < high:
                pair = number[low], number[high]
                found[pair] = max(found.get(pair, 0.0), mm)
        return cls(tuple(step * GRID_M for step in steps), found)

    def hanging(self, at_m: NDArray[np.float64]) -> tuple[NDArray[np.intp], NDArray[np.float64]]:
        """Return for some places the number of the nearest of the axis below them, and their share of the way on."""
        places = np.array(self.places_m)
        index = np.clip(np.searchsorted(places, at_m + GRID_M / 2, side="right") - 1, 0, len(places) - 2)
        return index, np.clip((at_m - places[index]) / (places[index + 1] - places[index]), 0.0, 1.0)

    def drawn(self, mm_per_m: float, power: float, tightness: float = 1.0) -> ShortenedAxis:
        """Return the axis with 1 m drawn so long, and longer where least distances ask for it.

        Args:
            power: of the true length that the drawn one goes with; at 0.5, 16 m look four times as long as 1 m.
            tightness: share of the least distances that is kept.
        """
        gaps = mm_per_m * np.diff(self.places_m) ** power
        asked = sorted(((j - i, i, j, mm * tightness) for (i, j), mm in self.least_mm.items()))
        for _ in range(SWEEPS):
            if not _widened(gaps, asked):
                break
        drawn = np.concatenate(([0.0], np.cumsum(gaps)))
        return ShortenedAxis(self.places_m, tuple(drawn.tolist()))


def hung(drawn: NDArray[np.float64], index: NDArray[np.intp], share: NDArray[np.float64]) -> NDArray[np.float64]:
    """Where places that hang between those of an axis are drawn, count x ways, from places x ways [mm on paper]."""
    return np.asarray(drawn[index] * (1.0 - share)[:, None] + drawn[index + 1] * share[:, None])


def _widened(gaps: NDArray[np.float64], asked: Sequence[tuple[int, int, int, float]]) -> bool:
    """Widen the gaps between places that are too near, each by its share; return whether there were any."""
    found = False
    for count, low, high, mm in asked:
        between = gaps[low:high]
        lack = mm - float(between.sum())
        if lack > 0.01:
            found = True
            total = float(between.sum())
            between += lack * (between / total if total > 1e-9 else 1.0 / count)
    return found
