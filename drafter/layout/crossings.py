"""Where the main can leave a wall and cross a room below its ceiling."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from drafter.finding import Finding, Severity
from drafter.geometry import Point
from drafter.layout.steps_round import BESIDE_FITTING_M
from drafter.layout.wall_line import stretches
from drafter.site.model import Crossing, Site
from drafter.site.wall import CROSSING, Wall

LEAST_RAISED_M = 0.3
"""A crossing less high above the main leaves no room for the fittings of its uprights (common practice)."""

Marks = Mapping[tuple[str, str], list[tuple[str, float]]]
"""Keys of stations and how far they are from the left-hand corner of their wall, by room and wall."""


@dataclass(frozen=True, slots=True)
class CrossingPlace:
    """A way across: its line, and for either end the key of its station, the wall, and from the left [m].

    Attributes:
        height_m: of the main there at its high end; a main as high as that crosses at its own level.
    """

    line: Wall
    ends: tuple[tuple[str, Wall, float], tuple[str, Wall, float]]
    height_m: float = 0.0


def crossing_places(site: Site) -> list[CrossingPlace]:
    """Return the crossings of all rooms but that of a ring, which follows the walls of its room whole."""
    ringed = site.compressor.room if site.main.arrangement == "ring" else ""
    return [_place(site, line) for room, lines in site.crossings.items() if room != ringed for line in lines]


def _place(site: Site, line: Wall) -> CrossingPlace:
    left, right = (
        (f"{line.name} {line.room} {side}", wall := _wall_at(site.walls[line.room], at), wall.measure(at)[0])
        for side, at in (("left", line.left), ("right", line.right))
    )
    return CrossingPlace(line, (left, right), _entry(site, line).height_m)


def _entry(site: Site, line: Wall) -> Crossing:
    return site.rooms[line.room].crossings[int(line.name.removeprefix(CROSSING)) - 1]


def _wall_at(walls: Sequence[Wall], foot: Point) -> Wall:
    """The wall that a point lies on."""

    def off_m(wall: Wall) -> float:
        s, off = wall.measure(foot)
        return abs(off) + max(0.0, -s, s - wall.length_m)

    return min(walls, key=off_m)


def crossing_findings(
    site: Site, places: Sequence[CrossingPlace], marks: Marks, off_wall_m: float
) -> Iterator[Finding]:
    """Yield CROSS003 where a crossing begins or ends too near a corner or a fitting of the main, CROSS004 if too low.

    Args:
        marks: what the main must or may come by.
        off_wall_m: of the main.
    """
    units = site.units
    apart = units.length_with_unit(BESIDE_FITTING_M)
    for place in places:
        name, room = place.line.name, place.line.room
        entry = _entry(site, place.line)
        if 1e-6 < place.height_m - site.main.height_m < LEAST_RAISED_M - 1e-6:
            height, main = (units.length_with_unit(m) for m in (place.height_m, site.main.height_m))
            message = f"{name} of {room} at {height} leaves no room for the main to rise to it from {main}"
            least = units.length_with_unit(site.main.height_m + LEAST_RAISED_M)
            fix = f"leave out its height, and it crosses at the level of the main, or give {least} or more"
            yield Finding("CROSS004", Severity.ERROR, entry.where("height_m"), message, name, height, least, fix)
        for key, wall, s in place.ends:
            near = _too_near(site, key, wall, s, marks, off_wall_m)
            if near:
                where = f"{units.length_with_unit(s)} from the left of the {wall.name} wall"
                message = f"{name} of {room} meets the main {where}, too near {near} for two fittings"
                fix = f"move one of them, so that they are {apart} apart"
                yield Finding("CROSS003", Severity.ERROR, entry.where("from_left_m"), message, name, fix=fix)
                break


def _too_near(site: Site, key: str, wall: Wall, from_left_m: float, marks: Marks, off_wall_m: float) -> str:
    """What an end of a crossing is too near to, in words."""
    line = next(line for line in stretches(site.walls[wall.room], off_wall_m) if line.wall == wall)
    if not line.low_m + BESIDE_FITTING_M <= from_left_m <= line.high_m - BESIDE_FITTING_M:
        return "a corner"
    near = (
        other
        for other, m in marks.get((wall.room, wall.name), [])
        if other != key and abs(m - from_left_m) < BESIDE_FITTING_M - 1e-6
    )
    return next(near, "")
