"""A filter bowl stands where the air is hot.

Why: bowls of clear plastic are rated for 50 °C; hotter they creep, craze and burst.
Passes: air of at most 50 °C (122 °F) at every filter, separator and lubricator on the warmest day.
Fails: a note above it: take a metal bowl there, or cool the air before it. The note stays as a reminder for whoever
changes the bowl.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.graph import NodeKind
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, Rule, Threshold
from drafter.standards.limits import Limit
from drafter.supports.design import Design

HOTTEST_K = Limit(323.15, "bowls of polycarbonate, 50 °C, value from memory; the label governs")

RULE = Rule(
    "HEAT002", "filter bowl in hot air", HOTTEST_K.source, (NOTE,), Threshold(HOTTEST_K, Kind.TEMPERATURE), guards=True
)

_SLACK_K = 0.05
_WITH_BOWLS = ("separator", "filter", "coalescing filter", "activated carbon filter", "lubricator")


def check(design: Design) -> Iterator[Finding]:
    layout, water = design.network.layout, design.network.water
    units, most = layout.site.units, RULE.limit(layout.site)
    for node in layout.nodes.values():
        if node.kind is not NodeKind.TREATMENT or node.what not in _WITH_BOWLS:
            continue
        air_k = water.warm.before[node.id].temperature_k
        if air_k > most.value + _SLACK_K:
            yield RULE.finding(
                NOTE,
                node.place,
                f"air comes to the {node.what} {node.tag} at {units.temperature(air_k)} on the warmest day",
                measured=units.temperature(air_k),
                limit=units.temperature(most.value),
                fix="take it with a metal bowl, or cool the air before it with an aftercooler or more pipe",
                subject=node.tag,
                source=most.source,
            )
