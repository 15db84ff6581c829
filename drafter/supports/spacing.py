"""Where brackets stand along one straight line of pipe: a shortest way through the places they may stand at."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

ON_STUD, ON_BOARD = 1.0, 2.5
"""Price of a bracket, and of one with a backing board behind it, in brackets (common practice)."""

_PRICE, _BAD, _OVER = 1e4, 1e9, 0.1
_SLACK_M = 1e-6


@dataclass(frozen=True, slots=True)
class Spot:
    """A place where a bracket may stand: its station along the line [m] and its price, in brackets."""

    at_m: float
    price: float = ON_STUD


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of the line and the largest distance between brackets on it [m]."""

    low_m: float
    high_m: float
    span_m: float


@dataclass(frozen=True, slots=True)
class Window:
    """A part of the line that at least one bracket must stand in [m]."""

    low_m: float
    high_m: float

    def holds(self, at_m: float) -> bool:
        return self.low_m - _SLACK_M <= at_m <= self.high_m + _SLACK_M


def span_between(stretches: Sequence[Stretch], low_m: float, high_m: float) -> float:
    """Return the largest distance allowed between brackets at two stations: the least of what lies between."""
    return min(part.span_m for part in stretches if part.low_m < high_m and part.high_m > low_m)


def spaced(spots: Sequence[Spot], stretches: Sequence[Stretch], windows: Sequence[Window]) -> tuple[Spot, ...]:
    """Choose where brackets stand.

    The choice misses the fewest windows and spans, then costs least, then has the most even spans: the least sum of
    their squares, an end that sticks out counted twice its length. One pass from the left: the best way to each spot
    is the best way to an earlier one and a span. To skip a spot for a span that is too long never pays.

    Args:
        spots: in rising order.
        stretches: one after the other from the first to the last spot or beyond.
    """
    if not spots:
        return ()
    import numpy as np

    stations = [spot.at_m for spot in spots]
    at = np.array(stations)
    price = np.array([spot.price for spot in spots]) * _PRICE
    ends = stretches[0].low_m, stretches[-1].high_m
    longest_m = max(part.span_m for part in stretches)
    windows = sorted(windows, key=lambda window: window.low_m)
    lows = [window.low_m for window in windows]
    stretch_ends = [part.high_m for part in stretches]
    missed_before = np.searchsorted(sorted(window.high_m for window in windows), at - _SLACK_M).astype(float)
    best = price + missed_before * _BAD + 4.0 * (at - ends[0]) ** 2
    came_from = np.full(len(spots), -1)
    for j in range(1, len(spots)):
        here = stations[j]
        first = min(j - 1, bisect_left(stations, here - longest_m - _SLACK_M))
        furthest, before = stations[first], at[first:j]
        limit = np.full(j - first, np.inf)
        for part in stretches[bisect_right(stretch_ends, furthest) :]:
            if part.low_m >= here:
                break
            reached = limit[: bisect_left(stations, part.high_m, first, j) - first]
            np.minimum(reached, part.span_m, out=reached)
        spans = here - before
        over = spans - limit
        cost = best[first:j] + spans**2 + np.where(over > _SLACK_M, (_OVER + over) * _BAD, 0.0)
        for window in windows[bisect_right(lows, furthest) : bisect_left(lows, here)]:
            if window.high_m < here - _SLACK_M:
                cost[: bisect_left(stations, window.low_m - _SLACK_M, first, j) - first] += _BAD
        least = int(np.argmin(cost))
        if (total := cost[least] + price[j]) < best[j]:
            best[j], came_from[j] = total, first + least
    missed_behind = (len(lows) - np.searchsorted(lows, at + _SLACK_M, "right")).astype(float)
    index = int(np.argmin(best + missed_behind * _BAD + 4.0 * (ends[1] - at) ** 2))
    chosen: list[Spot] = []
    while index >= 0:
        chosen.append(spots[index])
        index = int(came_from[index])
    return tuple(reversed(chosen))
