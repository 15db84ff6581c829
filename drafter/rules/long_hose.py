"""A hose is long.

Why: long hoses lose pressure, lie in the way, and are driven over.
Passes: hoses of up to 15.24 m (50 ft).
Fails: a note above that; another outlet costs less than the hose and the falls over it.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, Rule, Threshold
from drafter.standards.limits import Limit
from drafter.supports.design import Design

LONGEST_M = Limit(15.24, "common practice: 50 ft")

RULE = Rule("HOSE001", "long hose", LONGEST_M.source, (NOTE,), Threshold(LONGEST_M, Kind.LENGTH))

_SLACK_M = 0.0005


def check(design: Design) -> Iterator[Finding]:
    site = design.network.layout.site
    most = RULE.limit(site)
    for outlet in site.outlets:
        if outlet.hose.length_m > most.value + _SLACK_M:
            measured, limit = site.units.long_length(outlet.hose.length_m), site.units.long_length(most.value)
            yield RULE.finding(
                NOTE,
                outlet.where("hose"),
                f"the hose at {outlet.tag} is {measured} long",
                measured=measured,
                limit=limit,
                fix="put another outlet nearer the work, or hang the hose on a reel",
                subject=outlet.tag,
                source=most.source,
            )
