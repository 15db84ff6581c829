"""The ways the main could take: stations on the lines along the walls, and the pieces of line between them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise

from drafter.finding import Place
from drafter.geometry import Point3
from drafter.layout.obstacles import CLEAR_M, Obstacle
from drafter.layout.sleeves import SleevePlace
from drafter.layout.wall_line import Station, Stretch, stretches
from drafter.site.model import Site
from drafter.site.wall import Wall

FITTING_ROOM_M = 0.1
"""Least distance between the centres of two fittings on the main (common practice: both sockets and a grip)."""

MOST_ATTEMPTS = 6
"""The main falls along its way, so what is in its way is known only once the way is: tried so often."""

RISER = "riser"
WAYPOINT = "place to come by "
SLEEVE = "sleeve "

Obstacles = Mapping[str, tuple[Obstacle, ...]]
"""The obstacles of each room."""

Mark = tuple[str, float]
"""Key of a station and its distance from the left-hand corner of its wall [m]."""


@dataclass
class Ways:
    """The stations of all rooms and the pieces of line between them.

    Attributes:
        edges: cost of each piece by the keys of its two ends, given both ways [m].
        along: the wall each piece runs along, by its two ends.
        through: the pieces that pass a wall.
        closed: what is in the way of the pieces taken out.
        around: the stations of each room once round, clockwise.
    """

    stations: dict[str, Station] = field(default_factory=dict)
    edges: dict[str, dict[str, float]] = field(default_factory=dict)
    along: dict[frozenset[str], Wall] = field(default_factory=dict)
    through: set[frozenset[str]] = field(default_factory=set)
    closed: dict[frozenset[str], Obstacle] = field(default_factory=dict)
    around: dict[str, list[str]] = field(default_factory=dict)

    def join(self, a: str, b: str, wall: Wall, cost_m: float) -> None:
        self.edges.setdefault(a, {})[b] = cost_m
        self.edges.setdefault(b, {})[a] = cost_m
        self.along[frozenset((a, b))] = wall

    def in_the_way(self, piece: frozenset[str], levels: Mapping[str, float], obstacles: Obstacles) -> Obstacle | None:
        """Return what the piece between two stations would meet at its levels."""
        if piece in self.through:
            return None
        start, end = (Point3(*self.stations[key].at, levels[key]) for key in sorted(piece))
        return next(in_the_way(self.along[piece], start, end, obstacles), None)

    @property
    def closed_by(self) -> tuple[Place, ...]:
        """Where in the site file the things stand that are in the way, each once."""
        return tuple(sorted({obstacle.place for obstacle in self.closed.values()}))

    def close(self, levels: Mapping[str, float], obstacles: Obstacles) -> None:
        """Take out every piece that something is in the way of."""
        pieces = {frozenset((a, b)) for a, others in self.edges.items() for b in others}
        for piece in sorted(pieces, key=sorted):
            blocking = self.in_the_way(piece, levels, obstacles)
            if blocking is not None:
                self.closed[piece] = blocking
                a, b = piece
                del self.edges[a][b], self.edges[b][a]


def in_the_way(wall: Wall, start: Point3, end: Point3, obstacles: Obstacles) -> Iterator[Obstacle]:
    """Yield what a piece of main along a wall would meet."""
    if max(start.z, end.z) > wall.ceiling_m - CLEAR_M:
        yield Obstacle(f"ceiling of {wall.room}", (), wall.ceiling_m, math.inf, Place())
    yield from (obstacle for obstacle in obstacles[wall.room] if obstacle.meets(start, end))


def outlet_key(tag: str) -> str:
    """The key of an outlet's station."""
    return f"outlet {tag}"


def waypoint_key(number: int) -> str:
    """The key of the station of a place the main must come by, counted from 1."""
    return f"{WAYPOINT}{number}"


def terminals(site: Site) -> list[str]:
    """The keys of what the main must reach, the riser first."""
    outlets = [outlet_key(outlet.tag) for outlet in site.outlets]
    return [RISER, *outlets, *(waypoint_key(number + 1) for number in range(len(site.main.waypoints)))]


def marks_on_walls(
    site: Site, riser: tuple[Wall, float], sleeves: list[SleevePlace]
) -> dict[tuple[str, str], list[Mark]]:
    """Return what the main must or may come by on each wall, by room and wall, in the order of the site file."""
    found: dict[tuple[str, str], list[Mark]] = {}
    ends = [(RISER, *riser)]
    ends += [(outlet_key(o.tag), site.wall(o.room, o.wall), o.from_left_m) for o in site.outlets]
    for number, point in enumerate(site.main.waypoints, 1):
        ends.append((waypoint_key(number), site.wall(point.room, point.wall), point.from_left_m))
    ends += [end for sleeve in sleeves for end in sleeve.ends]
    for key, wall, from_left_m in ends:
        found.setdefault((wall.room, wall.name), []).append((key, from_left_m))
    return found


def ways_along_walls(
    site: Site, marks: Mapping[tuple[str, str], list[Mark]], sleeves: list[SleevePlace], off_wall_m: float
) -> Ways:
    """Return all ways along the walls the site allows, nothing closed yet."""
    ways = Ways()
    allowed = {(step.room, site.wall(step.room, step.wall).name) for step in site.main.path}
    ringed = site.compressor.room if site.main.arrangement == "ring" else ""
    for room, walls in site.walls.items():
        lines = stretches(walls, off_wall_m)
        for number, line in enumerate(lines):
            corners = (_corner_key(room, (number - 1) % len(lines)), _corner_key(room, number))
            row = _stations_on(ways, line, corners, marks.get((room, line.wall.name), []), off_wall_m)
            ways.around.setdefault(room, []).extend(key for key, _ in row[:-1])
            if not allowed or room == ringed or (room, line.wall.name) in allowed:
                _join_row(ways, line, row, site.main.costs.bend_m)
    for sleeve in sleeves:
        (key, wall, _), (other_key, _, _) = sleeve.ends
        ways.join(key, other_key, wall, 2 * off_wall_m + wall.thickness_m + site.main.costs.wall_m)
        ways.through.add(frozenset((key, other_key)))
    return ways


def _corner_key(room: str, number: int) -> str:
    return f"corner {room} {number}"


def _stations_on(
    ways: Ways, line: Stretch, corners: tuple[str, str], marks: list[Mark], off_wall_m: float
) -> list[Mark]:
    """Add the stations of a wall, and return them from left to right; a corner belongs to the wall it ends."""
    ends = [(corners[0], line.low_m), (corners[1], line.high_m)]
    row = sorted([*marks, *ends], key=lambda mark: (mark[1], mark[0]))
    for key, from_left_m in row:
        if key != corners[0] or key not in ways.stations:
            ways.stations[key] = Station(key, line.wall, from_left_m, line.wall.at(from_left_m, off_wall_m))
    return row


def _join_row(ways: Ways, line: Stretch, row: list[Mark], bend_m: float) -> None:
    if line.high_m - line.low_m < FITTING_ROOM_M:
        left, right = line.wall.left, line.wall.right
        short = Obstacle(f"short wall {line.wall.name}", (left, right), 0.0, line.wall.ceiling_m, Place())
        ways.closed[frozenset((row[0][0], row[-1][0]))] = short
        return
    for (a, s), (b, t) in pairwise(row):
        bends = sum(key.startswith("corner ") for key in (a, b))
        ways.join(a, b, line.wall, t - s + bends * bend_m / 2)
