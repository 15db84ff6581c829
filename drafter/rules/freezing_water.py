"""Pipes run through a room where their water can freeze.

Why: undried air drops water in every pipe; frozen, it blocks the line and bursts drains and filter bowls.
Passes: no pipe in a room colder than 5 degC; behind a refrigeration dryer, in none colder than its dew point of
3 degC; behind a desiccant dryer, anywhere.
Fails: undried air along the wall of an unheated shed.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.rules.rule import Rule
from drafter.standards.limits import Limit
from drafter.supports.design import Design

UNDRIED_K = Limit(278.15, "common practice: +5 degC for undried air")
REFRIGERATION_DRYER_K = Limit(276.15, "common practice: +3 degC, the dew point of a refrigeration dryer, from memory")

RULE = Rule("FROST001", "water can freeze", UNDRIED_K.source)

_SLACK_K = 0.001


def check(design: Design) -> Iterator[Finding]:
    site = design.network.layout.site
    dryers = {unit.kind for unit in site.treatment}
    if "desiccant dryer" in dryers:
        return
    limit = REFRIGERATION_DRYER_K if "refrigeration dryer" in dryers else UNDRIED_K
    state = "dried by refrigeration only" if "refrigeration dryer" in dryers else "not dried"
    piped = {run.room for run in design.network.layout.runs}
    for name, room in site.rooms.items():
        if name in piped and room.coldest_k < limit.value - _SLACK_K:
            coldest, lowest = site.units.temperature(room.coldest_k), site.units.temperature(limit.value)
            yield RULE.finding(
                Severity.WARNING,
                room.where("coldest_k"),
                f"{name} falls to {coldest}, below {lowest}, and the air in its pipes is {state}: water can freeze",
                measured=coldest,
                limit=lowest,
                fix="add a desiccant dryer, keep the room warmer, or drain the lines before frost",
                subject=name,
                source=limit.source,
            )
