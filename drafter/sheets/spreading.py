"""Spreads positions that stand too close together, each as little as possible from where it belongs."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import inf

MOST_ASIDE_MM = 14.0
"""How far aside from what it measures a running dimension may be written."""


def spread(wanted: list[float], least: float, low: float = -inf, high: float = inf) -> list[float]:
    """Move positions as little as possible so that neighbours stand at least ``least`` apart, order kept.

    They stay between ``low`` and ``high``; where these leave too little room, they begin at ``low`` and pass ``high``.
    The exact answer of the least-squares problem, also where it is then held within limits.
    """
    order = sorted(range(len(wanted)), key=lambda i: (wanted[i], i))
    last = high - (len(wanted) - 1) * least
    flat = [max(low, min(value, last)) for value in _rising([wanted[i] - r * least for r, i in enumerate(order)])]
    placed = [0.0] * len(wanted)
    for rank, index in enumerate(order):
        placed[index] = flat[rank] + rank * least
    return placed


def stacked(tops: Sequence[float], heights: Sequence[float]) -> list[float]:
    """Move boxes that are given from above down as little as possible so that none reaches into the next.

    Args:
        tops, heights: where each box would best have its top; how much it takes with the gap below it.
    """
    above = [sum(heights[:number]) for number in range(len(heights))]
    moved = _rising([-(top + used) for top, used in zip(tops, above, strict=True)])
    return [-value - used for value, used in zip(moved, above, strict=True)]


def _rising(values: Sequence[float]) -> list[float]:
    """The least change, in the sense of least squares, that makes values fall nowhere: pool adjacent violators."""
    pools: list[tuple[float, int]] = []
    for value in values:
        pools.append((value, 1))
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (a, n), (b, m) = pools[-2], pools[-1]
            pools[-2:] = [((a * n + b * m) / (n + m), n + m)]
    return [value for value, count in pools for _ in range(count)]


def spread_between(wanted: list[float], least: float, cuts: Sequence[float]) -> list[float]:
    """Spread positions as `spread` does, those between two cuts among themselves [mm on paper]."""
    edges = [-inf, *sorted(cuts), inf]
    placed = [0.0] * len(wanted)
    for low, high in pairwise(edges):
        mine = [number for number, at in enumerate(wanted) if low <= at < high]
        found = spread([wanted[number] for number in mine], least, low + least / 2, high - least / 2)
        for number, at in zip(mine, found, strict=True):
            placed[number] = at
    return placed


def too_close(wanted: list[float], placed: list[float], least: float) -> bool:
    """Whether some stand nearer together than ``least``, or so far aside that their lines can hardly be followed."""
    ordered = sorted(placed)
    near = any(b - a < least - 1e-6 for a, b in pairwise(ordered))
    return near or any(abs(a - b) > MOST_ASIDE_MM for a, b in zip(wanted, placed, strict=True))
