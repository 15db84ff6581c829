"""A drain hangs too high to be opened from the floor.

Why: a drain that needs a ladder is not opened, and the water goes to the tools.
Passes: drains at 1.8 m or less above the floor, or the deck, that one stands on; automatic drains.
Fails: a note for higher ones.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.graph import NodeKind
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, Rule, Threshold
from drafter.site.decks import height_above_standing_m
from drafter.standards.limits import HAND_HEIGHT_M
from drafter.supports.design import Design

RULE = Rule("DRAIN003", "drain out of reach", HAND_HEIGHT_M.source, (NOTE,), Threshold(HAND_HEIGHT_M, Kind.LENGTH))

_SLACK_M = 0.0005


def check(design: Design) -> Iterator[Finding]:
    layout, units = design.network.layout, design.network.layout.site.units
    most = RULE.limit(layout.site)
    if layout.site.main.drains == "automatic":
        return
    for node in layout.nodes.values():
        height_m = height_above_standing_m(layout.site, node.room, node.at)
        if node.kind is NodeKind.DRAIN and height_m > most.value + _SLACK_M:
            measured = units.length_with_unit(height_m)
            yield RULE.finding(
                NOTE,
                layout.site.main.where("drain_height_m"),
                f"the drain {node.tag} is {measured} above where one stands",
                measured=measured,
                limit=units.length_with_unit(most.value),
                fix="lead it down the wall to a valve that a hand reaches, or make it automatic",
                subject=node.tag,
                source=most.source,
            )
