"""Something stands close before an outlet.

Why: a hand with a coupling, and a fitter with a spanner, need room before the outlet and its valve.
Passes: 0.6 m (about 24 in) and more free before a coupling, to what stands in the room as high as it.
Fails: a note for an outlet 0.3 m behind a machine.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.graph import Node
from drafter.layout.obstacles import standing_in
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, Rule, Threshold
from drafter.site.model import Site
from drafter.standards.limits import Limit
from drafter.supports.design import Design

FREE_BEFORE_M = Limit(0.6, "common practice: a person stands there and works with both hands")
BESIDE_M, ABOVE_M = 0.25, 0.2
"""Half the width and height that hands take up at a coupling (common practice)."""

RULE = Rule("REACH003", "outlet behind equipment", FREE_BEFORE_M.source, (NOTE,), Threshold(FREE_BEFORE_M, Kind.LENGTH))

_SLACK_M = 0.001


def check(design: Design) -> Iterator[Finding]:
    layout, units = design.network.layout, design.network.layout.site.units
    least = RULE.limit(layout.site)
    for outlet, node in zip(layout.site.outlets, layout.couplings, strict=True):
        nearest = min(_before(layout.site, node), default=None)
        if nearest is None or nearest[0] >= least.value - _SLACK_M:
            continue
        free_m, name = nearest
        measured, limit = units.length_with_unit(free_m), units.length_with_unit(least.value)
        yield RULE.finding(
            NOTE,
            outlet.where("from_left_m"),
            f"{outlet.tag} has {measured} before it to the {name}",
            measured=measured,
            limit=limit,
            fix=f"move the outlet along the wall, or what stands before it so far off that {limit} is free",
            subject=outlet.tag,
            source=least.source,
        )


def _before(site: Site, node: Node) -> Iterator[tuple[float, str]]:
    """How far before an outlet things as high as it begin [m], and what they are."""
    wall = site.wall(node.room, node.wall)
    along_m, off_m = wall.measure(node.at.plan)
    for thing in standing_in(site, node.room):
        spots = [wall.measure(corner) for corner in thing.outline]
        left_m, near_m = (min(axis) for axis in zip(*spots, strict=True))
        right_m = max(along for along, _ in spots)
        beside = left_m < along_m + BESIDE_M and right_m > along_m - BESIDE_M
        as_high = thing.bottom_m < node.at.z + ABOVE_M and thing.top_m > node.at.z - ABOVE_M
        if beside and as_high and near_m > off_m:
            yield near_m - off_m, thing.on_site
