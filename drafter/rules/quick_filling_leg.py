"""A drip leg fills within the working day.

Why: a full leg keeps nothing; the next water goes to the tools. Nobody opens a drain several times a day for long.
Passes: on a warm day, the leg holds the water of a working day; or its drain is automatic.
Fails: a note where it must be opened more than once in a working day, a warning where more than twice.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.rules.rule import NOTE, WARNING, Rule
from drafter.supports.design import Design

RULE = Rule(
    "WATER002", "drip leg fills within the day", "common practice: drains opened by hand once a day", (WARNING, NOTE)
)

_SLACK = 1e-6


def check(design: Design) -> Iterator[Finding]:
    network = design.network
    site, layout, units = network.layout.site, network.layout, network.layout.site.units
    full = [leg for leg in network.water.legs if leg.a_day_kg > leg.holds_kg * (1.0 + _SLACK)]
    if site.main.drains == "automatic" or not full:
        return
    worst = max(full, key=lambda leg: leg.a_day_kg / leg.holds_kg)
    times = worst.a_day_kg / worst.holds_kg
    hours = site.demand.working_day_s / 3600.0
    tags = ", ".join(layout.nodes[leg.node].tag for leg in full)
    drain = layout.nodes[worst.node].tag
    yield RULE.finding(
        NOTE if times <= 2.0 + _SLACK else WARNING,
        site.main.where("drains"),
        f"more water comes to {tags} on a warm day than the leg holds; that of {drain} holds "
        f"{units.water(worst.holds_kg)}, gets {units.water(worst.a_day_kg)} and is full after {hours / times:.1f} h",
        measured=f"{hours / times:.1f} h",
        limit=f"{hours:.3g} h",
        fix=f"open {drain} {worst.times_a_day} times a day, make the drains automatic, or take the water out before "
        "with an aftercooler or dryer",
        subject=drain,
    )
