"""The ways the main could take: stations on the lines along the walls, and the pieces of line between them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise

from drafter.finding import Place
from drafter.geometry import Point3
from drafter.layout.crossings import CrossingPlace
from drafter.layout.obstacles import CLEAR_M, PIPE_M, Obstacle
from drafter.layout.sleeves import SleevePlace
from drafter.layout.steps_round import STEP, NoStep, StepRound, pieces_of, steps_round
from drafter.layout.wall_line import Station, Stretch, stretches
from drafter.site.model import Site
from drafter.site.wall import CROSSING, Wall

FITTING_ROOM_M = 0.1
"""Least distance between the centres of two fittings on the main (common practice: both sockets and a grip)."""

MOST_ATTEMPTS = 6
"""The main falls along its way, so what is in its way is known only once the way is: tried so often."""

RISER = "riser"
WAYPOINT = "place to come by "
SLEEVE = "sleeve "
LIKELY = (SLEEVE, WAYPOINT, STEP, CROSSING)
"""Stations that the main comes by, where it goes straight on there, without a fitting."""

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
        over: at which height pieces cross a room that are raised for that.
        closed: what is in the way of the pieces taken out.
        met_m: how low the main would have been there.
        around: the stations of each room once round, clockwise.
        no_step: what leaves the main no room to step round things.
        around_what: in words, what the main steps round where it turns at a station.
    """

    stations: dict[str, Station] = field(default_factory=dict)
    edges: dict[str, dict[str, float]] = field(default_factory=dict)
    along: dict[frozenset[str], Wall] = field(default_factory=dict)
    through: set[frozenset[str]] = field(default_factory=set)
    over: dict[frozenset[str], float] = field(default_factory=dict)
    closed: dict[frozenset[str], Obstacle] = field(default_factory=dict)
    met_m: dict[frozenset[str], float] = field(default_factory=dict)
    no_step: list[NoStep] = field(default_factory=list)
    around: dict[str, list[str]] = field(default_factory=dict)
    around_what: dict[str, str] = field(default_factory=dict)

    def join(self, a: str, b: str, wall: Wall, cost_m: float) -> None:
        self.edges.setdefault(a, {})[b] = cost_m
        self.edges.setdefault(b, {})[a] = cost_m
        self.along[frozenset((a, b))] = wall

    def in_the_way(self, piece: frozenset[str], levels: Mapping[str, float], obstacles: Obstacles) -> Obstacle | None:
        """Return what the piece between two stations would meet at its levels."""
        if piece in self.through:
            return None
        one, other = (self.stations[key] for key in sorted(piece))
        legs = legs_of(self.along[piece], (one, levels[one.key]), (other, levels[other.key]), self.over.get(piece, 0.0))
        return next((thing for leg in legs for thing in in_the_way(*leg, obstacles)), None)

    @property
    def closed_by(self) -> tuple[Place, ...]:
        """Where in the site file the things stand that are in the way, each once."""
        return tuple(sorted({obstacle.place for obstacle in self.closed.values()}))

    def no_step_round(self, obstacle: Obstacle) -> NoStep | None:
        """Return what leaves the main no room to step round an obstacle."""
        return next((each for each in self.no_step if obstacle.stepped and each.is_about(obstacle)), None)

    def close(self, levels: Mapping[str, float], obstacles: Obstacles) -> None:
        """Take out every piece that something is in the way of."""
        pieces = {frozenset((a, b)) for a, others in self.edges.items() for b in others}
        for piece in sorted(pieces, key=sorted):
            blocking = self.in_the_way(piece, levels, obstacles)
            if blocking is not None:
                self.take_out(piece, blocking, min(levels[key] for key in piece))

    def take_out(self, piece: frozenset[str], blocking: Obstacle, level_m: float) -> None:
        """Close a piece that something is in the way of, at a level of the main."""
        self.closed[piece] = blocking
        self.met_m[piece] = level_m
        a, b = piece
        del self.edges[a][b], self.edges[b][a]


def legs_of(
    wall: Wall, start: tuple[Station, float], end: tuple[Station, float], over_m: float, fall_m: float = 0.0
) -> list[tuple[Wall, Point3, Point3]]:
    """Return the straight parts of a piece of main, each with its wall: one, or up, across and down.

    Args:
        start, end: its stations, with the levels of the main there.
        over_m: the height it crosses at; 0 for a piece that goes straight.
        fall_m: how much it falls in crossing.
    """
    (one, level_m), (other, end_m) = start, end
    first, last = Point3(*one.at, level_m), Point3(*other.at, end_m)
    if not over_m:
        return [(wall, first, last)]
    up, far = Point3(*one.at, over_m), Point3(*other.at, over_m - fall_m)
    return [(one.wall, first, up), (wall, up, far), (other.wall, far, last)]


def in_the_way(wall: Wall, start: Point3, end: Point3, obstacles: Obstacles) -> Iterator[Obstacle]:
    """Yield what a piece of main along a wall would meet."""
    if max(start.z, end.z) > wall.ceiling_m - CLEAR_M:
        yield Obstacle(f"ceiling of {wall.room}", (), wall.ceiling_m, math.inf, Place())
    yield from (obstacle for obstacle in obstacles[wall.room] if obstacle.meets(start, end))


def outlet_key(tag: str) -> str:
    """The key of an outlet's station."""
    return f"outlet {tag}"


def station_in_words(key: str) -> str:
    """Name a station in a sentence."""
    if key == RISER:
        return "the riser"
    return "the " + key.split(" ")[0] if key.startswith((SLEEVE, STEP, CROSSING)) else key


