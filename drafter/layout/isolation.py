"""Valves that shut off a part of the line: in the arms of a main that divides, where it enters rooms; and why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from drafter.finding import Finding, Severity
from drafter.layout.assembly import Assembly
from drafter.layout.connection import BEHIND_TRAIN
from drafter.layout.graph import NodeKind, Run, RunKind
from drafter.layout.numbered_graph import reachable
from drafter.layout.obstacles import Obstacle
from drafter.layout.valve_places import VALVE_FROM_M, VALVE_ROOM_M, VALVE_TO_M, best_reached
from drafter.layout.wall_line import Station
from drafter.site.model import Site

ARM_VALVE = "valve of an arm"
"""What a schedule calls the valve in an arm of the main."""

SECTION_VALVE = "valve of a section"
"""The same of one farther on, and of one that the site file asks for."""

WORTH_A_VALVE = 2
"""Outlets that an arm feeds before it gets a valve: one alone has that of its drop (common practice)."""

STEP_M = 0.05
MAIN = (RunKind.MAIN, RunKind.RISE, RunKind.SLEEVE)


def put_arm_valves(
    assembly: Assembly, site: Site, top: str, obstacles: Mapping[str, tuple[Obstacle, ...]]
) -> list[Finding]:
    """Put a valve into each arm of a dead end, where it first divides behind the riser; or into every section.

    Args:
        top: node at the top of the riser.
        obstacles: of each room.

    Returns:
        VALVE004 for each section that was asked for and has no room for one.
    """
    leaving: dict[str, list[Run]] = {}
    for run in assembly.runs:
        if run.kind in MAIN:
            leaving.setdefault(run.start, []).append(run)
    parts = list(_parts(assembly, site, top, leaving))
    without = [first for first, what in parts if not _put(assembly, site, first, what, leaving, obstacles)]
    return [_no_room(assembly, site, first) for first in without] if site.main.shut_off == "sections" else []


def _no_room(assembly: Assembly, site: Site, first: Run) -> Finding:
    node = assembly.nodes[first.end]
    wall, need = site.wall_words(node.room, node.wall), site.units.length_with_unit(VALVE_FROM_M + VALVE_ROOM_M)
    message = f"the section that begins on {wall} has no room for its valve before anything leaves it"
    fix = f"free {need} of the level main there, or say where by valves: [{{wall: ..., from left: ...}}]"
    return Finding("VALVE004", Severity.WARNING, site.main.where("shut_off"), message, "main", fix=fix)


def _parts(assembly: Assembly, site: Site, top: str, leaving: Mapping[str, list[Run]]) -> Iterator[tuple[Run, str]]:
    """Yield the first run of each part that gets a valve, and what that is called.

    Of a room that the main enters the part begins at its wall, unless nothing leaves the main since the last valve.
    """
    every = site.main.shut_off == "sections"
    waiting, what = [(top, False)], ARM_VALVE
    while waiting:
        here, feeds = waiting.pop(0)
        while len(ahead := leaving.get(here, [])) == 1:
            feeds = feeds or assembly.nodes[here].kind is NodeKind.TAKE_OFF
            if every and feeds and ahead[0].kind is RunKind.SLEEVE:
                yield ahead[0], SECTION_VALVE
                feeds = False
            here = ahead[0].end
        for arm in ahead:
            worth = sum(assembly.nodes[id].kind is NodeKind.TAKE_OFF for id in _fed_by(arm, leaving)) >= WORTH_A_VALVE
            worth = worth or (every and arm.kind is RunKind.SLEEVE)
            if worth:
                yield arm, what
            if every:
                waiting.append((arm.end, not worth))
        what = SECTION_VALVE


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
    first: Run,
    what: str,
    leaving: Mapping[str, list[Run]],
    obstacles: Mapping[str, tuple[Obstacle, ...]],
) -> bool:
    """Put a valve into the first level run of a part that has room for it before anything leaves the part."""
    run = first
    while run in assembly.runs:
        found = best_reached(site, _spots(assembly, site, run), obstacles)
        if found is not None:
            station, share = found
            start, end = (assembly.nodes[id].at for id in (run.start, run.end))
            at = start.towards(end, share * end.minus(start).length)
            valve = assembly.node(NodeKind.VALVE, at.plan, at.z, station.wall, what=what)
            assembly.split(assembly.runs.index(run), valve)
            return True
        ahead = leaving.get(run.end, ())
        if assembly.nodes[run.end].kind is not NodeKind.BEND or len(ahead) != 1:
            return False
        run = ahead[0]
    return True


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
    yield from _sections(assembly)


def _sections(assembly: Assembly) -> Iterator[str]:
    """Say which outlets each valve of a section shuts off."""
    said = []
    for valve in (node for node in assembly.nodes.values() if node.what == SECTION_VALVE):
        shut = _without(assembly, valve.id)
        said.append(f"{valve.tag} {', '.join(shut) or 'nothing by itself, air comes from the other side too'}")
    if said:
        yield f"Valves of sections shut off: {'; '.join(said)}. Such a section is bled at its drains for work."


def _without(assembly: Assembly, shut: str) -> list[str]:
    """The outlets that get no air with a valve shut."""
    beside: dict[str, set[str]] = {}
    for run in assembly.runs:
        beside.setdefault(run.start, set()).add(run.end)
        beside.setdefault(run.end, set()).add(run.start)
    beside.pop(shut, None)
    fed = reachable(beside, next(iter(assembly.nodes)))
    return [node.tag for node in assembly.nodes.values() if node.kind is NodeKind.COUPLING and node.id not in fed]
