"""Where a label is tried round the point of its thing, in millimetres on paper: rings, and ways out to each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drafter.geometry import Box, Point

RINGS_MM = (1.4, 4.0, 8.0, 13.0, 19.0, 26.0, 34.0, 44.0, 56.0, 70.0)
WAYS = (
    Point(1, 1), Point(-1, 1), Point(1, -1), Point(-1, -1), Point(0, 1), Point(0, -1), Point(1, 0), Point(-1, 0),
)  # fmt: skip
FAR_WAYS = (
    *WAYS,
    Point(1, 0.5), Point(-1, 0.5), Point(1, -0.5), Point(-1, -0.5),
    Point(0.5, 1), Point(-0.5, 1), Point(0.5, -1), Point(-0.5, -1),
)  # fmt: skip
LAST_WAYS = (
    Point(1, 0.25), Point(-1, 0.25), Point(1, -0.25), Point(-1, -0.25),
    Point(1, 0.75), Point(-1, 0.75), Point(1, -0.75), Point(-1, -0.75),
    Point(0.25, 1), Point(-0.25, 1), Point(0.25, -1), Point(-0.25, -1),
    Point(0.75, 1), Point(-0.75, 1), Point(0.75, -1), Point(-0.75, -1),
)  # fmt: skip
"""Tried on the far rings where all others are taken."""

NEAR_RINGS = 2


def tries(rings: Sequence[float]) -> Iterator[tuple[int, float, tuple[Point, ...]]]:
    """The rings round a point with the ways out to each: number, distance and ways."""
    for ring, distance in enumerate(rings):
        yield ring, distance, WAYS if ring < NEAR_RINGS else FAR_WAYS
    for ring, distance in enumerate(rings[NEAR_RINGS:], NEAR_RINGS):
        yield ring, distance, LAST_WAYS


def box_beside(at: Point, way: Point, distance: float, width: float, height: float) -> Box:
    """A box of some size that stands so far from a point in a way, its near side or corner to it."""
    x = at.x + way.x * distance - (width if way.x < 0 else width / 2 if way.x == 0 else 0.0)
    y = at.y + way.y * distance - (height if way.y < 0 else height / 2 if way.y == 0 else 0.0)
    return Box(x, y, x + width, y + height)


def leader_to(at: Point, box: Box) -> tuple[Point, Point]:
    """A leader from a point to the near edge of a box, just off it."""
    x = min(max(at.x, box.left), box.right)
    y = box.bottom - 0.6 if box.bottom > at.y else box.top + 0.6 if box.top < at.y else (box.bottom + box.top) / 2
    if box.bottom <= at.y <= box.top:
        x = box.left - 0.6 if box.left > at.x else box.right + 0.6
    return at, Point(x, y)


def meets(start: Point, span: Point, box: Box) -> bool:
    """Whether a line passes through the inside of a box."""
    first, last = 0.0, 1.0
    for at, way, low, high in ((start.x, span.x, box.left, box.right), (start.y, span.y, box.bottom, box.top)):
        if abs(way) < 1e-12:
            if not low < at < high:
                return False
            continue
        one, other = (low - at) / way, (high - at) / way
        first, last = max(first, min(one, other)), min(last, max(one, other))
    return first < last
