"""Air enters a dryer warmer than such dryers are rated for.

Why: each 5 K at the inlet nearly doubles the water and halves what a refrigeration dryer can take; its dew point
then rises. The dew points shown take a dryer chosen for its inlet.
Passes: air at the dryer's inlet at most 35 °C when running hard on the warmest day.
Fails: a note above it.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.graph import NodeKind
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, Rule, Threshold
from drafter.standards.components import component
from drafter.standards.limits import DRYER_INLET_MAX_K
from drafter.supports.design import Design

RULE = Rule(
    "WATER003",
    "dryer with a hot inlet",
    DRYER_INLET_MAX_K.source,
    (NOTE,),
    Threshold(DRYER_INLET_MAX_K, Kind.TEMPERATURE),
)

_SLACK_K = 0.05


def check(design: Design) -> Iterator[Finding]:
    layout, water = design.network.layout, design.network.water
    units, most = layout.site.units, RULE.limit(layout.site)
    for node in layout.nodes.values():
        if node.kind is not NodeKind.TREATMENT or component(node.what).dew_point_k is None:
            continue
        inlet_k = water.warm.before[node.id].temperature_k
        through_m3_s = design.network.pipe(layout.runs_at[node.id][0].id).free_air_m3_s
        if inlet_k > most.value + _SLACK_K:
            yield RULE.finding(
                NOTE,
                node.place,
                f"air enters the {node.what} at {units.temperature(inlet_k)} on the warmest day when running hard",
                measured=units.temperature(inlet_k),
                limit=units.temperature(most.value),
                fix="choose the dryer with its data sheet's correction for this inlet and "
                f"{units.free_air(through_m3_s)}, or cool the air before it",
                subject=node.tag,
                source=most.source,
            )
