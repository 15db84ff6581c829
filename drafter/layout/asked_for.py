"""Plugged tees for later drops and valves, put into the main where the site file asks for them."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.layout.assembly import Assembly
from drafter.layout.graph import NodeKind, RunKind
from drafter.layout.isolation import SECTION_VALVE
from drafter.layout.valve_places import VALVE_ROOM_M
from drafter.site.model import LineValve, Site, SpareTee
from drafter.site.wall import Wall

SPARE_ROOM_M = 0.15
"""From a spare tee to the next fitting of the main: two sockets, a grip and the later swan neck (common practice)."""

SLACK_M = 0.001
"""What is written in whole millimetres may be so far off."""


def put_line_valves(assembly: Assembly, site: Site) -> list[Finding]:
    """Split the main where valves are asked for; return VALVE003 for each place where it has no room for one."""
    findings = []
    for valve in site.main.valves:
        found = _put(assembly, site, valve, NodeKind.VALVE, SECTION_VALVE, VALVE_ROOM_M)
        findings += [_not_passed(site, valve, "VALVE003", "a valve", found)] if found is not None else []
    return findings


def put_spare_tees(assembly: Assembly, site: Site) -> list[Finding]:
    """Split the main where spare tees are asked for; return SPARE001 for each place it does not pass."""
    findings = []
    for spare in site.main.spare_tees:
        found = _put(assembly, site, spare, NodeKind.SPARE_TEE, NodeKind.SPARE_TEE.value, SPARE_ROOM_M)
        findings += [_not_passed(site, spare, "SPARE001", "a spare tee", found)] if found is not None else []
    return findings


def _put(
    assembly: Assembly, site: Site, asked: SpareTee | LineValve, kind: NodeKind, what: str, room_m: float
) -> list[tuple[float, float]] | None:
    """Put a node into the main at a place; where there is no room, return from where to where there is."""
    wall, at_m = site.wall(asked.room, asked.wall), asked.from_left_m
    stretches = list(_stretches(assembly, wall, room_m))
    number = next((n for n, low, high in stretches if low - SLACK_M <= at_m <= high + SLACK_M), None)
    if number is None:
        return [(low, high) for _, low, high in stretches]
    run = assembly.runs[number]
    start, end = assembly.nodes[run.start].at, assembly.nodes[run.end].at
    first, last = (wall.measure(at.plan)[0] for at in (start, end))
    at = start.towards(end, (at_m - first) / (last - first) * end.minus(start).length)
    assembly.split(number, assembly.node(kind, at.plan, at.z, wall, what=what, place=asked.place))
    return None


def _stretches(assembly: Assembly, wall: Wall, room_m: float) -> Iterator[tuple[int, float, float]]:
    """The main along a wall: index of each run, and from where to where something so long to either side has room."""
    for number, run in enumerate(assembly.runs):
        if run.kind is RunKind.MAIN and (run.room, run.wall) == (wall.room, wall.name):
            ends = sorted(wall.measure(assembly.nodes[id].at.plan)[0] for id in (run.start, run.end))
            low, high = ends[0] + room_m, ends[1] - room_m
            if low <= high:
                yield number, low, high


def _not_passed(
    site: Site, asked: SpareTee | LineValve, rule: str, what: str, free: list[tuple[float, float]]
) -> Finding:
    units, wall = site.units, site.wall(asked.room, asked.wall)
    where = units.length_with_unit(asked.from_left_m)
    told = "; ".join(f"{units.length_with_unit(low)} to {units.length_with_unit(high)}" for low, high in sorted(free))
    return Finding(
        rule,
        Severity.ERROR,
        asked.where("from_left_m"),
        f"the main has no room for {what} {where} from the left of the {wall.name} wall",
        "main",
        where,
        told,
        f"place it {told}" if told else "place it on a wall that the main follows, or lead it there by path: [...]",
    )
