"""Where lines of the isometric cross on paper without meeting: which is behind, and which way of looking has fewest."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drafter.geometry import Point3
from drafter.sheets.isometric_space import IsometricSpace, nearness

Floats = NDArray[np.float64]
Numbers = NDArray[np.intp]

PAST_ENDS_MM = 1.2
"""Lines that end so near to another are taken to cross it."""

ON_MM, BESIDE_MM = 2.2, 4.5
"""Lines in the same direction that are seen nearer to each other than this read as one, or crowd what is written."""

PARALLEL = 0.03
ON_ANOTHER, BESIDE_ANOTHER = 6.0, 1.5
"""What a line on or close beside another in its direction counts, in crossings."""


ON_A_SIGN = 2.0
"""What a line through a sign counts."""

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


@dataclass(frozen=True)
class Crossings:
    """What was found of lines that cross.

    Attributes:
        gaps: of each run, where it passes behind: shares of its length.
        badness: how many crossings there are, lines over each other counting more.
    """

    gaps: Mapping[str, tuple[float, ...]]
    badness: float


def crossings_of(space: IsometricSpace, lines: Sequence[SpaceLine]) -> Crossings:
    """Find all crossings of some lines as they are seen."""
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
    beside = np.full(len(one), np.inf)
    beside[~slanted] = _beside(first, last, way / length[:, None], one[~slanted], other[~slanted])
    over = beside < BESIDE_MM
    gaps: dict[str, list[float]] = {}
    badness = 0.0
    for index in np.flatnonzero(meets | over):
        a, b = lines[one[index]], lines[other[index]]
        if set(a.nodes) & set(b.nodes) or not (a.run or b.run):
            continue
        if over[index]:
            badness += ON_ANOTHER if beside[index] < ON_MM else BESIDE_ANOTHER
        else:
            badness += 1.0 if a.run and b.run else ON_A_SIGN
        if meets[index]:
            share_a, share_b = float(t[index]), float(s[index])
            a_is_near = nearness(_on(a, share_a)) >= nearness(_on(b, share_b))
            behind, share = (b, share_b) if a_is_near else (a, share_a)
            if behind.run:
                gaps.setdefault(behind.run, []).append(share)
    return Crossings({run: tuple(sorted(shares)) for run, shares in gaps.items()}, badness)


def _close_pairs(low: Floats, high: Floats) -> tuple[Numbers, Numbers]:
    """Pairs of lines, each but once, whose boxes are near enough to each other for anything to be between them.

    Args:
        low, high: corners of the box of each line, N x 2 [mm on paper].
    """
    low = low - BESIDE_MM
    found = []
    for start in range(0, len(low), ROWS_AT_ONCE):
        rows = slice(start, start + ROWS_AT_ONCE)
        near = (low[rows, None, :] <= high[None, start:, :]) & (low[None, start:, :] <= high[rows, None, :])
        one, other = np.nonzero(np.triu(near.all(axis=2), 1))
        found.append((one + start, other + start))
    return np.concatenate([one for one, _ in found]), np.concatenate([other for _, other in found])


def _cross(a: Floats, b: Floats) -> Floats:
    return a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]


def _beside(first: Floats, last: Floats, unit: Floats, one: Numbers, other: Numbers) -> Floats:
    """How far pairs of lines in one direction lie beside each other; infinite where they only follow each other."""
    apart = first[other] - first[one]
    off = np.abs(_cross(unit[one], apart))
    ends = [np.einsum("ij,ij->i", unit[one], points[other] - first[one]) for points in (first, last)]
    low, high = np.minimum(*ends), np.maximum(*ends)
    own = np.einsum("ij,ij->i", unit[one], last[one] - first[one])
    return np.where(np.minimum(high, own) - np.maximum(low, 0.0) > PAST_ENDS_MM, off, np.inf)


def _on(line: SpaceLine, share: float) -> Point3:
    share = min(max(share, 0.0), 1.0)
    return Point3(*(a + (b - a) * share for a, b in zip(line.start, line.end, strict=True)))
