"""Plugged tees in the main for later drops, put where the site file asks for them."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.layout.assembly import Assembly
from drafter.layout.graph import NodeKind, RunKind
from drafter.site.model import Site, SpareTee
from drafter.site.wall import Wall

SPARE_ROOM_M = 0.15
"""From a spare tee to the next fitting of the main: two sockets, a grip and the later swan neck (common practice)."""

SLACK_M = 0.001
"""What is written in whole millimetres may be so far off."""


def put_spare_tees(assembly: Assembly, site: Site) -> list[Finding]:
    """Split the main where spare tees are asked for; return SPARE001 for each place it does not pass."""
    findings = []
    for spare in site.main.spare_tees:
        wall = site.wall(spare.room, spare.wall)
        stretches = list(_stretches(assembly, wall))
        number = next((n for n, low, high in stretches if low - SLACK_M <= spare.from_left_m <= high + SLACK_M), None)
        if number is None:
            findings.append(_not_passed(site, spare, wall, [(low, high) for _, low, high in stretches]))
        else:
            _put(assembly, wall, spare, number)
    return findings


def _stretches(assembly: Assembly, wall: Wall) -> Iterator[tuple[int, float, float]]:
    """The main along a wall: index of each run, and from where to where a tee has room in it."""
    for number, run in enumerate(assembly.runs):
        if run.kind is RunKind.MAIN and (run.room, run.wall) == (wall.room, wall.name):
            ends = sorted(wall.measure(assembly.nodes[id].at.plan)[0] for id in (run.start, run.end))
            low, high = ends[0] + SPARE_ROOM_M, ends[1] - SPARE_ROOM_M
            if low <= high:
                yield number, low, high


def _put(assembly: Assembly, wall: Wall, spare: SpareTee, number: int) -> None:
    run = assembly.runs[number]
    start, end = assembly.nodes[run.start].at, assembly.nodes[run.end].at
    first, last = (wall.measure(at.plan)[0] for at in (start, end))
    share = (spare.from_left_m - first) / (last - first)
    at = start.towards(end, share * end.minus(start).length)
    what = NodeKind.SPARE_TEE.value
    assembly.split(number, assembly.node(NodeKind.SPARE_TEE, at.plan, at.z, wall, what=what, place=spare.place))


def _not_passed(site: Site, spare: SpareTee, wall: Wall, free: list[tuple[float, float]]) -> Finding:
    units = site.units
    where = units.length_with_unit(spare.from_left_m)
    told = "; ".join(f"{units.length_with_unit(low)} to {units.length_with_unit(high)}" for low, high in sorted(free))
    return Finding(
        "SPARE001",
        Severity.ERROR,
        spare.where("from_left_m"),
        f"the main has no room for a spare tee {where} from the left of the {wall.name} wall",
        "main",
        where,
        told,
        f"place it {told}" if told else "place it on a wall that the main follows, or lead it there by path: [...]",
    )
