"""What hangs on the main: each outlet's drop, from the top of the main down to its drip leg."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from drafter.finding import Finding, Severity
from drafter.geometry import Point, Point3
from drafter.layout.assembly import Assembly
from drafter.layout.graph import NodeKind, RunKind
from drafter.layout.obstacles import DRAIN_ROOM_M, Obstacle, first_in_the_way, top_below
from drafter.site.model import Outlet, Site
from drafter.site.wall import Wall

VALVE_ABOVE_OUTLET_M, VALVE_BELOW_MAIN_M, VALVE_ABOVE_MAIN_M = 0.35, 0.3, 0.2
DRIP_LEG_M, SHORTEST_LEG_M = 0.30, 0.15
OUTLET_OFF_DROP_M = 0.14
UNIT_LENGTH_M = 0.20
HAND_ROOM_M, PIPE_ROOM_M, BOWL_ROOM_M = 0.15, 0.12, 0.25
LOWEST_DRAIN_M = 0.15
"""Distances at an outlet: common practice; a drip leg of 150 to 300 mm, a valve within reach."""


def hang_drop(
    assembly: Assembly,
    site: Site,
    outlet: Outlet,
    take_off: str,
    rise_m: float,
    obstacles: tuple[Obstacle, ...],
) -> None:
    """Lay a drop from a take-off on the main to an outlet, with its valve, coupling and drip leg.

    To an outlet above the main a branch rises from it, with its valve; its water runs back into the main.
    """
    if stands_above(outlet, assembly.nodes[take_off].at.z):
        _hang_rising(assembly, site, outlet, take_off, obstacles)
        return
    wall, set_out_m = site.wall(outlet.room, outlet.wall), site.units.set_out_m
    main, plan = assembly.nodes[take_off].at, wall.at(outlet.from_left_m, site.main.drop_off_wall_m)
    height = outlet.height_m
    over_main = assembly.node(NodeKind.BEND, main.plan, main.z + rise_m, wall)
    over_drop = assembly.node(NodeKind.BEND, plan, main.z + rise_m, wall)
    valve = assembly.node(NodeKind.VALVE, plan, height + set_out_m(VALVE_ABOVE_OUTLET_M), wall)
    tee = assembly.node(NodeKind.TEE, plan, height, wall)
    chain = [(RunKind.SWAN_NECK, over_main), (RunKind.SWAN_NECK, over_drop), (RunKind.DROP, valve), (RunKind.DROP, tee)]
    chain += _branch(assembly, site, outlet, plan, obstacles)
    _join(assembly, wall, outlet, take_off, chain)
    under = top_below(obstacles, plan, height) + DRAIN_ROOM_M
    low = min(height - SHORTEST_LEG_M, max(LOWEST_DRAIN_M, height - set_out_m(DRIP_LEG_M), under))
    drain = assembly.node(NodeKind.DRAIN, plan, set_out_m(low), wall)
    assembly.run(RunKind.DRIP_LEG, tee, drain, wall, outlet.tag)


def stands_above(outlet: Outlet, level_m: float) -> bool:
    """Whether an outlet is so high above the main that a branch rises to it."""
    return outlet.height_m >= level_m + VALVE_ABOVE_OUTLET_M + VALVE_ABOVE_MAIN_M - 1e-6


def _hang_rising(
    assembly: Assembly, site: Site, outlet: Outlet, take_off: str, obstacles: tuple[Obstacle, ...]
) -> None:
    wall, plan, height = site.wall(outlet.room, outlet.wall), assembly.nodes[take_off].at.plan, outlet.height_m
    valve_m = height - site.units.set_out_m(VALVE_ABOVE_OUTLET_M)
    valve = assembly.node(NodeKind.VALVE, plan, valve_m, wall)
    bend = assembly.node(NodeKind.BEND, plan, height, wall)
    branch = _branch(assembly, site, outlet, plan, obstacles)
    _join(assembly, wall, outlet, take_off, [(RunKind.RISING, valve), (RunKind.RISING, bend), *branch])


def _branch(
    assembly: Assembly, site: Site, outlet: Outlet, foot: Point, obstacles: tuple[Obstacle, ...]
) -> list[tuple[RunKind, str]]:
    """From a drop the units and the coupling: along the wall where units have room there, else into the room."""
    wall = site.wall(outlet.room, outlet.wall)
    unit_m, off_m = (site.units.set_out_m(length_m) for length_m in (UNIT_LENGTH_M, OUTLET_OFF_DROP_M))
    reach_m = unit_m * len(outlet.service) + off_m
    ways = [wall.along, Point(-wall.along.x, -wall.along.y)] if outlet.service else []
    free = (way for way in ways if _has_room(assembly, site, outlet, foot.plus(way, reach_m + HAND_ROOM_M), obstacles))
    way = next(free, wall.inward)
    found = list[tuple[RunKind, str]]()
    for number, unit in enumerate(outlet.service, 1):
        at = foot.plus(way, number * unit_m)
        there = assembly.node(NodeKind.SERVICE, at, outlet.height_m, wall, what=unit.kind, place=unit.place)
        found.append((RunKind.BRANCH, there))
    end, what = foot.plus(way, reach_m), f"quick coupling {outlet.coupling}"
    coupling = assembly.node(NodeKind.COUPLING, end, outlet.height_m, wall, outlet.tag, what, outlet.place)
    return [*found, (RunKind.BRANCH, coupling)]


def _has_room(assembly: Assembly, site: Site, outlet: Outlet, end: Point, obstacles: tuple[Obstacle, ...]) -> bool:
    """Whether units find free wall from an outlet's drop to a point beside it: no corner, thing or pipe there."""
    wall, height_m = site.wall(outlet.room, outlet.wall), outlet.height_m
    end_m, off_m = wall.measure(end)
    low_m, high_m = sorted((outlet.from_left_m, end_m))
    if low_m < 0.0 or high_m > wall.length_m:
        return False
    start = wall.at(outlet.from_left_m, off_m)
    if first_in_the_way(obstacles, Point3(*start, height_m), Point3(*end, height_m)) is not None:
        return False
    here = (outlet.room, outlet.wall)
    others = [each for each in site.outlets if (each.room, each.wall) == here and each.tag != outlet.tag]
    if any(low_m - PIPE_ROOM_M < each.from_left_m < high_m + PIPE_ROOM_M for each in others):
        return False
    for run in assembly.runs:
        if (run.room, run.wall) == here:
            ends = [assembly.nodes[id].at for id in (run.start, run.end)]
            places_m = [wall.measure(at.plan)[0] for at in ends]
            beside = min(places_m) < high_m + PIPE_ROOM_M and max(places_m) > low_m - PIPE_ROOM_M
            bottom_m, top_m = sorted(at.z for at in ends)
            if beside and bottom_m < height_m + BOWL_ROOM_M and top_m > height_m - BOWL_ROOM_M:
                return False
    return True


