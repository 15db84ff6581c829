"""A drip leg fills within the working day.

Why: a full leg keeps nothing; the next water goes to the tools. Nobody opens a drain several times a day for long.
Passes: on a warm day, the leg holds the water of a working day; or its drain is automatic.
Fails: a note where it must be opened more than once in a working day, a warning where more than twice.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.rules.rule import Rule
from drafter.supports.design import Design

RULE = Rule("WATER002", "drip leg fills within the day", "common practice: drains opened by hand once a day")

_SLACK = 1e-6


def check(design: Design) -> Iterator[Finding]:
    network = design.network
    site, units = network.layout.site, network.layout.site.units
    if site.main.drains == "automatic":
        return
    for leg in network.water.legs:
        times = leg.a_day_kg / leg.holds_kg
        if times <= 1.0 + _SLACK:
            continue
        drain = network.layout.nodes[leg.node]
        hours = site.demand.working_day_s / 3600.0
        yield RULE.finding(
            Severity.NOTE if times <= 2.0 + _SLACK else Severity.WARNING,
            site.main.where("drains"),
            f"the leg of {drain.tag} holds {units.water(leg.holds_kg)} and gets {units.water(leg.a_day_kg)} on a warm "
            f"day: it is full after {hours / times:.1f} h",
            measured=f"{hours / times:.1f} h",
            limit=f"{hours:.3g} h",
            fix=f"open it {leg.times_a_day} times a day, make the drains automatic, or take the water out before it "
            "with an aftercooler or dryer",
            subject=drain.tag,
        )
