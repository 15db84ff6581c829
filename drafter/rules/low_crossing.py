"""The main crosses, lower than the door, where vehicles drive in.

Why: what fits through the door tears down a pipe that hangs lower than it; a van with a ladder on its roof is enough.
Passes: a crossing whose underside is as high as the head of every overhead door before which it runs, or beside the
strip straight in from the door.
Fails: a warning where it crosses that strip lower than the head of the door.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.graph import Run, RunKind
from drafter.rules.rule import WARNING, Rule
from drafter.site.model import Opening
from drafter.supports.design import Design

RULE = Rule("HEAD002", "crossing lower than a door that vehicles drive in by", "common practice", (WARNING,))

_SLACK_M = 0.0005


def check(design: Design) -> Iterator[Finding]:
    network = design.network
    site, units = network.layout.site, network.layout.site.units
    for run in network.layout.runs:
        if run.kind is not RunKind.MAIN or not site.wall(run.room, run.wall).is_crossing:
            continue
        ends = [network.layout.nodes[node].at.z for node in (run.start, run.end)]
        underside_m = min(ends) - network.sizes[run.id].outside_m / 2
        for door in site.rooms[run.room].openings:
            if underside_m < door.height_m - _SLACK_M and _is_before(design, run, door):
                measured, limit = units.length_with_unit(underside_m), units.length_with_unit(door.height_m)
                yield RULE.finding(
                    WARNING,
                    site.main.where("height_m"),
                    f"{run.wall} hangs at {measured} where vehicles drive in by the overhead door of line "
                    f"{door.place.line}, which is {limit} high",
                    measured=measured,
                    limit=limit,
                    fix="let the crossing hang above the head of the door, or lead it elsewhere",
                    write="crossings: [{height: ...}]",
                    subject="main",
                )


def _is_before(design: Design, run: Run, door: Opening) -> bool:
    """Whether a run crosses the strip straight in from an overhead door."""
    layout = design.network.layout
    wall = layout.site.wall(run.room, door.wall)
    low_m, high_m = sorted(wall.measure(layout.nodes[node].at.plan)[0] for node in (run.start, run.end))
    return door.kind == "overhead door" and high_m > door.from_left_m and low_m < door.from_left_m + door.width_m
