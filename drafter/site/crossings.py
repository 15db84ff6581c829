"""Lines across a room below its ceiling, on which the main may hang: walls that are not there."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress

from drafter.geometry import Point
from drafter.reader import Reading, Unread, is_read
from drafter.site.model import Crossing, Room
from drafter.site.model.rooms import crossing_name
from drafter.site.wall import Wall

LEAST_ACROSS_M = 0.5
SQUARE = 0.9999


def crossings_of_rooms(
    rooms: Mapping[str, Room], walls: Mapping[str, tuple[Wall, ...]], reading: Reading
) -> dict[str, tuple[Wall, ...]]:
    """Return the crossings of each room as lines from their wall, on the left, to the wall that faces it.

    One that meets no wall at a right angle gives CROSS001 and is left out, as is one that crosses another, with
    CROSS002.
    """
    found: dict[str, tuple[Wall, ...]] = {}
    for room in walls:
        entries = rooms[room].crossings
        lines: list[Wall] = []
        for number, entry in enumerate(entries if is_read(entries) else (), 1):
            with suppress(Unread):
                line = _line(crossing_name(number), entry, walls[room], reading)
                if line is not None and not _crosses(line, lines, entry, reading):
                    lines.append(line)
        found[room] = tuple(lines)
    return found


def _line(name: str, entry: Crossing, walls: tuple[Wall, ...], reading: Reading) -> Wall | None:
    wall = next((each for each in walls if each.name == entry.wall), None)
    if wall is None or entry.from_left_m > wall.length_m:
        return None
    start = wall.at(entry.from_left_m)
    facing = [
        (across_m, other)
        for other in walls
        if other.inward.dot(wall.inward) < -SQUARE
        and (across_m := -other.measure(start)[1] * other.inward.dot(wall.inward)) > LEAST_ACROSS_M
        and 0.0 <= other.measure(start)[0] <= other.length_m
    ]
    blind = [
        other for other in walls
        if other is not wall and abs(other.inward.dot(wall.inward)) < SQUARE and _met(other, start, wall, facing)
    ]  # fmt: skip
    if not facing or blind:
        message = f"from there no line leads straight across {wall.room} to a wall that faces the {wall.name} wall"
        fix = "measure 'from left' again, or begin at the wall on the other side"
        reading.error("CROSS001", entry.where("from_left_m"), message, fix, name)
        return None
    across_m, _ = min(facing, key=lambda each: each[0])
    return Wall(wall.room, name, start, start.plus(wall.inward, across_m), wall.ceiling_m, 0.0)


def _met(other: Wall, start: Point, wall: Wall, facing: list[tuple[float, Wall]]) -> bool:
    """Whether a line straight off a wall meets another, askew one before it gets to what faces it."""
    turn = wall.inward.cross(other.along)
    if abs(turn) < 1e-9:
        return False
    way = other.left.minus(start)
    across_m, along_m = way.cross(other.along) / turn, way.cross(wall.inward) / turn
    nearest_m = min((each for each, _ in facing), default=across_m)
    return 1e-6 < across_m <= nearest_m and -1e-6 <= along_m <= other.length_m + 1e-6


def _crosses(line: Wall, others: list[Wall], entry: Crossing, reading: Reading) -> bool:
    from shapely import LineString

    own = LineString([line.left, line.right])
    met = next((each for each in others if own.distance(LineString([each.left, each.right])) < LEAST_ACROSS_M), None)
    if met is not None:
        message = f"{line.name} meets {met.name}, or runs beside it: pipes on both would be in each other's way"
        fix = "keep crossings of a room parallel and half a metre apart"
        reading.error("CROSS002", entry.where("from_left_m"), message, fix, line.name)
    return met is not None