def waypoint_key(number: int) -> str:
    """The key of the station of a place the main must come by, counted from 1."""
    return f"{WAYPOINT}{number}"


def terminals(site: Site) -> list[str]:
    """The keys of what the main must reach, the riser first."""
    outlets = [outlet_key(outlet.tag) for outlet in site.outlets]
    return [RISER, *outlets, *(waypoint_key(number + 1) for number in range(len(site.main.waypoints)))]


def marks_on_walls(
    site: Site, riser: tuple[Wall, float], sleeves: list[SleevePlace], crossings: list[CrossingPlace]
) -> dict[tuple[str, str], list[Mark]]:
    """Return what the main must or may come by on each wall, by room and wall, in the order of the site file."""
    found: dict[tuple[str, str], list[Mark]] = {}
    ends = [(RISER, *riser)]
    ends += [(outlet_key(o.tag), site.wall(o.room, o.wall), o.from_left_m) for o in site.outlets]
    for number, point in enumerate(site.main.waypoints, 1):
        ends.append((waypoint_key(number), site.wall(point.room, point.wall), point.from_left_m))
    ends += [end for sleeve in sleeves for end in sleeve.ends]
    ends += [end for crossing in crossings for end in crossing.ends]
    for key, wall, from_left_m in ends:
        found.setdefault((wall.room, wall.name), []).append((key, from_left_m))
    return found


def ways_along_walls(
    site: Site,
    marks: Mapping[tuple[str, str], list[Mark]],
    sleeves: list[SleevePlace],
    crossings: list[CrossingPlace],
    off_wall_m: float,
    obstacles: Obstacles,
) -> Ways:
    """Return all ways along the walls, round what stands there and across below ceilings, nothing closed yet.

    Args:
        marks: by room and wall.
        off_wall_m: of the main.
    """
    ways = Ways()
    bend_m = site.main.costs.bend_m
    allowed = {(step.room, site.wall(step.room, step.wall).name) for step in site.main.path}
    ringed = site.compressor.room if site.main.arrangement == "ring" else ""
    for room, walls in site.walls.items():
        lines = stretches(walls, off_wall_m)
        here = {wall.name: [*marks.get((room, wall.name), [])] for wall in walls}
        steps, refused = steps_round(site, lines, here, obstacles[room], off_wall_m)
        ways.no_step += refused
        for turn in (turn for step in steps for turn in step.ends):
            here[turn.wall.name].append((turn.key, turn.from_left_m))

        def open_to(wall: Wall, room: str = room) -> bool:
            return not allowed or room == ringed or (room, wall.name) in allowed

        for number, line in enumerate(lines):
            corners = (_corner_key(room, (number - 1) % len(lines)), _corner_key(room, number))
            row = _stations_on(ways, line, corners, here[line.wall.name], off_wall_m)
            ways.around.setdefault(room, []).extend(key for key, _ in row[:-1])
            if open_to(line.wall):
                _join_row(ways, line, row, bend_m)
        for step in steps:
            if open_to(step.wall):
                _join_step(ways, step, bend_m)
                if room == ringed and _meets_ring(site, step.thing):
                    _lead_round(ways.around[room], step)
    for crossing in crossings:
        a, b = (key for key, _, _ in crossing.ends)
        if not allowed or (crossing.line.room, crossing.line.name) in allowed:
            across_m = ways.stations[b].at.minus(ways.stations[a].at).length
            raised_m = max(0.0, crossing.height_m - site.main.height_m)
            bends = 4 if raised_m else 2
            ways.join(a, b, crossing.line, across_m * site.main.costs.ceiling + 2 * raised_m + bends * bend_m)
            if raised_m:
                ways.over[frozenset((a, b))] = crossing.height_m
    for sleeve in sleeves:
        (key, wall, _), (other_key, _, _) = sleeve.ends
        ways.join(key, other_key, wall, 2 * off_wall_m + wall.thickness_m + site.main.costs.wall_m)
        ways.through.add(frozenset((key, other_key)))
    return ways


def _meets_ring(site: Site, thing: Obstacle) -> bool:
    """Whether a thing is as high as the ring main is somewhere on its way."""
    half_m = sum(wall.length_m for wall in site.walls[site.compressor.room]) / 2
    low_m = site.main.height_m - site.main.fall * half_m - CLEAR_M - PIPE_M
    return thing.top_m > low_m and thing.bottom_m < site.main.height_m + CLEAR_M + PIPE_M


def _join_step(ways: Ways, step: StepRound, bend_m: float) -> None:
    for turn in step.turns[1:-1]:
        ways.around_what[turn.key] = step.thing.on_site
        at = turn.wall.at(turn.from_left_m, turn.off_wall_m)
        ways.stations[turn.key] = Station(turn.key, turn.wall, turn.from_left_m, at)
    for one, other, halves in pieces_of(step):
        length_m = ways.stations[other.key].at.minus(ways.stations[one.key].at).length
        ways.join(one.key, other.key, step.wall, length_m + halves * bend_m / 2)


def _lead_round(around: list[str], step: StepRound) -> None:
    """Put the turns of a step in place of the stations between its ends, of a room once round."""
    first, *between, last = (turn.key for turn in step.turns)
    if first not in around or last not in around:
        return
    turned = [*around[around.index(first) :], *around[: around.index(first)]]
    around[:] = [first, *between, *turned[turned.index(last) :]]


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
