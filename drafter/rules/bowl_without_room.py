"""No room under a filter's bowl.

Why: a bowl is drawn off downwards to change the element and to look at the water; without room the element is never
changed, and the whole unit has to come off the pipe.
Passes: 300 mm (about 12 in) or more from the middle of the unit's pipe to what stands under it or to the floor: a bowl,
and half its length to draw it off.
Fails: a note for less, such as a filter close above a bench.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.graph import NodeKind
from drafter.layout.obstacles import obstacles_in, top_below
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, Rule, Threshold
from drafter.standards.components import WITH_BOWLS
from drafter.standards.limits import Limit
from drafter.supports.design import Design

ROOM_M = Limit(0.3, "common practice for half-inch units; the unit's drawing governs")

RULE = Rule("BOWL001", "bowl without room under it", ROOM_M.source, (NOTE,), Threshold(ROOM_M, Kind.LENGTH))

_SLACK_M = 0.0015


def check(design: Design) -> Iterator[Finding]:
    layout, units = design.network.layout, design.network.layout.site.units
    least = RULE.limit(layout.site)
    obstacles = {room: obstacles_in(layout.site, room) for room in layout.site.walls}
    for node in layout.nodes.values():
        if node.kind not in (NodeKind.TREATMENT, NodeKind.SERVICE) or node.what not in WITH_BOWLS:
            continue
        free_m = node.at.z - top_below(obstacles[node.room], node.at.plan, node.at.z)
        if free_m < least.value - _SLACK_M:
            which = node.tag or f"at {layout.outlet_at(node)}"
            measured, limit = units.length_with_unit(free_m), units.length_with_unit(least.value)
            yield RULE.finding(
                NOTE,
                node.place,
                f"under the {node.what} {which} there is {measured} to draw its bowl off",
                measured=measured,
                limit=limit,
                fix="place it higher, or beside what stands under it",
                subject=node.tag or layout.outlet_at(node),
                source=least.source,
            )
