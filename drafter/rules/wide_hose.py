"""A wide hose has nothing that stops it when it bursts.

Why: a torn hose of that size whips about and hits people; the wider, the harder.
Passes: hoses of up to 12.7 mm (1/2 in) inside; those sold as 13 mm count as 1/2 in; wider ones behind an excess-flow
valve among the units of their outlet.
Fails: a warning for a wider one without: an excess-flow valve belongs at its supply.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import WARNING, Rule, Threshold
from drafter.sizing.tool_end import hose_bore_m
from drafter.standards.rule_sets import rule_set
from drafter.supports.design import Design

WIDEST_M = rule_set("us").hose_bore_m

RULE = Rule(
    "HOSE002",
    "wide hose without a safety device",
    WIDEST_M.source,
    (WARNING,),
    Threshold(WIDEST_M, Kind.LENGTH, of_set=lambda chosen: chosen.hose_bore_m),
    guards=True,
)

_SOLD_AS_M = 0.0003
"""What is sold as 13 mm is the same hose."""


def check(design: Design) -> Iterator[Finding]:
    site = design.network.layout.site
    most = RULE.limit(site)
    for outlet in site.outlets:
        bore_m = hose_bore_m(outlet)
        if "excess-flow valve" in outlet.units:
            continue
        if outlet.hose.length_m and bore_m > most.value + _SOLD_AS_M + 1e-6:
            measured, limit = (site.units.of_kind(Kind.LENGTH, length_m) for length_m in (bore_m, most.value))
            yield RULE.finding(
                WARNING,
                outlet.where("hose"),
                f"the hose at {outlet.tag} is {measured} wide inside: torn off it whips about",
                measured=measured,
                limit=limit,
                fix="fit an excess-flow valve before its coupling and a whip check at each joint, or take a hose of "
                "1/2 in or less",
                write=f"service: [{', '.join((*outlet.units, 'excess-flow valve'))}]",
                subject=outlet.tag,
                source=most.source,
            )
