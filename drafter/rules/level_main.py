"""The main has little or no fall, and the air is not dried.

Why: water stands in a level pipe, rusts it and comes out at the tools; a fall brings it to the drain.
Passes: a fall of 1 % (about 1/8 in per ft) or more; any fall behind a dryer.
Fails: a warning where an undried main is level, a note where it falls by less than 1 %.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, WARNING, Rule, Threshold
from drafter.standards.limits import Limit
from drafter.supports.design import Design

LEAST_FALL = Limit(0.01, "common practice, 1 to 2 % down with the flow")

RULE = Rule(
    "FALL001", "undried main with little fall", LEAST_FALL.source, (WARNING, NOTE), Threshold(LEAST_FALL, Kind.SLOPE)
)

_SLACK = 1e-6


def check(design: Design) -> Iterator[Finding]:
    site = design.network.layout.site
    fall, least = site.main.fall, RULE.limit(site)
    if fall >= least.value - _SLACK or any(unit.kind.endswith("dryer") for unit in site.treatment):
        return
    measured, limit = site.units.slope(fall), site.units.slope(least.value)
    level = fall <= _SLACK
    said = "is level" if level else f"falls by {measured} only"
    yield RULE.finding(
        WARNING if level else NOTE,
        site.main.where("fall"),
        f"the main {said} and the air is not dried: water stands in it",
        measured=measured,
        limit=limit,
        fix=f"give the main a fall of {limit}, or add a dryer to the treatment",
        subject="main",
        source=least.source,
    )
