"""Points, boxes and turns in the plane and in space; lengths are in whatever unit the caller keeps."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple


class Point(NamedTuple):
    """A point or a vector in the plane."""

    x: float
    y: float

    def plus(self, other: Point, times: float = 1.0) -> Point:
        return Point(self.x + other.x * times, self.y + other.y * times)

    def minus(self, other: Point) -> Point:
        return Point(self.x - other.x, self.y - other.y)

    def dot(self, other: Point) -> float:
        return self.x * other.x + self.y * other.y

    def cross(self, other: Point) -> float:
        return self.x * other.y - self.y * other.x

    @property
    def length(self) -> float:
        return math.hypot(self.x, self.y)

    @property
    def unit(self) -> Point:
        """This vector made one long; the null vector stays as it is."""
        return Point(self.x / self.length, self.y / self.length) if self.length else self

    @property
    def left(self) -> Point:
        """This vector turned a quarter turn to the left (counter-clockwise)."""
        return Point(-self.y, self.x)

    @property
    def angle_deg(self) -> float:
        """The direction of this vector, counter-clockwise from x, from -180 to 180."""
        return math.degrees(math.atan2(self.y, self.x))

    def turned(self, degrees: float) -> Point:
        """This vector turned counter-clockwise about the origin."""
        angle = math.radians(degrees)
        cosine, sine = math.cos(angle), math.sin(angle)
        return Point(self.x * cosine - self.y * sine, self.x * sine + self.y * cosine)


class Point3(NamedTuple):
    """A point or a vector in space; z is upwards."""

    x: float
    y: float
    z: float

    @property
    def plan(self) -> Point:
        return Point(self.x, self.y)

    def minus(self, other: Point3) -> Point3:
        return Point3(self.x - other.x, self.y - other.y, self.z - other.z)

    def dot(self, other: Point3) -> float:
        return self.x * other.x + self.y * other.y + self.z * other.z

    @property
    def length(self) -> float:
        return math.sqrt(self.dot(self))

    def towards(self, other: Point3, distance: float) -> Point3:
        """The point that lies ``distance`` from here on the way to ``other``."""
        step = other.minus(self)
        share = distance / step.length if step.length else 0.0
        return Point3(self.x + step.x * share, self.y + step.y * share, self.z + step.z * share)


def encloses(corners: Sequence[Point], point: Point) -> bool:
    """Whether a point lies within the polygon of some corners; on its edge either may be returned.

    Source:
        crossings of a ray to the right, even or odd.
    """
    within = False
    for here, there in pairwise((*corners, corners[0])):
        if (here.y > point.y) != (there.y > point.y):
            x = here.x + (point.y - here.y) / (there.y - here.y) * (there.x - here.x)
            within ^= point.x < x
    return within


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle, given by its lower left and upper right corners."""

    left: float
    bottom: float
    right: float
    top: float

    @classmethod
    def around(cls, points: list[Point] | tuple[Point, ...]) -> Box:
        """The smallest box that holds the points; there must be at least one."""
        xs, ys = [p.x for p in points], [p.y for p in points]
        return cls(min(xs), min(ys), max(xs), max(ys))

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.top - self.bottom

    @property
    def centre(self) -> Point:
        return Point((self.left + self.right) / 2, (self.bottom + self.top) / 2)

    def grown(self, margin: float) -> Box:
        return Box(self.left - margin, self.bottom - margin, self.right + margin, self.top + margin)

    def joined(self, other: Box) -> Box:
        return Box(
            min(self.left, other.left),
            min(self.bottom, other.bottom),
            max(self.right, other.right),
            max(self.top, other.top),
        )

    def overlaps(self, other: Box) -> bool:
        """Whether the two share an area, not merely an edge."""
        return (
            self.left < other.right and other.left < self.right and self.bottom < other.top and other.bottom < self.top
        )

    def contains(self, point: Point) -> bool:
        return self.left <= point.x <= self.right and self.bottom <= point.y <= self.top

    def is_crossed(self, start: Point, span: Point) -> bool:
        """Whether a line from a point over a span passes through the inside."""
        first, last = 0.0, 1.0
        for at, way, low, high in ((start.x, span.x, self.left, self.right), (start.y, span.y, self.bottom, self.top)):
            if abs(way) < 1e-12:
                if not low < at < high:
                    return False
                continue
            one, other = (low - at) / way, (high - at) / way
            first, last = max(first, min(one, other)), min(last, max(one, other))
        return first < last

    def distance(self, point: Point) -> float:
        """How far a point is outside; 0 within."""
        x = max(self.left - point.x, 0.0, point.x - self.right)
        y = max(self.bottom - point.y, 0.0, point.y - self.top)
        return math.hypot(x, y)

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """The four corners, counter-clockwise from the lower left."""
        return (
            Point(self.left, self.bottom),
            Point(self.right, self.bottom),
            Point(self.right, self.top),
            Point(self.left, self.top),
        )
