"""A filter bowl stands where the air is hot.

Why: bowls of clear plastic are rated for 50 °C; hotter they creep, craze and burst.
Passes: air of at most 50 °C (122 °F) at every filter, separator and lubricator on the warmest day; or a bowl of metal,
where the site file says so; or a unit held against its own label, where the site file gives that as `rated to`.
Fails: a note above it: take a metal bowl there, or cool the air before it.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.graph import NodeKind
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, Rule, Threshold
from drafter.standards.components import WITH_BOWLS
from drafter.standards.limits import Limit
from drafter.supports.design import Design

HOTTEST_K = Limit(323.15, "bowls of polycarbonate, 50 °C, value from memory; the label governs")

RULE = Rule(
    "HEAT002", "filter bowl in hot air", HOTTEST_K.source, (NOTE,), Threshold(HOTTEST_K, Kind.TEMPERATURE), guards=True
)

_SLACK_K = 0.05


def check(design: Design) -> Iterator[Finding]:
    layout, water = design.network.layout, design.network.water
    units, most = layout.site.units, RULE.limit(layout.site)
    settled = {unit.place for unit in layout.site.labelled_units if unit.bowl == "metal" or unit.rated_to_k is not None}
    for node in layout.nodes.values():
        kinds = (NodeKind.TREATMENT, NodeKind.SERVICE)
        if node.kind not in kinds or node.what not in WITH_BOWLS or node.place in settled:
            continue
        air_k, where = water.warm.before[node.id].temperature_k, node.tag or f"at {layout.outlet_at(node)}"
        if air_k > most.value + _SLACK_K:
            yield RULE.finding(
                NOTE,
                node.place,
                f"air comes to the {node.what} {where} at {units.temperature(air_k)} on the warmest day",
                measured=units.temperature(air_k),
                limit=units.temperature(most.value),
                fix="take it with a metal bowl, or cool the air before it with an aftercooler or more pipe",
                write=f"{{kind: {node.what}, bowl: metal}}",
                subject=node.tag or layout.outlet_at(node),
                source=most.source,
            )
