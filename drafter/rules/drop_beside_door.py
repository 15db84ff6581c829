"""A drop hangs close to a door.

Why: what stands by a door frame is hit by leaves, handles, trolleys and vehicles.
Passes: 150 mm (about 6 in) or more between an outlet and the edge of a door, overhead door or opening on its wall.
Fails: a warning for less.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import WARNING, Rule, Threshold
from drafter.standards.limits import Limit
from drafter.supports.design import Design

BESIDE_M = Limit(0.15, "common practice, no drop within 150 mm of a frame")

RULE = Rule("DOOR001", "drop close to a door", BESIDE_M.source, (WARNING,), Threshold(BESIDE_M, Kind.LENGTH))

_SLACK_M = 0.0005


def check(design: Design) -> Iterator[Finding]:
    site = design.network.layout.site
    least = RULE.limit(site)
    for outlet in site.outlets:
        for opening in site.rooms[outlet.room].openings:
            if opening.wall != outlet.wall or opening.kind == "window":
                continue
            left_m, right_m = opening.from_left_m, opening.from_left_m + opening.width_m
            beside_m = max(left_m - outlet.from_left_m, outlet.from_left_m - right_m)
            if 0.0 <= beside_m < least.value - _SLACK_M:
                measured, limit = (site.units.length_with_unit(each) for each in (beside_m, least.value))
                yield RULE.finding(
                    WARNING,
                    outlet.where("from_left_m"),
                    f"the drop to {outlet.tag} hangs {measured} beside the {opening.kind} of the "
                    f"{site.wall_words(outlet.room, outlet.wall)}, which begins {site.units.length_with_unit(left_m)} "
                    "from its left-hand corner",
                    measured=measured,
                    limit=limit,
                    fix=f"move it {limit} or more from the frame",
                    subject=outlet.tag,
                    source=least.source,
                )
