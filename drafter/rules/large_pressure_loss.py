"""The piping loses much pressure on the way to the worst outlet.

Why: what the pipes lose the compressor must make, every hour it runs, for as long as the installation stands.
Passes: up to 0.3 bar from the treatment train to the worst outlet, units at the outlet not counted.
Fails: a warning above 0.3 bar, an error above a tenth of the lowest discharge pressure.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import ERROR, WARNING, Rule, Threshold
from drafter.sizing.tool_end import service_drop_pa
from drafter.standards.limits import TOTAL_DROP_SHARE_OF_DISCHARGE, TOTAL_DROP_WARNING_PA, Limit
from drafter.supports.design import Design

RULE = Rule(
    "DROP001",
    "large pressure loss",
    TOTAL_DROP_WARNING_PA.source,
    (ERROR, WARNING),
    Threshold(TOTAL_DROP_WARNING_PA, Kind.PRESSURE, "error above a tenth of the cut-in"),
)

_SLACK_PA = 1.0


def check(design: Design) -> Iterator[Finding]:
    network = design.network
    site, units = network.layout.site, network.layout.site.units
    losses = {
        outlet.tag: network.supply.supply_gauge_pa - flow.gauge_pressure_pa - service_drop_pa(outlet)
        for outlet, flow in zip(site.outlets, network.outlets, strict=True)
    }
    worst = max(losses, key=lambda tag: losses[tag])
    share = TOTAL_DROP_SHARE_OF_DISCHARGE
    refused = Limit(share.value * site.compressor.cut_in_pa, share.source)
    broken = RULE.broken_step(site, losses[worst] - _SLACK_PA, ((refused, ERROR), (TOTAL_DROP_WARNING_PA, WARNING)))
    if broken is None:
        return
    most, severity = broken
    measured, limit = units.pressure_drop(losses[worst]), units.pressure_drop(most.value)
    yield RULE.finding(
        severity,
        site.main.where("size"),
        f"the piping loses {measured} on the way to {worst}, above {limit}",
        measured=measured,
        limit=limit,
        fix="take a larger size of main or drops, or let fewer outlets run at once",
        subject=worst,
        source=most.source,
    )
