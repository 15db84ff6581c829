"""The valve to be shut when leaving is far from the ways out.

Why: hoses burst when nobody is there; a valve on the way out is shut every evening, one at the far end is not.
Passes: V-01, the valve at the tank, within 10 m of a door or opening of its room, in plan.
Fails: a note where it is farther. Rooms whose doors the site file does not tell are left alone.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.graph import NodeKind
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, Rule, Threshold
from drafter.standards.limits import Limit
from drafter.supports.design import Design

FARTHEST_M = Limit(10.0, "common practice, from memory: a few steps out of the way")

RULE = Rule("VALVE002", "main valve far from the exit", FARTHEST_M.source, (NOTE,), Threshold(FARTHEST_M, Kind.LENGTH))

_SLACK_M = 0.0005


def check(design: Design) -> Iterator[Finding]:
    layout, units = design.network.layout, design.network.layout.site.units
    site = layout.site
    valve = next(node for node in layout.nodes.values() if node.kind is NodeKind.VALVE)
    ways_out = [opening for opening in site.rooms[valve.room].openings if opening.kind != "window"]
    if not ways_out:
        return
    middles = [site.wall(valve.room, way.wall).at(way.from_left_m + way.width_m / 2) for way in ways_out]
    away_m = min(valve.at.plan.minus(middle).length for middle in middles)
    most = RULE.limit(site)
    if away_m > most.value + _SLACK_M:
        measured = units.long_length(away_m)
        yield RULE.finding(
            NOTE,
            site.compressor.where("from_left_m"),
            f"{valve.tag}, to be shut when leaving, is {measured} from the nearest way out",
            measured=measured,
            limit=units.long_length(most.value),
            fix="put a switch by the door that stops the compressor and shuts an electric valve at the tank, or move "
            "the compressor",
            subject=valve.tag,
            source=most.source,
        )
