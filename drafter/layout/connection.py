"""From the tank's connection to the foot of the riser, through the treatment train, up to the main."""

from __future__ import annotations

from dataclasses import dataclass

from drafter.finding import Finding, Severity
from drafter.geometry import Point3
from drafter.layout.assembly import Assembly
from drafter.layout.graph import NodeKind, RunKind
from drafter.layout.obstacles import Obstacle, first_in_the_way
from drafter.site.model import Site
from drafter.site.wall import Wall
from drafter.standards.components import find_component

VALVE_FROM_TANK_M = 0.1
RISER_FROM_CONNECTION_M = 0.45
HOSE_END_FROM_RISER_M = 0.2
TREATMENT_HEIGHT_M = 1.35
GAP_BETWEEN_UNITS_M = 0.22
FOOT_LENGTH_M = 0.35
LOWEST_DRAIN_M = 0.15
"""Distances at the compressor: common practice, room for hands and spanners, a bucket under the drain."""


@dataclass(frozen=True, slots=True)
class Riser:
    """Where the riser stands: before which wall, where it starts, and where it meets the main.

    Attributes:
        side: +1 where it stands to the right of the tank's connection, -1 to the left.
    """

    wall: Wall
    foot_m: float
    top_m: float
    side: int


def place_riser(site: Site, off_wall_m: float, obstacles: tuple[Obstacle, ...]) -> tuple[Riser | None, list[Finding]]:
    """Choose the side of the connection on which riser and treatment train have room on the wall."""
    compressor = site.compressor
    connection = compressor.connection
    assert connection is not None
    wall = site.wall(compressor.room, compressor.wall)
    middle = compressor.from_left_m + compressor.width_m / 2
    first = 1 if connection.from_left_m >= middle - 1e-6 else -1
    blocked = ""
    for side in (first, -first):
        foot = site.units.set_out_m(connection.from_left_m + side * RISER_FROM_CONNECTION_M)
        top = site.units.set_out_m(foot + side * _train_length_m(site))
        if not all(off_wall_m + 0.1 <= s <= wall.length_m - off_wall_m - 0.1 for s in (foot, top)):
            blocked = blocked or "the wall is too short"
            continue
        low, high = LOWEST_DRAIN_M, site.main.height_m
        train = min(TREATMENT_HEIGHT_M, high)
        lines = ((foot, low, foot, train), (foot, train, top, train), (top, train, top, high))
        in_the_way = next(
            (
                found
                for s, z, t, w in lines
                if (found := first_in_the_way(obstacles, _spot(wall, s, off_wall_m, z), _spot(wall, t, off_wall_m, w)))
            ),
            None,
        )
        if in_the_way is None:
            return Riser(wall, foot, top, side), []
        blocked = in_the_way.name
    finding = Finding(
        "ROUTE003",
        Severity.ERROR,
        compressor.where("from_left_m"),
        f"the riser and its treatment train find no room beside the compressor: {blocked}",
        "compressor",
        fix="move the compressor along the wall, or give its connection: {from left: ..., height: ...}",
    )
    return None, [finding]


def _spot(wall: Wall, from_left_m: float, off_wall_m: float, height_m: float) -> Point3:
    return Point3(*wall.at(from_left_m, off_wall_m), height_m)


def _train_length_m(site: Site) -> float:
    lengths = [_unit_length_m(unit.kind) for unit in site.treatment]
    return sum(lengths) + GAP_BETWEEN_UNITS_M * (len(lengths) + 1) if lengths else 0.0


def _unit_length_m(kind: str) -> float:
    component = find_component(kind)
    return component.length_m if component else 0.1


def connect(assembly: Assembly, site: Site, riser: Riser, off_wall_m: float) -> str:
    """Lay the line from the tank to the top of the riser; return the id of the node there."""
    compressor, wall = site.compressor, riser.wall
    connection = compressor.connection
    assert connection is not None
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
    last = _train(assembly, site, riser, off_wall_m, foot) if site.treatment else foot
    top = assembly.node(NodeKind.BEND, wall.at(riser.top_m, off_wall_m), site.main.height_m, wall)
    assembly.run(RunKind.RISER, last, top, wall)
    return top


def _train(assembly: Assembly, site: Site, riser: Riser, off_wall_m: float, foot: str) -> str:
    wall, side, s = riser.wall, riser.side, riser.foot_m
    height = site.units.set_out_m(TREATMENT_HEIGHT_M)
    last = assembly.node(NodeKind.BEND, wall.at(s, off_wall_m), height, wall)
    assembly.run(RunKind.RISER, foot, last, wall)
    for unit in site.treatment:
        length = _unit_length_m(unit.kind)
        s = site.units.set_out_m(s + side * (GAP_BETWEEN_UNITS_M + length / 2))
        tag = f"T-{1 + sum(node.kind is NodeKind.TREATMENT for node in assembly.nodes.values()):02d}"
        here = assembly.node(NodeKind.TREATMENT, wall.at(s, off_wall_m), height, wall, tag, unit.kind, unit.place)
        assembly.run(RunKind.TREATMENT, last, here, wall)
        last, s = here, s + side * length / 2
    end = assembly.node(NodeKind.BEND, wall.at(riser.top_m, off_wall_m), height, wall)
    assembly.run(RunKind.TREATMENT, last, end, wall)
    return end
