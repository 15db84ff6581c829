"""Valves that shut off a part of the line: in each arm of a main that divides; and why there are such valves."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from drafter.layout.assembly import Assembly
from drafter.layout.connection import BEHIND_TRAIN
from drafter.layout.graph import NodeKind, Run, RunKind
from drafter.layout.obstacles import Obstacle
from drafter.layout.valve_places import VALVE_FROM_M, VALVE_ROOM_M, VALVE_TO_M, best_reached
from drafter.layout.wall_line import Station
from drafter.site.model import Site

ARM_VALVE = "valve of an arm"
"""What a schedule calls the valve in an arm of the main."""

WORTH_A_VALVE = 2
"""Outlets that an arm feeds before it gets a valve: one alone has that of its drop (common practice)."""

STEP_M = 0.05
MAIN = (RunKind.MAIN, RunKind.RISE, RunKind.SLEEVE)


def put_arm_valves(assembly: Assembly, site: Site, top: str, obstacles: Mapping[str, tuple[Obstacle, ...]]) -> None:
    """Put a valve into each arm of a dead end, where it first divides behind the riser.

    Args:
        top: node at the top of the riser.
        obstacles: of each room.
    """
    leaving: dict[str, list[Run]] = {}
    for run in assembly.runs:
        if run.kind in MAIN:
            leaving.setdefault(run.start, []).append(run)
    here = top
    while len(leaving.get(here, ())) == 1:
        here = leaving[here][0].end
    for arm in leaving.get(here, ()):
        if sum(assembly.nodes[id].kind is NodeKind.TAKE_OFF for id in _fed_by(arm, leaving)) >= WORTH_A_VALVE:
            _put(assembly, site, arm, leaving, obstacles)


def _fed_by(arm: Run, leaving: Mapping[str, list[Run]]) -> Iterator[str]:
    """The nodes of the main from the end of a run on."""
    waiting = [arm.end]
    while waiting:
        here = waiting.pop()
        yield here
        waiting += [run.end for run in leaving.get(here, ())]


def _put(
    assembly: Assembly,
    site: Site,
    arm: Run,
    leaving: Mapping[str, list[Run]],
    obstacles: Mapping[str, tuple[Obstacle, ...]],
) -> None:
    """Put a valve into the first level run of an arm that has room for it before anything leaves the arm."""
    run = arm
    while True:
        found = best_reached(site, _spots(assembly, site, run), obstacles)
        if found is not None:
            station, share = found
            start, end = (assembly.nodes[id].at for id in (run.start, run.end))
            at = start.towards(end, share * end.minus(start).length)
            valve = assembly.node(NodeKind.VALVE, at.plan, at.z, station.wall, what=ARM_VALVE)
            assembly.split(assembly.runs.index(run), valve)
            return
        ahead = leaving.get(run.end, ())
        if assembly.nodes[run.end].kind is not NodeKind.BEND or len(ahead) != 1:
            return
        run = ahead[0]


def _spots(assembly: Assembly, site: Site, run: Run) -> list[tuple[Station, float]]:
    """Where a valve has room in a level run along its wall, the nearest to its start first: each with its share."""
    wall = site.wall(run.room, run.wall)
    start, end = (wall.measure(assembly.nodes[id].at.plan) for id in (run.start, run.end))
    length_m = end[0] - start[0]
    if run.kind is not RunKind.MAIN or abs(length_m) < 2 * VALVE_ROOM_M or abs(end[1] - start[1]) > 1e-6:
        return []
    side, found = (1.0 if length_m > 0.0 else -1.0), []
    for n in range(round((VALVE_TO_M - VALVE_FROM_M) / STEP_M) + 1):
        here_m = site.units.set_out_m(start[0] + side * (VALVE_FROM_M + n * STEP_M))
        from_start_m = (here_m - start[0]) * side
        if VALVE_ROOM_M - 1e-6 <= from_start_m <= abs(length_m) - VALVE_ROOM_M + 1e-6:
            found.append((Station("", wall, here_m, wall.at(here_m, start[1])), from_start_m / abs(length_m)))
    return found


def isolation_reasons(assembly: Assembly, site: Site) -> Iterator[str]:
    """Say in words what the valves behind the treatment and in the arms are good for."""
    at = {what: [n.tag for n in assembly.nodes.values() if n.what == what] for what in (BEHIND_TRAIN, ARM_VALVE)}
    if site.treatment and at[BEHIND_TRAIN]:
        yield (
            f"{at[BEHIND_TRAIN][0]} stands behind the treatment: with it and V-01 shut and D-01 open a unit is opened "
            "while the line keeps its air; there is no way round the units, so the tools have what the line holds."
        )
    elif site.treatment:
        yield "Behind the treatment no valve finds room: the whole line is bled before a unit is opened."
    if at[ARM_VALVE]:
        tags = " and ".join(at[ARM_VALVE])
        yield (
            f"{tags} {'stand' if len(at[ARM_VALVE]) > 1 else 'stands'} where the main divides: such an arm is shut and "
            "bled at its drains while the other feeds on."
        )
