"""A filter or separator of the treatment train stands where the air is still warm, and no dryer follows.

Why: it catches water, not vapour. What the air still carries as vapour falls out behind it, in the line and in the
tools: the usual reason for water at a tool in spite of a filter.
Passes: air within 3 K of the room's temperature at hard running on a warm day; or a dryer behind it.
Fails: a note where it is warmer, with the water that passes and the pipe the air would need to cool.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.graph import NodeKind
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, Rule, Threshold
from drafter.standards.components import component
from drafter.standards.limits import NEAR_ROOM_K
from drafter.supports.design import Design

RULE = Rule(
    "WATER001",
    "filter where the air is warm",
    NEAR_ROOM_K.source,
    (NOTE,),
    Threshold(NEAR_ROOM_K, Kind.TEMPERATURE_DIFFERENCE, "above the room"),
)

_SLACK_K = 0.05


def check(design: Design) -> Iterator[Finding]:
    layout, water = design.network.layout, design.network.water
    site, units = layout.site, layout.site.units
    near = RULE.limit(site)
    if site.is_dried:
        return
    for node in layout.nodes.values():
        if node.kind is not NodeKind.TREATMENT or node.what == "aftercooler":
            continue
        room_k, air = site.rooms[node.room].warmest_k, water.warm.before[node.id]
        above_k = air.temperature_k - room_k
        if not component(node.what).drains or above_k <= near.value + _SLACK_K:
            continue
        stands = units.long_length(water.from_tank_m(node.id))
        yield RULE.finding(
            NOTE,
            node.place,
            f"the {node.what} {node.tag} stands {stands} along the pipe from the tank, where the air is still "
            f"{units.temperature_difference(above_k)} warmer than the room when running hard: "
            "vapour passes it and becomes water behind it",
            measured=units.temperature_difference(above_k),
            limit=units.temperature_difference(near.value),
            fix=f"in a line of the main's size the air needs {_metres(design, water.near_room_m)} to cool; place a "
            "filter at each outlet that must be dry and drain below it, or add a dryer",
            subject=node.tag,
            source=near.source,
        )


def _metres(design: Design, length_m: float) -> str:
    said = design.network.layout.site.units.rough_length(length_m)
    return f"more than {said}" if length_m >= 200.0 else said
