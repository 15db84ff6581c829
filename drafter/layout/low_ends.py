"""Where the main ends: past its last take-off it runs on and turns down to a drain, or it falls back to one before."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from drafter.geometry import Point, Point3
from drafter.layout.assembly import Assembly
from drafter.layout.graph import NodeKind, RunKind
from drafter.layout.obstacles import Obstacle, first_in_the_way
from drafter.layout.route import Route, Step
from drafter.layout.wall_line import stretches
from drafter.layout.ways import FITTING_ROOM_M
from drafter.site.model import Site
from drafter.site.wall import Wall

END_FROM_M, END_TO_M, END_STEP_M = 0.30, 2.5, 0.05
"""How far past the last take-off the main may turn down to its drain."""


@dataclass(frozen=True, slots=True)
class LowEnd:
    """The last pieces of the main: one along the wall of its last take-off, or two round a corner.

    Attributes:
        legs: where each piece ends in plan, and the wall it runs along.
        length_m: of both together, in plan.
    """

    legs: tuple[tuple[Point, Wall], ...]
    length_m: float


def find_low_end(
    site: Site,
    route: Route,
    step: Step,
    off_wall_m: float,
    obstacles: tuple[Obstacle, ...],
    taken: Iterable[Point],
) -> LowEnd | None:
    """Find the nearest place past the last take-off where the main can turn down to a drain.

    Args:
        step: the last take-off.
        obstacles: of its room.
        taken: where other fittings of the main sit, in plan.
    """
    others = [point for point in taken if point != step.station.at]
    for end in _likely(site, route, step, off_wall_m):
        if _free(site, end, step.station.at, step.level_m, obstacles, others):
            return end
    return None


def find_low_point_before(
    site: Site, start: Point3, end: Point3, wall: Wall, obstacles: tuple[Obstacle, ...]
) -> Point3 | None:
    """Find a place short of the last take-off where the main can drain, if what is past it falls back there.

    Args:
        start, end: of the last piece of main, which ends at the take-off.
        wall: it runs along.
    """
    along, length_m = wall.measure(start.plan)[0], end.plan.minus(start.plan).length
    side = 1 if wall.measure(end.plan)[0] > along else -1
    for n in range(round((END_TO_M - END_FROM_M) / END_STEP_M) + 1):
        here = site.units.set_out_m(along + side * (length_m - END_FROM_M - n * END_STEP_M))
        before_m = (here - along) * side
        if before_m < END_FROM_M:
            return None
        plan = wall.at(here, wall.measure(end.plan)[1])
        low = Point3(*plan, start.z - site.main.fall * before_m)
        if first_in_the_way(obstacles, Point3(*plan, site.main.drain_height_m), low) is None:
            return low
    return None


def _likely(site: Site, route: Route, step: Step, off_wall_m: float) -> Iterator[LowEnd]:
    wall, start, set_out_m = step.station.wall, step.station.from_left_m, site.units.set_out_m
    walls = site.walls[wall.room]
    lines, index = stretches(walls, off_wall_m), walls.index(wall)
    side = 1 if wall.measure(route.by_key[step.before].station.at)[0] < start else -1
    limit = lines[index].high_m if side > 0 else lines[index].low_m
    around = lines[(index + side) % len(lines)]
    corner = around.low_m if side > 0 else around.high_m
    straight = abs(limit - start)
    for n in range(round((END_TO_M - END_FROM_M) / END_STEP_M) + 1):
        length = END_FROM_M + n * END_STEP_M
        if length <= straight + 1e-9:
            here = set_out_m(start + side * length)
            yield LowEnd(((wall.at(here, off_wall_m), wall),), abs(here - start))
        elif length - straight >= END_FROM_M:
            here = set_out_m(corner + side * (length - straight))
            if around.low_m <= here <= around.high_m:
                legs = ((wall.at(limit, off_wall_m), wall), (around.wall.at(here, off_wall_m), around.wall))
                yield LowEnd(legs, straight + abs(here - corner))


def _free(
    site: Site, end: LowEnd, start: Point, level_m: float, obstacles: tuple[Obstacle, ...], others: list[Point]
) -> bool:
    """Whether the last pieces come no lower than they may, and find room, as does the drip leg."""
    at, length_m = Point3(*start, level_m), 0.0
    for plan, _ in end.legs:
        length_m += plan.minus(at.plan).length
        there = Point3(*plan, level_m - site.main.fall * length_m)
        if there.z < site.main.lowest_m - 1e-9:
            return False
        if first_in_the_way(obstacles, at, there) or any(_near(point, at.plan, plan) for point in others):
            return False
        at = there
    return first_in_the_way(obstacles, Point3(*at.plan, site.main.drain_height_m), at) is None


def _near(point: Point, start: Point, end: Point) -> bool:
    """Whether a point is too near a piece of main for two fittings."""
    from shapely import LineString
    from shapely import Point as Spot

    return bool(LineString([start, end]).distance(Spot(point)) < FITTING_ROOM_M - 1e-6)


def end_low(assembly: Assembly, site: Site, last: str, end: LowEnd) -> None:
    """Run the main on to its low end and down to a drain."""
    for plan, wall in end.legs:
        before = assembly.nodes[last].at
        level_m = before.z - site.main.fall * plan.minus(before.plan).length
        bend = assembly.node(NodeKind.BEND, plan, level_m, wall)
        assembly.run(RunKind.MAIN, last, bend, wall)
        last = bend
    hang_drip_leg(assembly, site, last, end.legs[-1][1])


def hang_drip_leg(assembly: Assembly, site: Site, top: str, wall: Wall) -> None:
    """Lay the drip leg from a low place of the main down to its drain."""
    drain = assembly.node(NodeKind.DRAIN, assembly.nodes[top].at.plan, site.main.drain_height_m, wall)
    assembly.run(RunKind.DRIP_LEG, top, drain, wall)
