"""Where the main goes: along the walls at its height, the cheapest way that reaches every outlet."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

from drafter.finding import Finding, Place, Severity
from drafter.layout.obstacles import Obstacle
from drafter.layout.sleeves import sleeve_findings, sleeve_places
from drafter.layout.steiner import cheapest_tree, reachable
from drafter.layout.wall_line import Station, stretches
from drafter.layout.ways import (
    FITTING_ROOM_M,
    RISER,
    Mark,
    Obstacles,
    Ways,
    marks_on_walls,
    outlet_key,
    ways_along_walls,
)
from drafter.site.model import Site
from drafter.site.wall import Wall

MOST_ATTEMPTS = 6
"""The main falls along its way, so what is in its way is known only once the way is: tried so often."""


@dataclass(frozen=True, slots=True)
class Step:
    """One station of the main in the order of flow.

    Attributes:
        before: key of the station the air comes from; empty at the riser.
        wall: the wall that the pipe from there runs along, or passes.
        through_wall: whether it passes that wall.
        along_m: length of the main from the riser to here, in plan.
    """

    station: Station
    before: str
    wall: Wall
    through_wall: bool
    along_m: float


@dataclass(frozen=True)
class Route:
    """The main as a tree of stations, each after the one that feeds it."""

    steps: tuple[Step, ...]
    reasons: tuple[str, ...] = ()

    @cached_property
    def by_key(self) -> dict[str, Step]:
        return {step.station.key: step for step in self.steps}

    @cached_property
    def _following(self) -> dict[str, tuple[Step, ...]]:
        found: dict[str, tuple[Step, ...]] = {}
        for step in self.steps:
            found[step.before] = (*found.get(step.before, ()), step)
        return found

    def after(self, key: str) -> tuple[Step, ...]:
        """The stations that a station feeds directly."""
        return self._following.get(key, ())


def route_main(
    site: Site, riser: tuple[Wall, float], off_wall_m: float, obstacles: Obstacles
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
    sleeves = sleeve_places(site, riser, off_wall_m)
    marks = marks_on_walls(site, riser, sleeves)
    findings = [*sleeve_findings(site, off_wall_m), *_spacing_findings(site, marks, off_wall_m)]
    if findings:
        return None, findings
    ways = ways_along_walls(site, marks, sleeves, off_wall_m)
    terminals = [RISER, *(outlet_key(outlet.tag) for outlet in site.outlets)]
    levels = dict.fromkeys(ways.stations, site.main.height_m)
    for _ in range(MOST_ATTEMPTS):
        ways.close(levels, obstacles)
        tree = cheapest_tree(ways.edges, terminals)
        if tree is None:
            break
        route = _in_order(ways, tree)
        levels |= {step.station.key: site.main.height_m - site.main.fall * step.along_m for step in route.steps}
        if not any(ways.in_the_way(piece, levels, obstacles) for piece in tree):
            return Route(_without_passed_sleeves(route), _reasons(ways, route)), []
    return None, [_blocked(site, ways, terminals)]


def _spacing_findings(site: Site, marks: dict[tuple[str, str], list[Mark]], off_wall_m: float) -> Iterator[Finding]:
    """Look whether each take-off has room for its fittings, beside corners and beside each other."""
    for room, walls in site.walls.items():
        for line in stretches(walls, off_wall_m):
            fixed = [mark for mark in marks.get((room, line.wall.name), []) if not mark[0].startswith("sleeve ")]
            low, high = line.low_m + FITTING_ROOM_M, line.high_m - FITTING_ROOM_M
            for key, from_left_m in fixed:
                if not low - 1e-6 <= from_left_m <= high + 1e-6:
                    yield _too_near_corner(site, key, line.wall, low, high)
            for (key, s), (other, t) in pairwise(sorted(fixed, key=lambda mark: mark[1])):
                if t - s < FITTING_ROOM_M - 1e-6:
                    yield _too_near_each_other(site, key, other, t - s)


def _place_of(site: Site, key: str) -> tuple[Place, str]:
    outlet = next((outlet for outlet in site.outlets if key == outlet_key(outlet.tag)), None)
    return (outlet.where("from_left_m"), outlet.tag) if outlet else (site.compressor.place, "compressor")


def _too_near_corner(site: Site, key: str, wall: Wall, low_m: float, high_m: float) -> Finding:
    place, subject = _place_of(site, key)
    low, high = site.units.length_with_unit(low_m), site.units.length_with_unit(high_m)
    message = f"the main cannot reach {key}: it is too near a corner of the {wall.name} wall"
    fix = f"keep it between {low} and {high} from the left"
    return Finding("ROUTE002", Severity.ERROR, place, message, subject, fix=fix)


def _too_near_each_other(site: Site, key: str, other: str, apart_m: float) -> Finding:
    place, subject = _place_of(site, other if other != RISER else key)
    apart, least = site.units.length_with_unit(apart_m), site.units.length_with_unit(FITTING_ROOM_M)
    message = f"{key} and {other} are {apart} apart on the main: no room for two fittings"
    fix = f"move one of them to at least {least} apart"
    return Finding("ROUTE005", Severity.ERROR, place, message, subject, fix=fix)


def _in_order(ways: Ways, tree: Iterable[frozenset[str]]) -> Route:
    beside: dict[str, list[str]] = {}
    for piece in tree:
        a, b = piece
        beside.setdefault(a, []).append(b)
        beside.setdefault(b, []).append(a)
    steps = [Step(ways.stations[RISER], "", ways.stations[RISER].wall, False, 0.0)]
    done = {RISER}
    for step in steps:
        here = step.station
        ahead = [key for key in beside.get(here.key, []) if key not in done]
        for key in sorted(ahead, key=lambda k: (ways.stations[k].wall.room, k)):
            there, piece = ways.stations[key], frozenset((here.key, key))
            through = piece in ways.through
            wall = there.wall if through else ways.along[piece]
            steps.append(Step(there, here.key, wall, through, step.along_m + there.at.minus(here.at).length))
            done.add(key)
    return Route(tuple(steps))


def _without_passed_sleeves(route: Route) -> tuple[Step, ...]:
    """The steps without the likely places of sleeves that the main only runs past."""
    before = {step.station.key: step.before for step in route.steps}
    passed = set()
    for step in route.steps:
        key, after = step.station.key, route.after(step.station.key)
        if key.startswith("sleeve ") and len(after) == 1 and not step.through_wall and not after[0].through_wall:
            passed.add(key)
            before[after[0].station.key] = before[key]
    return tuple(
        replace(step, before=before[step.station.key]) for step in route.steps if step.station.key not in passed
    )


def _blocked(site: Site, ways: Ways, terminals: list[str]) -> Finding:
    units, main = site.units, site.main
    reached = reachable(ways.edges, RISER)
    lost = [outlet for outlet in site.outlets if outlet_key(outlet.tag) not in reached]
    at_edge = [obstacle for piece, obstacle in ways.closed.items() if len(piece & reached) == 1]
    blocking = {obstacle.name: obstacle for obstacle in at_edge or ways.closed.values()}
    if blocking:
        place, why = main.where("height_m"), ", ".join(_named(site, obstacle) for obstacle in blocking.values())
        fix = "change the height of the main, or move what blocks it or the outlet"
    elif main.path:
        place, why = lost[0].where("wall") if lost else main.place, "the walls of 'path' do not lead there"
        fix = "add the walls between to 'path'"
    else:
        place, why, fix = main.place, "no wall leads there", "let the rooms share a wall"
    names = ", ".join(outlet.tag for outlet in lost) if len(lost) < len(terminals) - 1 else "any outlet"
    message = f"at {units.length_with_unit(main.height_m)} the main cannot reach {names}: {why}"
    return Finding("ROUTE001", Severity.ERROR, place, message, "main", fix=fix)


def _named(site: Site, obstacle: Obstacle) -> str:
    low, high = site.units.length_with_unit(obstacle.bottom_m), obstacle.top_m
    if math.isinf(high):
        return f"{obstacle.name} (at {low} above floor)"
    return f"{obstacle.name} (from {low} to {site.units.length_with_unit(high)} above floor)"


def _course(route: Route) -> str:
    """Say how the main leaves the riser and where it divides."""
    if len(route.after(RISER)) > 1:
        return "runs both ways from the riser"
    parting = [step.station.key for step in route.steps if len(route.after(step.station.key)) > 1]
    where = dict.fromkeys("where it passes a wall" if key.startswith("sleeve ") else f"at {key}" for key in parting)
    return "runs one way from the riser" + (f" and divides {' and '.join(where)}" if where else "")


def _reasons(ways: Ways, route: Route) -> tuple[str, ...]:
    """Say in words why the main goes as it does."""
    said = [f"The main {_course(route)}, the shortest way along the walls to every outlet."]
    if ways.closed:
        names = ", ".join(sorted({obstacle.on_site for obstacle in ways.closed.values()}))
        said.append(f"Closed to it at its height: {names}.")
    sleeves = sum(step.through_wall for step in route.steps)
    if sleeves:
        passed = "a sleeve in the wall they share" if sleeves == 1 else f"{sleeves} sleeves in the walls they share"
        said.append(f"It passes from room to room through {passed}.")
    return tuple(said)
