"""An outlet hangs too high or too low for a hand.

Why: couplings are joined and parted all day; above the shoulder or at the floor people pull at hoses instead.
Passes: couplings from 0.381 m (15 in) to 1.8 m (about 5 ft 11 in) above the floor or deck one stands on; outlets with a
`reach` of a reel are left alone.
Fails: a note for others.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, Rule, Threshold
from drafter.site.decks import height_above_standing_m
from drafter.standards.limits import HAND_HEIGHT_M, Limit
from drafter.supports.design import Design

LOWEST_M = Limit(0.381, "ADA standards 308, 15 in, from memory")

RULE = Rule(
    "REACH002",
    "outlet out of reach of a hand",
    HAND_HEIGHT_M.source,
    (NOTE,),
    Threshold(HAND_HEIGHT_M, Kind.LENGTH, "and 15 in (381 mm) at least"),
)

_SLACK_M = 0.001


def check(design: Design) -> Iterator[Finding]:
    layout, units = design.network.layout, design.network.layout.site.units
    most = RULE.limit(layout.site)
    for outlet, node in zip(layout.site.outlets, layout.couplings, strict=True):
        height_m = height_above_standing_m(layout.site, node.room, node.at)
        low = height_m < LOWEST_M.value - _SLACK_M
        if outlet.reach_m is not None or not (low or height_m > most.value + _SLACK_M):
            continue
        limit = LOWEST_M if low else most
        measured = units.length_with_unit(height_m)
        yield RULE.finding(
            NOTE,
            outlet.where("height_m"),
            f"the coupling of {outlet.tag} is {measured} above where one stands",
            measured=measured,
            limit=units.length_with_unit(limit.value),
            fix="hang it at 1 to 1.2 m (40 to 48 in); for a reel, say how much hose it lets out",
            write="reach: ...",
            subject=outlet.tag,
            source=limit.source,
        )
