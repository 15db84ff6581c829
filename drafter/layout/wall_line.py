"""The line along the walls of each room that the main can follow, and the stations on it."""

from __future__ import annotations

from dataclasses import dataclass

from drafter.geometry import Point
from drafter.site.wall import Wall


@dataclass(frozen=True, slots=True)
class Station:
    """A point on the line of the main.

    Attributes:
        key: unique: ``riser``, ``outlet A1``, ``corner workshop 2``, ``sleeve 1 workshop``.
        wall: the wall it belongs to; a corner belongs to the wall that ends there.
        from_left_m: along that wall.
        at: in plan, on the line of the main.
    """

    key: str
    wall: Wall
    from_left_m: float
    at: Point


@dataclass(frozen=True, slots=True)
class Stretch:
    """The part of a wall's line between its two corners: where the line begins and ends, from the left [m]."""

    wall: Wall
    low_m: float
    high_m: float


def stretches(walls: tuple[Wall, ...], off_wall_m: float) -> tuple[Stretch, ...]:
    """Return the stretch of the main's line on each wall of a room, walls clockwise.

    At inside corners the line ends short of the corner by the distance off the other wall; at outside
    corners it runs past it.
    """
    count = len(walls)
    ends = [_meeting(walls[i], walls[(i + 1) % count], off_wall_m) for i in range(count)]
    return tuple(Stretch(wall, wall.measure(ends[i - 1])[0], wall.measure(ends[i])[0]) for i, wall in enumerate(walls))


def _meeting(wall: Wall, following: Wall, off_wall_m: float) -> Point:
    """Where the lines before two walls that follow each other clockwise meet."""
    turn = wall.along.cross(following.along)
    start = wall.at(0.0, off_wall_m)
    if abs(turn) < 1e-6:
        return wall.at(wall.length_m, off_wall_m)
    way = following.at(0.0, off_wall_m).minus(start)
    return start.plus(wall.along, way.cross(following.along) / turn)
