"""From the tank's connection to the foot of the riser, through the treatment train, up to the main."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from drafter.finding import Finding, Severity
from drafter.geometry import Point3
from drafter.layout.assembly import Assembly
from drafter.layout.graph import NodeKind, RunKind
from drafter.layout.low_ends import hang_drip_leg
from drafter.layout.obstacles import Obstacle, first_in_the_way
from drafter.site.model import Connection, Site
from drafter.site.wall import Wall
from drafter.standards.components import component

VALVE_FROM_TANK_M = 0.1
RISER_FROM_CONNECTION_M = 0.45
RISER_FROM_SET_M = 0.15
HOSE_END_FROM_RISER_M = 0.25
TREATMENT_HEIGHT_M = 1.35
TREATMENT_ABOVE_CONNECTION_M = 0.3
MAIN_ABOVE_RISER_M = 0.2
GAP_BETWEEN_UNITS_M = 0.22
VALVE_ABOVE_TRAIN_M, VALVE_ROOM_M = 0.35, 0.3
FOOT_LENGTH_M = 0.35
LOWEST_DRAIN_M = 0.15
"""Distances at the compressor: common practice, room for hands and spanners, a bracket by the hose, a bucket
under the drain."""

BEHIND_TRAIN = "valve behind the treatment"
"""What a schedule calls the valve in the riser, above the train (common practice)."""


@dataclass(frozen=True, slots=True)
class Riser:
    """Where the riser stands: before which wall, where it starts, and where it meets the main.

    Attributes:
        side: +1 where it stands to the right of the tank's connection, -1 to the left.
        train_height_m: of the treatment train, or where there is none, of the connection.
    """

    wall: Wall
    foot_m: float
    top_m: float
    side: int
    train_height_m: float

    @property
    def least_main_m(self) -> float:
        """The lowest that the main may be where it meets it."""
        return self.train_height_m + MAIN_ABOVE_RISER_M

    def obstacles(self, site: Site, off_wall_m: float) -> tuple[Obstacle, ...]:
        """What other pipes must not run through: the foot and the treatment train."""
        left, right = sorted((self.foot_m - self.side * HOSE_END_FROM_RISER_M, self.top_m))
        room = GAP_BETWEEN_UNITS_M / 2
        box = self.wall.footprint(left - room, 0.0, right - left + 2 * room, off_wall_m + room)
        name = "riser and treatment train" if site.treatment else "riser"
        return (Obstacle(name, box, LOWEST_DRAIN_M, self.train_height_m + room, site.compressor.place),)


def place_riser(site: Site, off_wall_m: float, obstacles: tuple[Obstacle, ...]) -> tuple[Riser | None, list[Finding]]:
    """Choose the side of the connection on which riser and treatment train have room on the wall."""
    compressor, main = site.compressor, site.main
    wall = site.wall(compressor.room, compressor.wall)
    train_m = _train_height_m(site)
    if finding := too_low_above_riser(site, main.height_m, train_m + MAIN_ABOVE_RISER_M):
        return None, [finding]
    connection_m, blocked = _connection(site).from_left_m, ""
    right_first = connection_m >= compressor.from_left_m + compressor.width_m / 2 - 1e-6
    for side in (1, -1) if right_first else (-1, 1):
        foot = site.units.set_out_m(_foot_m(site, side))
        riser = Riser(wall, foot, site.units.set_out_m(foot + side * _train_length_m(site)), side, train_m)
        spots = (riser.foot_m, riser.top_m)
        if all(off_wall_m + 0.1 <= s <= wall.length_m - off_wall_m - 0.1 for s in spots):
            in_the_way = _in_the_way(riser, main.height_m, off_wall_m, obstacles)
            if in_the_way is None:
                return riser, []
            blocked = in_the_way.name
    message = "the riser and its treatment train find no room beside the compressor: "
    message += blocked or "the wall is too short"
    fix = "move the compressor along the wall, or say where its connection is"
    write = "compressor: {connection: {from left: ..., height: ...}}"
    place = compressor.where("from_left_m")
    return None, [Finding("ROUTE003", Severity.ERROR, place, message, "compressor", fix=fix, write=write)]


def too_low_above_riser(site: Site, level_m: float, least_m: float) -> Finding | None:
    """Return LEVEL004 where the main meets its riser lower than it may."""
    if level_m >= least_m - 1e-6:
        return None
    units = site.units
    message = f"the main at {units.length_with_unit(level_m)} is too low above the compressor's riser"
    raised = units.length_with_unit(units.set_out_m(site.main.height_m + least_m - level_m + 0.004))
    fix = f"raise it to at least {raised}, or the connection lower"
    return Finding("LEVEL004", Severity.ERROR, site.main.where("height_m"), message, "main", fix=fix)


def _connection(site: Site) -> Connection:
    connection = site.compressor.connection
    assert connection is not None
    return connection


def _foot_m(site: Site, side: int) -> float:
    """Where the riser stands: off the connection, and clear of the end of the compressor set."""
    compressor, connection = site.compressor, _connection(site)
    end = compressor.from_left_m + (compressor.width_m if side > 0 else 0.0)
    spots = (connection.from_left_m + side * RISER_FROM_CONNECTION_M, end + side * RISER_FROM_SET_M)
    return max(spots) if side > 0 else min(spots)


def _in_the_way(riser: Riser, main_m: float, off_wall_m: float, obstacles: tuple[Obstacle, ...]) -> Obstacle | None:
    """The first obstacle that the foot, the train or the rest of the riser would meet."""
    foot, top, train_m = riser.foot_m, riser.top_m, riser.train_height_m
    corners = ((foot, LOWEST_DRAIN_M), (foot, train_m), (top, train_m), (top, LOWEST_DRAIN_M), (top, main_m))
    spots = [Point3(*riser.wall.at(s, off_wall_m), height) for s, height in corners]
    return next((found for ends in pairwise(spots) if (found := first_in_the_way(obstacles, *ends))), None)


def _train_length_m(site: Site) -> float:
    lengths = [component(unit.kind).length_m for unit in site.treatment]
    return sum(lengths) + GAP_BETWEEN_UNITS_M * (len(lengths) + 1) if lengths else 0.0


def _train_height_m(site: Site) -> float:
    height = _connection(site).height_m
    if not site.treatment:
        return height
    return site.units.set_out_m(max(TREATMENT_HEIGHT_M, height + TREATMENT_ABOVE_CONNECTION_M))


def connect(assembly: Assembly, site: Site, riser: Riser, off_wall_m: float, top_m: float) -> str:
    """Lay the line from the tank to the top of the riser, where the main begins; return the id of the node there."""
    compressor, wall, connection = site.compressor, riser.wall, _connection(site)
    height = connection.height_m
    off_tank = compressor.off_wall_m + compressor.depth_m / 2
    tank = assembly.node(
        NodeKind.TANK, wall.at(connection.from_left_m, off_tank), height, wall, "C-01", place=compressor.place
    )
    beside = connection.from_left_m + riser.side * VALVE_FROM_TANK_M
    valve = assembly.node(NodeKind.VALVE, wall.at(beside, off_tank), height, wall)
    assembly.run(RunKind.CONNECTION, tank, valve, wall)
    hose_at = riser.foot_m - riser.side * HOSE_END_FROM_RISER_M
    hose = assembly.node(NodeKind.HOSE_END, wall.at(hose_at, off_wall_m), height, wall)
    assembly.run(RunKind.FLEXIBLE, valve, hose, wall)
    foot = assembly.node(NodeKind.TEE, wall.at(riser.foot_m, off_wall_m), height, wall)
    assembly.run(RunKind.RISER, hose, foot, wall)
    drain_height = site.units.set_out_m(max(LOWEST_DRAIN_M, height - FOOT_LENGTH_M))
    drain = assembly.node(NodeKind.DRAIN, wall.at(riser.foot_m, off_wall_m), drain_height, wall)
    assembly.run(RunKind.DRIP_LEG, foot, drain, wall)
    foot = last = _train(assembly, site, riser, off_wall_m, foot) if site.treatment else foot
    top = assembly.node(NodeKind.BEND, wall.at(riser.top_m, off_wall_m), top_m, wall)
    if site.treatment and top_m >= riser.train_height_m + VALVE_ABOVE_TRAIN_M + VALVE_ROOM_M:
        last = _valve_behind_train(assembly, site, riser, off_wall_m, last)
    assembly.run(RunKind.RISER, last, top, wall)
    if site.treatment and site.main.falls_to == "riser":
        hang_drip_leg(assembly, site, foot, wall)
    return top


def _valve_behind_train(assembly: Assembly, site: Site, riser: Riser, off_wall_m: float, last: str) -> str:
    """Put a valve into the riser: with it and V-01 shut a unit is serviced while the line stays full."""
    height = site.units.set_out_m(riser.train_height_m + VALVE_ABOVE_TRAIN_M)
    plan = riser.wall.at(riser.top_m, off_wall_m)
    valve = assembly.node(NodeKind.VALVE, plan, height, riser.wall, what=BEHIND_TRAIN)
    assembly.run(RunKind.RISER, last, valve, riser.wall)
    return valve


def _train(assembly: Assembly, site: Site, riser: Riser, off_wall_m: float, foot: str) -> str:
    wall, side, s = riser.wall, riser.side, riser.foot_m
    height = riser.train_height_m
    last = assembly.node(NodeKind.BEND, wall.at(s, off_wall_m), height, wall)
    assembly.run(RunKind.RISER, foot, last, wall)
    for unit in site.treatment:
        length = component(unit.kind).length_m
        s = site.units.set_out_m(s + side * (GAP_BETWEEN_UNITS_M + length / 2))
        tag = f"T-{1 + sum(node.kind is NodeKind.TREATMENT for node in assembly.nodes.values()):02d}"
        here = assembly.node(NodeKind.TREATMENT, wall.at(s, off_wall_m), height, wall, tag, unit.kind, unit.place)
        assembly.run(RunKind.TREATMENT, last, here, wall)
        last, s = here, s + side * length / 2
    kind = NodeKind.TEE if site.main.falls_to == "riser" else NodeKind.BEND
    end = assembly.node(kind, wall.at(riser.top_m, off_wall_m), height, wall)
    assembly.run(RunKind.TREATMENT, last, end, wall)
    return end
