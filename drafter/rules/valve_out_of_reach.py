"""A valve hangs too high to be shut from the floor.

Why: a valve that needs a ladder is not shut in time when a hose has burst.
Passes: every valve at 1.8 m or less above the floor, or the deck, that one stands on.
Fails: a note for higher ones, such as the valves in a ring that runs below the ceiling.
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

RULE = Rule("VALVE001", "valve out of reach", HAND_HEIGHT_M.source, (NOTE,), Threshold(HAND_HEIGHT_M, Kind.LENGTH))

_SLACK_M = 0.0005


def check(design: Design) -> Iterator[Finding]:
    layout, units = design.network.layout, design.network.layout.site.units
    most = RULE.limit(layout.site)
    valves = [node for node in layout.nodes.values() if node.kind is NodeKind.VALVE]
    heights_m = {node.tag: height_above_standing_m(layout.site, node.room, node.at) for node in valves}
    high = [tag for tag, height_m in heights_m.items() if height_m > most.value + _SLACK_M]
    if high:
        worst = max(high, key=lambda tag: heights_m[tag])
        measured, limit = units.length_with_unit(heights_m[worst]), units.length_with_unit(most.value)
        yield RULE.finding(
            NOTE,
            layout.site.main.where("height_m"),
            f"{', '.join(high)} cannot be shut from the floor: {worst} hangs {measured} above where one stands",
            measured=measured,
            limit=limit,
            fix="take valves worked by a chain or a rod, or keep a safe platform at hand",
            subject=high[0],
            source=most.source,
        )
