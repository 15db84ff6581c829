"""What hangs on the main: each outlet's drop, from the top of the main down to its drip leg."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.geometry import Point3
from drafter.layout.assembly import Assembly
from drafter.layout.graph import NodeKind, RunKind
from drafter.layout.obstacles import DRAIN_ROOM_M, Obstacle, first_in_the_way, top_below
from drafter.site.model import Outlet, Site

VALVE_ABOVE_OUTLET_M = 0.35
DRIP_LEG_M, SHORTEST_LEG_M = 0.30, 0.15
OUTLET_OFF_DROP_M = 0.14
UNIT_LENGTH_M = 0.20
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
    """Lay a drop from a take-off on the main to an outlet, with its valve, coupling and drip leg."""
    wall, s, set_out_m = site.wall(outlet.room, outlet.wall), outlet.from_left_m, site.units.set_out_m
    main, plan = assembly.nodes[take_off].at, wall.at(outlet.from_left_m, site.main.drop_off_wall_m)
    height = outlet.height_m
    over_main = assembly.node(NodeKind.BEND, main.plan, main.z + rise_m, wall)
    over_drop = assembly.node(NodeKind.BEND, plan, main.z + rise_m, wall)
    valve = assembly.node(NodeKind.VALVE, plan, height + set_out_m(VALVE_ABOVE_OUTLET_M), wall)
    tee = assembly.node(NodeKind.TEE, plan, height, wall)
    chain = [(RunKind.SWAN_NECK, over_main), (RunKind.SWAN_NECK, over_drop), (RunKind.DROP, valve), (RunKind.DROP, tee)]
    reach = site.main.drop_off_wall_m
    for unit in outlet.service:
        reach += UNIT_LENGTH_M
        place = outlet.where("service")
        there = assembly.node(NodeKind.SERVICE, wall.at(s, reach), height, wall, what=unit, place=place)
        chain.append((RunKind.BRANCH, there))
    end, what = wall.at(s, reach + OUTLET_OFF_DROP_M), f"quick coupling {outlet.coupling}"
    coupling = assembly.node(NodeKind.COUPLING, end, height, wall, outlet.tag, what, outlet.place)
    chain.append((RunKind.BRANCH, coupling))
    last = take_off
    for kind, node in chain:
        assembly.run(kind, last, node, wall, outlet.tag)
        last = node
    under = top_below(obstacles, plan, height) + DRAIN_ROOM_M
    low = min(height - SHORTEST_LEG_M, max(LOWEST_DRAIN_M, height - set_out_m(DRIP_LEG_M), under))
    drain = assembly.node(NodeKind.DRAIN, plan, set_out_m(low), wall)
    assembly.run(RunKind.DRIP_LEG, tee, drain, wall, outlet.tag)


def drop_findings(
    site: Site, outlet: Outlet, level_m: float, rise_m: float, obstacles: tuple[Obstacle, ...]
) -> Iterator[Finding]:
    """Look whether a drop has room: under the ceiling, above the outlet, past windows and panels."""
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
    if level_m < outlet.height_m + VALVE_ABOVE_OUTLET_M + 0.3:
        least = units.length_with_unit(outlet.height_m + VALVE_ABOVE_OUTLET_M + 0.3)
        yield Finding(
            "LEVEL003",
            Severity.ERROR,
            outlet.where("height_m"),
            f"the main passes {outlet.tag} at {units.length_with_unit(level_m)}, too low for its drop and valve",
            outlet.tag,
            fix=f"it must be at least {least} there: raise the main or lower the outlet",
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
