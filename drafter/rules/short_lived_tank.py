"""The tank carries the peak for a short time only.

Why: while the peak is above what the compressor delivers, the tank gives the rest, until the pressure is at cut-in
and falls below it.
Passes: a peak below the compressor's delivery, or one carried for 30 s and more.
Fails: four grinders at once on a 50 litre tank.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.rules.rule import Rule
from drafter.standards.limits import Limit
from drafter.supports.design import Design

SHORTEST_S = Limit(30.0, "common practice, half a minute of the peak")

RULE = Rule("TANK001", "the tank carries the peak briefly", SHORTEST_S.source)


def check(design: Design) -> Iterator[Finding]:
    site, supply = design.network.layout.site, design.network.supply
    if supply.tank_lasts_s >= SHORTEST_S.value:
        return
    peak = site.units.free_air(supply.peak_m3_s)
    yield RULE.finding(
        Severity.NOTE,
        site.compressor.where("tank_m3"),
        f"the tank carries the peak of {peak} free air from cut-out to cut-in for {supply.tank_lasts_s:.0f} s",
        measured=f"{supply.tank_lasts_s:.0f} s",
        limit=f"{SHORTEST_S.value:.0f} s",
        fix="add a tank, widen the pressure band, or let fewer outlets run at once",
        subject="compressor",
    )
