"""A drain valve hangs too low over a bench or machine.

Why: a drain that cannot be opened over a cup is not opened, and the water goes to the tools.
Passes: 150 mm or more between the drain valve of an outlet and what stands under it, to the centimetre.
Fails: a warning below that; the drip leg is drawn as short as it can be built.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.graph import NodeKind
from drafter.layout.obstacles import DRAIN_ROOM_M, obstacles_in, top_below
from drafter.quantity import Kind
from drafter.rules.rule import WARNING, Rule, Threshold
from drafter.standards.limits import Limit
from drafter.supports.design import Design

LEAST_ROOM = Limit(DRAIN_ROOM_M, "common practice, room for the valve's outlet and a cup")

RULE = Rule(
    "DRAIN002", "drain valve without room under it", LEAST_ROOM.source, (WARNING,), Threshold(LEAST_ROOM, Kind.LENGTH)
)

_SLACK = 0.011


def check(design: Design) -> Iterator[Finding]:
    layout, units = design.network.layout, design.network.layout.site.units
    least = RULE.limit(layout.site)
    obstacles = {room: obstacles_in(layout.site, room) for room in layout.site.walls}
    for node in layout.nodes.values():
        tag = layout.runs_at[node.id][0].outlet
        if node.kind is not NodeKind.DRAIN or not tag:
            continue
        outlet = next(outlet for outlet in layout.site.outlets if outlet.tag == tag)
        top = top_below(obstacles[node.room], node.at.plan, outlet.height_m)
        room = node.at.z - top
        if top and room < least.value - _SLACK:
            lift = units.length_with_unit(units.set_out_m(least.value - room + outlet.height_m))
            yield RULE.finding(
                WARNING,
                outlet.where("height_m"),
                f"the drain {node.tag} of {tag} has {units.length_with_unit(max(0.0, room))} over what stands under it",
                measured=units.length_with_unit(room),
                limit=units.length_with_unit(least.value),
                fix=f"raise the outlet to {lift}, or move it beside the bench or machine",
                subject=tag,
                source=least.source,
            )