def _join(assembly: Assembly, wall: Wall, outlet: Outlet, last: str, chain: list[tuple[RunKind, str]]) -> None:
    for kind, node in chain:
        assembly.run(kind, last, node, wall, outlet.tag)
        last = node


def _rising_findings(
    site: Site, outlet: Outlet, level_m: float, off_wall_m: float, obstacles: tuple[Obstacle, ...]
) -> Iterator[Finding]:
    """Look whether a rising branch has room up to its outlet, its valve clear of a deck."""
    plan = site.wall(outlet.room, outlet.wall).at(outlet.from_left_m, off_wall_m)
    valve_m = outlet.height_m - VALVE_ABOVE_OUTLET_M
    spots = [Point3(*plan, level_m), Point3(*plan, valve_m), Point3(*plan, outlet.height_m)]
    blocking = next((found for ends in pairwise(spots) if (found := first_in_the_way(obstacles, *ends))), None)
    if blocking is not None:
        fix = "move the outlet sideways past it, or higher above it"
        message = f"the branch that rises to {outlet.tag} would meet the {blocking.name}"
        yield Finding("ROUTE004", Severity.ERROR, outlet.where("from_left_m"), message, outlet.tag, fix=fix)


def drop_findings(
    site: Site, outlet: Outlet, main: Point3, rise_m: float, obstacles: tuple[Obstacle, ...]
) -> Iterator[Finding]:
    """Look whether a drop has room: under the ceiling, above the outlet, past windows and panels.

    Args:
        main: where it leaves the main.
    """
    level_m = main.z
    if stands_above(outlet, level_m):
        off_wall_m = site.wall(outlet.room, outlet.wall).measure(main.plan)[1]
        yield from _rising_findings(site, outlet, level_m, off_wall_m, obstacles)
        return
    units, wall = site.units, site.wall(outlet.room, outlet.wall)
    top = level_m + rise_m
    if top > wall.ceiling_m - 0.05:
        most = units.length_with_unit(site.main.height_m - (top - wall.ceiling_m + 0.05))
        yield Finding(
            "LEVEL002",
            Severity.ERROR,
            site.main.where("height_m"),
            f"the swan neck of {outlet.tag} rises to {units.length_with_unit(top)}, into the ceiling",
            outlet.tag,
            fix=f"the main can be at most {most} above floor",
        )
    if level_m < outlet.height_m + VALVE_ABOVE_OUTLET_M + VALVE_BELOW_MAIN_M:
        most_m = level_m - VALVE_ABOVE_OUTLET_M - VALVE_BELOW_MAIN_M
        fixes = [f"lower the outlet to {units.length_with_unit(most_m)} or less"]
        least_m = outlet.height_m + VALVE_ABOVE_OUTLET_M + VALVE_BELOW_MAIN_M
        if least_m + rise_m <= wall.ceiling_m - 0.05:
            fixes.insert(0, f"raise the main, to at least {units.length_with_unit(least_m)} there")
        above_m = level_m + VALVE_ABOVE_OUTLET_M + VALVE_ABOVE_MAIN_M
        if above_m <= wall.ceiling_m - 0.05:
            fixes.append(f"an outlet at {units.length_with_unit(above_m)} or more is fed from below")
        yield Finding(
            "LEVEL003",
            Severity.ERROR,
            outlet.where("height_m"),
            f"the main passes {outlet.tag} at {units.length_with_unit(level_m)}, too low for its drop and valve",
            outlet.tag,
            fix="; or ".join(fixes),
        )
    plan = wall.at(outlet.from_left_m, site.main.drop_off_wall_m)
    tall = tuple(obstacle for obstacle in obstacles if not obstacle.low)
    blocking = first_in_the_way(tall, Point3(*plan, outlet.height_m - DRIP_LEG_M), Point3(*plan, top))
    if blocking is not None:
        yield Finding(
            "ROUTE004",
            Severity.ERROR,
            outlet.where("from_left_m"),
            f"the drop to {outlet.tag} would cross the {blocking.name}",
            outlet.tag,
            fix="move the outlet sideways past it",
        )
