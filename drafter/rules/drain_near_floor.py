"""No bucket goes under a drain.

Why: water let out onto the floor is slippery and oily; so the drain stays shut.
Passes: 150 mm (about 6 in) or more between the floor and a drain opened by hand.
Fails: a warning below that.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.graph import NodeKind
from drafter.quantity import Kind
from drafter.rules.rule import WARNING, Rule, Threshold
from drafter.site.decks import height_above_standing_m
from drafter.standards.limits import Limit
from drafter.supports.design import Design

BUCKET_M = Limit(0.15, "common practice, 150 to 300 mm above the floor, a bucket goes under")

RULE = Rule(
    "DRAIN004", "drain without room for a bucket", BUCKET_M.source, (WARNING,), Threshold(BUCKET_M, Kind.LENGTH)
)

_SLACK_M = 0.0015


def check(design: Design) -> Iterator[Finding]:
    layout, units = design.network.layout, design.network.layout.site.units
    least = RULE.limit(layout.site)
    if layout.site.main.drains == "automatic":
        return
    drains = [node for node in layout.nodes.values() if node.kind is NodeKind.DRAIN]
    heights_m = {node.tag: height_above_standing_m(layout.site, node.room, node.at) for node in drains}
    low = [tag for tag, height_m in heights_m.items() if height_m < least.value - _SLACK_M]
    if low:
        measured = units.length_with_unit(min(heights_m[tag] for tag in low))
        limit = units.length_with_unit(least.value)
        yield RULE.finding(
            WARNING,
            layout.site.main.where("drain_height_m"),
            f"{', '.join(low)} end{'s' if len(low) == 1 else ''} {measured} above the floor: no bucket goes under",
            measured=measured,
            limit=limit,
            fix=f"let drains end {limit} or more above the floor; where the compressor's own drain is named, its "
            "connection higher",
            write=f"main: {{drain height: {limit}}}",
            subject=low[0],
            source=least.source,
        )
