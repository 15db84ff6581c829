"""Where lines of the isometric cross on paper without meeting, and which of them is behind."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drafter.geometry import Point3
from drafter.sheets.isometric_space import IsometricSpace, nearness

Floats = NDArray[np.float64]
Numbers = NDArray[np.intp]

PAST_ENDS_MM = 1.2
"""Lines that end so near to another are taken to cross it."""

CLOSE_MM = 2 * PAST_ENDS_MM
PARALLEL = 0.03

ROWS_AT_ONCE = 256
"""Lines that are set against all others at a time, which bounds the memory."""


@dataclass(frozen=True, slots=True)
class SpaceLine:
    """A straight line of the isometric [mm as drawn].

    Attributes:
        run: id of the run that is drawn by it; empty for a stroke of a sign.
        nodes: ids of the nodes at its ends; lines with one in common meet there.
    """

    run: str
    nodes: tuple[str, ...]
    start: Point3
    end: Point3


def gaps_of(space: IsometricSpace, lines: Sequence[SpaceLine]) -> dict[str, tuple[float, ...]]:
    """Return where runs pass behind other lines as they are seen: shares of their length, by the ids of the runs."""
    scale = space.scale
    first = np.array([space.seen(line.start) for line in lines]) / scale
    last = np.array([space.seen(line.end) for line in lines]) / scale
    way = last - first
    length = np.maximum(np.hypot(way[:, 0], way[:, 1]), 1e-9)
    one, other = _close_pairs(np.minimum(first, last), np.maximum(first, last))
    cross = _cross(way[one], way[other])
    apart = first[other] - first[one]
    slanted = np.abs(cross) > PARALLEL * length[one] * length[other]
    safe = np.where(slanted, cross, 1.0)
    t, s = _cross(apart, way[other]) / safe, _cross(apart, way[one]) / safe
    past_t, past_s = PAST_ENDS_MM / length[one], PAST_ENDS_MM / length[other]
    meets = slanted & (t > -past_t) & (t < 1 + past_t) & (s > -past_s) & (s < 1 + past_s)
    gaps: dict[str, list[float]] = {}
    for index in np.flatnonzero(meets):
        a, b = lines[one[index]], lines[other[index]]
        if set(a.nodes) & set(b.nodes) or not (a.run or b.run):
            continue
        share_a, share_b = float(t[index]), float(s[index])
        a_is_near = nearness(_on(a, share_a)) >= nearness(_on(b, share_b))
        behind, share = (b, share_b) if a_is_near else (a, share_a)
        if behind.run:
            gaps.setdefault(behind.run, []).append(share)
    return {run: tuple(sorted(shares)) for run, shares in gaps.items()}


def _close_pairs(low: Floats, high: Floats) -> tuple[Numbers, Numbers]:
    """Pairs of lines, each but once, whose boxes are near enough to each other for anything to be between them.

    Args:
        low, high: corners of the box of each line, N x 2 [mm on paper].
    """
    low = low - CLOSE_MM
    found = []
    for start in range(0, len(low), ROWS_AT_ONCE):
        rows = slice(start, start + ROWS_AT_ONCE)
        near = (low[rows, None, :] <= high[None, start:, :]) & (low[None, start:, :] <= high[rows, None, :])
        one, other = np.nonzero(np.triu(near.all(axis=2), 1))
        found.append((one + start, other + start))
    return np.concatenate([one for one, _ in found]), np.concatenate([other for _, other in found])


def _cross(a: Floats, b: Floats) -> Floats:
    return a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]


def _on(line: SpaceLine, share: float) -> Point3:
    share = min(max(share, 0.0), 1.0)
    return Point3(*(a + (b - a) * share for a, b in zip(line.start, line.end, strict=True)))
