"""What hangs on the main: each outlet's drop from the top of the main, and a drip leg at each low end."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from drafter.finding import Finding, Severity
from drafter.geometry import Point3
from drafter.layout.assembly import Assembly
from drafter.layout.graph import NodeKind, RunKind
from drafter.layout.obstacles import Obstacle, first_in_the_way
from drafter.layout.routes import Route
from drafter.layout.wall_line import stretches
from drafter.site.model import Outlet, Site
from drafter.site.wall import Wall

VALVE_ABOVE_OUTLET_M = 0.35
DRIP_LEG_M = 0.30
OUTLET_OFF_DROP_M = 0.14
UNIT_LENGTH_M = 0.20
LOWEST_DRAIN_M = 0.15
"""Distances at an outlet: common practice; a drip leg of 150 to 300 mm, a valve within reach."""

END_FROM_M, END_TO_M, END_STEP_M = 0.30, 2.5, 0.05
"""How far past the last take-off the main may turn down to its drain."""


def hang_drop(assembly: Assembly, site: Site, outlet: Outlet, take_off: str, rise_m: float) -> None:
    """Lay a drop from a take-off on the main to an outlet, with its valve, coupling and drip leg."""
    wall, s, tag, off = (
        site.wall(outlet.room, outlet.wall),
        outlet.from_left_m,
        outlet.tag,
        site.main.drop_off_wall_m,
    )
    level = assembly.nodes[take_off].at
    over_main = assembly.node(NodeKind.BEND, level.plan, level.z + rise_m, wall)
    assembly.run(RunKind.SWAN_NECK, take_off, over_main, wall, tag)
    over_drop = assembly.node(NodeKind.BEND, wall.at(s, off), level.z + rise_m, wall)
    assembly.run(RunKind.SWAN_NECK, over_main, over_drop, wall, tag)
    valve = assembly.node(
        NodeKind.VALVE, wall.at(s, off), outlet.height_m + site.units.set_out_m(VALVE_ABOVE_OUTLET_M), wall
    )
    assembly.run(RunKind.DROP, over_drop, valve, wall, tag)
    tee = assembly.node(NodeKind.TEE, wall.at(s, off), outlet.height_m, wall)
    assembly.run(RunKind.DROP, valve, tee, wall, tag)
    last, reach = tee, off
    for unit in outlet.service:
        reach += UNIT_LENGTH_M
        here = assembly.node(
            NodeKind.SERVICE,
            wall.at(s, reach),
            outlet.height_m,
            wall,
            what=unit,
            place=outlet.where("service"),
        )
        assembly.run(RunKind.BRANCH, last, here, wall, tag)
        last = here
    at = wall.at(s, reach + OUTLET_OFF_DROP_M)
    coupling = assembly.node(
        NodeKind.COUPLING, at, outlet.height_m, wall, tag, f"quick coupling {outlet.coupling}", outlet.place
    )
    assembly.run(RunKind.BRANCH, last, coupling, wall, tag)
    low = max(LOWEST_DRAIN_M, outlet.height_m - site.units.set_out_m(DRIP_LEG_M))
    drain = assembly.node(NodeKind.DRAIN, wall.at(s, off), low, wall)
    assembly.run(RunKind.DRIP_LEG, tee, drain, wall, tag)


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


@dataclass(frozen=True, slots=True)
class LowEnd:
    """Where an end of the main turns down: its corners on the way, wall and place of the drip leg."""

    past_corner: bool
    wall: Wall
    from_left_m: float
    length_m: float


def find_low_end(
    site: Site, route: Route, key: str, off_wall_m: float, level_m: float, obstacles: tuple[Obstacle, ...]
) -> LowEnd | None:
    """Find the nearest place past the last take-off where the main can turn down to a drain."""
    step = next(step for step in route.steps if step.station.key == key)
    wall, start = step.station.wall, step.station.from_left_m
    before = next((other.station for other in route.steps if other.station.key == step.before), None)
    walls = site.walls[wall.room]
    lines = stretches(walls, off_wall_m)
    index = walls.index(wall)
    came = wall.measure(before.at)[0] if before and not step.through_wall else start - 1.0
    side = 1 if came <= start else -1
    limit = lines[index].high_m if side > 0 else lines[index].low_m
    around = lines[(index + side) % len(lines)]
    straight = abs(limit - start)
    for n in range(round((END_TO_M - END_FROM_M) / END_STEP_M) + 1):
        length = END_FROM_M + n * END_STEP_M
        if length <= straight + 1e-9:
            here = site.units.set_out_m(start + side * length)
            end = LowEnd(False, wall, here, abs(here - start))
        elif length - straight >= END_FROM_M and straight >= END_FROM_M:
            corner = around.low_m if side > 0 else around.high_m
            here = site.units.set_out_m(corner + side * (length - straight))
            end = LowEnd(True, around.wall, here, straight + abs(here - corner))
        else:
            continue
        if _free(site, end, off_wall_m, level_m, obstacles):
            return end
    return None


def _free(site: Site, end: LowEnd, off_wall_m: float, level_m: float, obstacles: tuple[Obstacle, ...]) -> bool:
    """Whether the wall is free from the low end of the main down to its drain."""
    plan = end.wall.at(end.from_left_m, off_wall_m)
    foot = Point3(*plan, site.main.drain_height_m)
    head = Point3(*plan, level_m - site.main.fall * end.length_m)
    return first_in_the_way(obstacles, foot, head) is None


def end_low(assembly: Assembly, site: Site, last: str, end: LowEnd, off_wall_m: float) -> None:
    """Run the main on to its low end and down to a drain."""
    level = assembly.nodes[last].at.z
    fall = site.main.fall
    start_wall = site.wall(assembly.nodes[last].room, assembly.nodes[last].wall)
    if end.past_corner:
        walls = site.walls[end.wall.room]
        lines = stretches(walls, off_wall_m)
        i, j = walls.index(start_wall), walls.index(end.wall)
        corner_at = lines[i].high_m if (i + 1) % len(walls) == j else lines[i].low_m
        plan = start_wall.at(corner_at, off_wall_m)
        so_far = plan.minus(assembly.nodes[last].at.plan).length
        corner = assembly.node(NodeKind.BEND, plan, level - fall * so_far, start_wall)
        assembly.run(RunKind.MAIN, last, corner, start_wall)
        last = corner
    plan = end.wall.at(end.from_left_m, off_wall_m)
    turn = assembly.node(NodeKind.BEND, plan, level - fall * end.length_m, end.wall)
    assembly.run(RunKind.MAIN, last, turn, end.wall)
    drain = assembly.node(NodeKind.DRAIN, plan, site.main.drain_height_m, end.wall)
    assembly.run(RunKind.DRIP_LEG, turn, drain, end.wall)
