"""Much water gathers in the tank, and its drain is opened by hand.

Why: tanks rust through from the water at their bottom, which takes the place of air as well; what is awkward is not
done.
Passes: up to a litre a day on a warm day, or an automatic drain: compressor: {drain: automatic}.
Fails: a note above that. The drain by hand stays as well, to see that the other works.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.graph import NodeKind
from drafter.rules.rule import NOTE, Rule
from drafter.supports.design import Design

MOST_KG = 1.0
"""Water a day from which draining by hand is forgotten at a cost (common practice, from memory)."""

RULE = Rule(
    "TANK005", "wet tank drained by hand", "29 CFR 1910.169(b)(2): drained often enough; a litre: from memory", (NOTE,)
)


def check(design: Design) -> Iterator[Finding]:
    network, site = design.network, design.network.layout.site
    tank = next(node for node in network.layout.nodes.values() if node.kind is NodeKind.TANK)
    a_day_kg = network.water.warm.at(tank.id)
    if site.compressor.drain == "automatic" or a_day_kg <= MOST_KG:
        return
    yield RULE.finding(
        NOTE,
        site.compressor.where("drain"),
        f"on a warm day {site.units.water(a_day_kg)} of water falls out in the tank",
        measured=f"{site.units.water(a_day_kg)} a day",
        limit=f"{site.units.water(MOST_KG)} a day by hand",
        fix="fit an automatic drain, or open it at least once a day; oily water is collected, not let into the "
        "drain of the floor",
        write="compressor: {drain: automatic}",
        subject="compressor",
    )
