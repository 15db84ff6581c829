"""A wall as one stands before it, in a plan in metres east and north of the datum corner."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from drafter.geometry import Point

CROSSING = "crossing "
"""What the name of a crossing begins with: a line across a room below its ceiling, measured like a wall."""

LEAST_SHARED_M = 0.5
"""Shortest common piece of two rooms' walls that counts as one wall between them (common practice)."""


@dataclass(frozen=True, slots=True)
class Wall:
    """One wall, seen from inside its room.

    Attributes:
        room, name: the room's name, and the wall's own: a side, or its two corners such as ``A-B``.
        left, right: its corners as one faces it, in plan [m].
        ceiling_m: height of the room.
        thickness_m: thickness of the wall, drawn outwards.
    """

    room: str
    name: str
    left: Point
    right: Point
    ceiling_m: float
    thickness_m: float

    @property
    def length_m(self) -> float:
        return self.right.minus(self.left).length

    @property
    def is_crossing(self) -> bool:
        return self.name.startswith(CROSSING)

    @property
    def along(self) -> Point:
        """Unit vector from left to right."""
        return self.right.minus(self.left).unit

    @property
    def inward(self) -> Point:
        """Unit vector from the wall into the room."""
        along = self.along
        return Point(along.y, -along.x)

    def at(self, from_left_m: float, off_wall_m: float = 0.0) -> Point:
        """The point in plan that lies so far from the left-hand corner and off the wall."""
        return self.left.plus(self.along, from_left_m).plus(self.inward, off_wall_m)

    def measure(self, point: Point) -> tuple[float, float]:
        """Return how far a point in plan lies from the left-hand corner, and off the wall [m]."""
        away = point.minus(self.left)
        return away.dot(self.along), away.dot(self.inward)

    def footprint(self, from_left_m: float, off_wall_m: float, width_m: float, depth_m: float) -> tuple[Point, ...]:
        """The four corners in plan of a thing placed from this wall, left back corner first."""
        right, front = from_left_m + width_m, off_wall_m + depth_m
        return (
            self.at(from_left_m, off_wall_m),
            self.at(right, off_wall_m),
            self.at(right, front),
            self.at(from_left_m, front),
        )

    def pieces(self, length_m: float) -> Iterator[tuple[Point, ...]]:
        """Yield the corners in plan of the wall itself, cut into pieces of about a length."""
        count = max(1, round(self.length_m / length_m))
        step_m = self.length_m / count
        for number in range(count):
            yield self.footprint(number * step_m, -self.thickness_m, step_m, self.thickness_m)


def in_words(wall: str) -> str:
    """Return what a wall or crossing of a name is called in a sentence."""
    return wall if wall.startswith(CROSSING) else f"{wall} wall"


def with_article(wall: str) -> str:
    """Return the same as in the middle of a sentence: ``the north wall``, but ``crossing 1``."""
    return wall if wall.startswith(CROSSING) else f"the {wall} wall"


def share_a_wall(wall: Wall, other: Wall) -> bool:
    """Whether two walls of different rooms are the two faces of one, over a length that a pipe can pass."""
    if wall.inward.dot(other.inward) > -0.999:
        return False
    gap_m = -wall.measure(other.left)[1]
    if not -0.01 <= gap_m <= max(wall.thickness_m, other.thickness_m) + 0.05:
        return False
    low_m, high_m = sorted(wall.measure(point)[0] for point in (other.left, other.right))
    return min(wall.length_m, high_m) - max(0.0, low_m) > LEAST_SHARED_M


def find_wall(walls: tuple[Wall, ...], name: str) -> Wall | None:
    """Return the wall of a name; the two corners of a wall may be named in either order."""
    wanted = name.strip().lower()
    turned = "-".join(reversed([part.strip() for part in wanted.split("-")]))
    return next((wall for wall in walls if wall.name.lower() in (wanted, wanted.replace(" ", ""), turned)), None)
