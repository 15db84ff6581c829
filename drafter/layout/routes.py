"""Where the main goes: along the walls at its height, the cheapest way that reaches every outlet."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from drafter.finding import Finding, Place, Severity
from drafter.geometry import Point3
from drafter.layout.blocked import blocked
from drafter.layout.connection import Riser
from drafter.layout.crossings import crossing_findings, crossing_places
from drafter.layout.obstacles import Obstacle
from drafter.layout.ring import route_ring
from drafter.layout.rises import level_reasons, levelled
from drafter.layout.route import Route, Step, common_reasons, grown, without_passed
from drafter.layout.sleeves import sleeve_findings, sleeve_places
from drafter.layout.steiner import Tree, cheapest_tree
from drafter.layout.steps_round import STEP
from drafter.layout.wall_line import stretches
from drafter.layout.ways import (
    FITTING_ROOM_M,
    LIKELY,
    MOST_ATTEMPTS,
    RISER,
    SLEEVE,
    Mark,
    Obstacles,
    Ways,
    in_the_way,
    legs_of,
    marks_on_walls,
    outlet_key,
    terminals,
    ways_along_walls,
)
from drafter.site.model import Site
from drafter.site.wall import CROSSING, Wall


def route_main(site: Site, riser: Riser, off_wall_m: float, obstacles: Obstacles) -> tuple[Route | None, list[Finding]]:
    """Find the way of the main.

    Args:
        site: a checked site.
        riser: that feeds it.
        off_wall_m: of the main's centre.
        obstacles: of each room.

    Returns:
        The route, or None with findings that name what blocks it.
    """
    crossings = crossing_places(site)
    sleeves = sleeve_places(site, (riser.wall, riser.top_m), crossings, off_wall_m)
    marks = marks_on_walls(site, (riser.wall, riser.top_m), sleeves, crossings)
    findings = [
        *sleeve_findings(site, off_wall_m),
        *_spacing_findings(site, marks, off_wall_m),
        *crossing_findings(site, crossings, marks, off_wall_m),
    ]
    if findings:
        return None, findings
    ways = ways_along_walls(site, marks, sleeves, crossings, off_wall_m, obstacles)
    if site.main.arrangement == "ring":
        return route_ring(site, ways, obstacles)
    return _route_tree(site, ways, obstacles, riser.least_main_m)


def _route_tree(site: Site, ways: Ways, obstacles: Obstacles, least_m: float) -> tuple[Route | None, list[Finding]]:
    levels = dict.fromkeys(ways.stations, site.main.height_m)
    riser = ways.stations[RISER]
    first = Step(riser, "", riser.wall, False, 0.0, site.main.height_m)
    for _ in range(MOST_ATTEMPTS):
        ways.close(levels, obstacles)
        tree = cheapest_tree(ways.edges, terminals(site))
        if tree is None:
            break
        whole = Route(grown(ways, tree.pieces, [first], site.main.fall))
        steps, finding = levelled(site, without_passed(whole), obstacles, least_m)
        if finding:
            return None, [finding]
        route = Route(tuple(steps), _reasons(site, ways, whole, steps, tree), closed=ways.closed_by)
        levels |= _levels(site, whole, route)
        blocking = list(_meeting(route, obstacles))
        if not blocking:
            return route, []
        for step, obstacle in blocking:
            _close(ways, whole, route, step, obstacle)
    return None, [blocked(site, ways, ways.edges)]


def _meeting(route: Route, obstacles: Obstacles) -> Iterator[tuple[Step, Obstacle]]:
    """Yield the steps on the way to which the main meets something, with what it meets."""
    for step in route.steps:
        if step.before and not step.through_wall:
            before = route.by_key[step.before]
            fall_m = before.out_m - step.level_m
            ends = (before.station, before.out_m), (step.station, step.level_m)
            for leg in legs_of(step.wall, *ends, step.over_m, fall_m):
                yield from ((step, obstacle) for obstacle in in_the_way(*leg, obstacles))


def _levels(site: Site, whole: Route, route: Route) -> dict[str, float]:
    """The level of the main at each station of its whole way, those it only passes too."""
    slope = site.main.fall if site.main.falls_to == "riser" else -site.main.fall
    ahead: dict[str, str] = {}
    for step in reversed(whole.steps):
        key = step.station.key
        ahead[key] = key if key in route.by_key else ahead[whole.after(key)[0].station.key]
    found = {}
    for step in whole.steps:
        start = route.by_key[ahead[step.station.key]]
        while start.along_m > step.along_m + 1e-9:
            start = route.by_key[start.before]
        level_m = start.level_m if start.station.key == step.station.key else start.out_m
        found[step.station.key] = level_m + slope * (step.along_m - start.along_m)
    return found


def _close(ways: Ways, whole: Route, route: Route, step: Step, obstacle: Obstacle) -> None:
    """Take out the pieces on the way to a step that something stands in, in plan; all of them under a ceiling."""
    endless = replace(obstacle, bottom_m=-math.inf, top_m=math.inf)
    key, before = step.station.key, step.before
    while key not in whole.by_key:
        key = route.after(key)[0].station.key
    while before not in whole.by_key:
        before = route.by_key[before].before
    while key != before:
        here = whole.by_key[key]
        piece = frozenset((key, here.before))
        ends = (Point3(*ways.stations[end].at, 0.0) for end in sorted(piece))
        if piece not in ways.closed and (not obstacle.outline or endless.meets(*ends)):
            ways.take_out(piece, obstacle, step.level_m)
        key = here.before


def _spacing_findings(site: Site, marks: dict[tuple[str, str], list[Mark]], off_wall_m: float) -> Iterator[Finding]:
    """Look whether each take-off has room for its fittings, beside corners and beside each other."""
    for room, walls in site.walls.items():
        for line in stretches(walls, off_wall_m):
            fixed = [mark for mark in marks.get((room, line.wall.name), []) if not mark[0].startswith(LIKELY)]
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
    low, high = site.units.length_with_unit(max(0.0, low_m)), site.units.length_with_unit(high_m)
    message = f"the main cannot reach {key}: it is too near a corner of the {wall.name} wall"
    fix = f"keep it between {low} and {high} from the left"
    return Finding("ROUTE002", Severity.ERROR, place, message, subject, fix=fix)


def _too_near_each_other(site: Site, key: str, other: str, apart_m: float) -> Finding:
    place, subject = _place_of(site, other if other != RISER else key)
    apart, least = site.units.length_with_unit(apart_m), site.units.length_with_unit(FITTING_ROOM_M)
    message = f"{key} and {other} are {apart} apart on the main: no room for two fittings"
    fix = f"move one of them to at least {least} apart"
    return Finding("ROUTE005", Severity.ERROR, place, message, subject, fix=fix)


def _course(route: Route) -> str:
    """Say how the main leaves the riser and where it divides."""
    if len(route.after(RISER)) > 1:
        return "runs both ways from the riser"
    parting = [step.station.key for step in route.steps if len(route.after(step.station.key)) > 1]
    where = dict.fromkeys(map(_spot, parting))
    return "runs one way from the riser" + (f" and divides {' and '.join(where)}" if where else "")


def _spot(key: str) -> str:
    """Where a station is, in words."""
    if key.startswith(SLEEVE):
        return "where it passes a wall"
    if key.startswith(STEP):
        return "beside what it steps round"
    return f"at {' '.join(key.split()[:2])}" if key.startswith(CROSSING) else f"at {key}"


def _reasons(site: Site, ways: Ways, route: Route, steps: Sequence[Step], tree: Tree) -> tuple[str, ...]:
    """Say in words why the main goes as it does, and how sure it is that no way is cheaper."""
    costs, units = site.main.costs, site.units
    counted = f"a bend counted as {units.long_length(costs.bend_m)} of pipe"
    if len(site.rooms) > 1:
        counted += f", a wall passed as {units.long_length(costs.wall_m)}"
    if any(site.crossings.values()):
        counted += f", a metre across below the ceiling as {costs.ceiling:g}"
    said = f"The main {_course(route)}, the shortest way along the walls to every outlet: {tree.proof}, {counted}."
    by = [f"{point.wall} wall at {units.length_with_unit(point.from_left_m)}" for point in site.main.waypoints]
    asked = [f"It comes by the {', the '.join(by)}, as asked."] if by else []
    return (said, *asked, *common_reasons(ways, route), *level_reasons(site, steps))
