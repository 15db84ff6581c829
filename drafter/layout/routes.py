"""Where the main goes: along the walls at its height, the cheapest way that reaches every outlet."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from drafter.finding import Finding, Place, Severity
from drafter.layout.blocked import blocked
from drafter.layout.ring import route_ring
from drafter.layout.route import Route, Step, common_reasons, grown, without_passed
from drafter.layout.sleeves import sleeve_findings, sleeve_places
from drafter.layout.steiner import PROVED, Tree, cheapest_tree
from drafter.layout.wall_line import stretches
from drafter.layout.ways import (
    FITTING_ROOM_M,
    MOST_ATTEMPTS,
    RISER,
    SLEEVE,
    WAYPOINT,
    Mark,
    Obstacles,
    Ways,
    marks_on_walls,
    outlet_key,
    terminals,
    ways_along_walls,
)
from drafter.site.model import Site
from drafter.site.wall import Wall


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
    if site.main.arrangement == "ring":
        return route_ring(site, ways, obstacles)
    return _route_tree(site, ways, obstacles)


def _route_tree(site: Site, ways: Ways, obstacles: Obstacles) -> tuple[Route | None, list[Finding]]:
    levels = dict.fromkeys(ways.stations, site.main.height_m)
    riser = ways.stations[RISER]
    first = Step(riser, "", riser.wall, False, 0.0, site.main.height_m)
    for _ in range(MOST_ATTEMPTS):
        ways.close(levels, obstacles)
        tree = cheapest_tree(ways.edges, terminals(site))
        if tree is None:
            break
        route = Route(grown(ways, tree.pieces, [first], site.main.fall))
        levels |= {step.station.key: step.level_m for step in route.steps}
        if not any(ways.in_the_way(piece, levels, obstacles) for piece in tree.pieces):
            return Route(without_passed(route), _reasons(site, ways, route, tree), closed=ways.closed_by), []
    return None, [blocked(site, ways, ways.edges)]


def _spacing_findings(site: Site, marks: dict[tuple[str, str], list[Mark]], off_wall_m: float) -> Iterator[Finding]:
    """Look whether each take-off has room for its fittings, beside corners and beside each other."""
    for room, walls in site.walls.items():
        for line in stretches(walls, off_wall_m):
            fixed = [
                mark for mark in marks.get((room, line.wall.name), []) if not mark[0].startswith((SLEEVE, WAYPOINT))
            ]
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
    where = dict.fromkeys("where it passes a wall" if key.startswith(SLEEVE) else f"at {key}" for key in parting)
    return "runs one way from the riser" + (f" and divides {' and '.join(where)}" if where else "")


def _reasons(site: Site, ways: Ways, route: Route, tree: Tree) -> tuple[str, ...]:
    """Say in words why the main goes as it does, and how sure it is that no way is cheaper."""
    costs, units = site.main.costs, site.units
    proof = "no way costs less" if tree.gap < PROVED else f"no way costs more than {100.0 * tree.gap:.1f} % less"
    counted = f"a bend counted as {units.long_length(costs.bend_m)} of pipe"
    if len(site.rooms) > 1:
        counted += f", a wall passed as {units.long_length(costs.wall_m)}"
    said = f"The main {_course(route)}, the shortest way along the walls to every outlet: {proof}, {counted}."
    by = [f"{point.wall} wall at {units.length_with_unit(point.from_left_m)}" for point in site.main.waypoints]
    return (said, *([f"It comes by the {', the '.join(by)}, as asked."] if by else []), *common_reasons(ways, route))
