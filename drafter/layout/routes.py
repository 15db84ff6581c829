"""Where the main goes: along the walls at its height, the cheapest way that reaches every outlet."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import pairwise

from drafter.finding import Finding, Severity
from drafter.geometry import Point, Point3
from drafter.layout.obstacles import Obstacle, first_in_the_way
from drafter.layout.sleeves import sleeve_places
from drafter.layout.steiner import cheapest_tree, reachable
from drafter.layout.wall_line import Station, stretches
from drafter.site.model import Site
from drafter.site.wall import Wall

BEND_COST_M = 0.6
"""What a bend costs, in metres of pipe (common practice: about its price and two joints)."""

SLEEVE_COST_M = 2.0
"""What passing a wall costs, in metres of pipe (common practice)."""

MOST_ATTEMPTS = 6
RISER = "riser"


@dataclass(frozen=True, slots=True)
class Step:
    """One station of the main in the order of flow.

    Attributes:
        before: key of the station the air comes from; empty at the riser.
        through_wall: whether the pipe from there passes a wall.
        along_m: length of the main from the riser to here, in plan.
    """

    station: Station
    before: str
    through_wall: bool
    along_m: float


@dataclass(frozen=True)
class Route:
    """The main as a tree of stations, each after the one that feeds it."""

    steps: tuple[Step, ...]
    reasons: tuple[str, ...] = ()

    def after(self, key: str) -> tuple[Step, ...]:
        return tuple(step for step in self.steps if step.before == key)


@dataclass
class _Lines:
    """The stations of all rooms and the pieces of line between them."""

    stations: dict[str, Station] = field(default_factory=dict)
    edges: dict[str, dict[str, float]] = field(default_factory=dict)
    through: set[frozenset[str]] = field(default_factory=set)
    closed: dict[frozenset[str], Obstacle] = field(default_factory=dict)

    def join(self, a: str, b: str, cost: float) -> None:
        self.edges.setdefault(a, {})[b] = cost
        self.edges.setdefault(b, {})[a] = cost

    def part(self, a: str, b: str) -> None:
        del self.edges[a][b], self.edges[b][a]


def route_main(
    site: Site, riser: tuple[Wall, float], off_wall_m: float, obstacles: dict[str, tuple[Obstacle, ...]]
) -> tuple[Route | None, list[Finding]]:
    """Find the way of the main.

    Args:
        site: a checked site.
        riser: the wall and the distance from its left-hand corner where the riser meets the main.
        off_wall_m: of the main's centre.
        obstacles: of each room.

    Returns:
        The route, or None with findings that name what blocks it.
    """
    lines, findings = _lines(site, riser, off_wall_m)
    if findings:
        return None, findings
    terminals = [RISER, *(f"outlet {outlet.tag}" for outlet in site.outlets)]
    levels = dict.fromkeys(lines.stations, site.main.height_m)
    for _ in range(MOST_ATTEMPTS):
        _close(lines, levels, obstacles)
        tree = cheapest_tree(lines.edges, terminals)
        if tree is None:
            return None, [_blocked(site, lines, terminals)]
        route = _in_order(lines, tree)
        levels = {step.station.key: site.main.height_m - site.main.fall * step.along_m for step in route.steps}
        if not any(_in_the_way(lines, levels, obstacles, *edge) for edge in map(sorted, tree)):
            return Route(route.steps, _reasons(site, lines, route)), []
    return None, [_blocked(site, lines, terminals)]


def _lines(site: Site, riser: tuple[Wall, float], off_wall_m: float) -> tuple[_Lines, list[Finding]]:
    lines, findings = _Lines(), []
    allowed = {(step.room, site.wall(step.room, step.wall).name) for step in site.main.path}
    marks: dict[tuple[str, str], list[tuple[str, float]]] = {}
    marks.setdefault((riser[0].room, riser[0].name), []).append((RISER, riser[1]))
    for outlet in site.outlets:
        wall = site.wall(outlet.room, outlet.wall)
        marks.setdefault((wall.room, wall.name), []).append((f"outlet {outlet.tag}", outlet.from_left_m))
    sleeves = sleeve_places(site, riser, off_wall_m)
    for sleeve in sleeves:
        for key, wall, from_left_m in sleeve.ends:
            marks.setdefault((wall.room, wall.name), []).append((key, from_left_m))
    for room, walls in site.walls.items():
        corner_keys = [f"corner {room} {i}" for i in range(len(walls))]
        for i, stretch in enumerate(stretches(walls, off_wall_m)):
            wall = stretch.wall
            here = marks.get((room, wall.name), [])
            for key, s in here:
                if not stretch.low_m - 1e-6 <= s <= stretch.high_m + 1e-6:
                    findings.append(_too_near_corner(site, key, wall, stretch.low_m, stretch.high_m))
            ends = [(corner_keys[i - 1], stretch.low_m), (corner_keys[i], stretch.high_m)]
            row = sorted([*here, *ends], key=lambda mark: (mark[1], mark[0]))
            for key, s in row:
                if key not in lines.stations or key == corner_keys[i]:
                    lines.stations[key] = Station(key, wall, s, wall.at(s, off_wall_m))
            if allowed and (room, wall.name) not in allowed:
                continue
            for (a, s), (b, t) in pairwise(row):
                bends = BEND_COST_M / 2 * sum(key.startswith("corner") for key in (a, b))
                lines.join(a, b, t - s + bends)
    for sleeve in sleeves:
        (key, wall, _), (other_key, _, _) = sleeve.ends
        if key in lines.stations and other_key in lines.stations:
            lines.join(key, other_key, 2 * off_wall_m + wall.thickness_m + SLEEVE_COST_M)
            lines.through.add(frozenset((key, other_key)))
    return lines, findings


def _too_near_corner(site: Site, key: str, wall: Wall, low_m: float, high_m: float) -> Finding:
    units = site.units
    entry = next((outlet for outlet in site.outlets if key == f"outlet {outlet.tag}"), None)
    place = entry.where("from_left_m") if entry else site.compressor.place
    subject = entry.tag if entry else "compressor"
    return Finding(
        "ROUTE002",
        Severity.ERROR,
        place,
        f"the main cannot reach {key}: it is too near a corner of the {wall.name} wall",
        subject,
        fix=f"keep it between {units.length_with_unit(low_m)} and {units.length_with_unit(high_m)} from the left",
    )


def _in_the_way(
    lines: _Lines, levels: dict[str, float], obstacles: dict[str, tuple[Obstacle, ...]], a: str, b: str
) -> Obstacle | None:
    start, end = lines.stations[a], lines.stations[b]
    if frozenset((a, b)) in lines.through:
        return None
    room = start.wall.room
    first = Point3(*start.at, levels.get(a, levels[RISER]))
    last = Point3(*end.at, levels.get(b, levels[RISER]))
    return first_in_the_way(obstacles[room], first, last)


def _close(lines: _Lines, levels: dict[str, float], obstacles: dict[str, tuple[Obstacle, ...]]) -> None:
    pairs = sorted({tuple(sorted((a, b))) for a, others in lines.edges.items() for b in others})
    for a, b in pairs:
        blocking = _in_the_way(lines, levels, obstacles, a, b)
        if blocking is not None:
            lines.closed[frozenset((a, b))] = blocking
            lines.part(a, b)


def _in_order(lines: _Lines, tree: Iterable[frozenset[str]]) -> Route:
    beside: dict[str, list[str]] = {}
    for edge in tree:
        a, b = sorted(edge)
        beside.setdefault(a, []).append(b)
        beside.setdefault(b, []).append(a)
    steps = [Step(lines.stations[RISER], "", False, 0.0)]
    done = {RISER}
    for step in steps:
        here = step.station
        ahead = [key for key in beside.get(here.key, []) if key not in done]
        for key in sorted(ahead, key=lambda k: (lines.stations[k].wall.room, k)):
            there = lines.stations[key]
            length = there.at.minus(here.at).length
            through = frozenset((here.key, key)) in lines.through
            steps.append(Step(there, here.key, through, step.along_m + length))
            done.add(key)
    return Route(tuple(steps))


def _blocked(site: Site, lines: _Lines, terminals: list[str]) -> Finding:
    reached = reachable(lines.edges, RISER)
    lost = [key for key in terminals if key not in reached]
    names = ", ".join(key.removeprefix("outlet ") for key in lost)
    at_edge = [obstacle for edge, obstacle in lines.closed.items() if len(edge & reached) == 1]
    blocking = {obstacle.name: obstacle for obstacle in at_edge or lines.closed.values()}
    units = site.units
    why = ", ".join(
        f"{name} (from {units.length_with_unit(o.bottom_m)} to {units.length_with_unit(o.top_m)} above floor)"
        for name, o in blocking.items()
    )
    if not blocking:
        outside = [outlet for outlet in site.outlets if f"outlet {outlet.tag}" in lost]
        place = outside[0].where("wall") if outside and site.main.path else site.main.place
        why = "the walls of 'path' do not lead there" if site.main.path else "no wall leads there"
        fix = "add the walls between to 'path'" if site.main.path else "let the rooms share a wall"
    else:
        place = site.main.where("height_m")
        fix = "change the height of the main, or move what blocks it or the outlet"
    return Finding(
        "ROUTE001",
        Severity.ERROR,
        place,
        f"at {units.length_with_unit(site.main.height_m)} the main cannot reach {names or 'every outlet'}: {why}",
        "main",
        fix=fix,
    )


def _reasons(site: Site, lines: _Lines, route: Route) -> tuple[str, ...]:
    """Say in words why the main goes as it does."""
    units, said = site.units, []
    total = sum(step.station.at.minus(lines.stations[step.before].at).length for step in route.steps if step.before)
    ways = len(route.after(RISER))
    how = "both ways from the riser" if ways == 2 else "one way from the riser"
    said.append(
        f"The main runs {how}, {units.long_length(total)} in all, the shortest way along the walls to every outlet."
    )
    if lines.closed:
        names = ", ".join(sorted({obstacle.name for obstacle in lines.closed.values()}))
        said.append(f"Closed to it at its height: {names}.")
    if any(step.through_wall for step in route.steps):
        said.append("It passes from room to room through a sleeve in the wall they share.")
    return tuple(said)


def direction(route: Route, key: str) -> Point:
    """Unit vector in plan in which the main arrives at a station."""
    step = next(step for step in route.steps if step.station.key == key)
    before = next(other for other in route.steps if other.station.key == step.before)
    return step.station.at.minus(before.station.at).unit
