"""Coupling and hose lose much of the pressure.

Why: the gauge at the tank shows plenty and the tool is weak: small couplings and thin hoses are the usual cause, not
the pipe.
Passes: up to 1 bar lost in coupling and hose together, in the outlet's worst case.
Fails: a note above that, with what each of the two takes.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, Rule, Threshold
from drafter.standards.limits import Limit
from drafter.supports.design import Design

MOST_PA = Limit(1.0e5, "common practice, from memory: coupling and hose take no more than the whole line may")

RULE = Rule("HOSE003", "coupling and hose lose much", MOST_PA.source, (NOTE,), Threshold(MOST_PA, Kind.PRESSURE))

_SLACK_PA = 1.0


def check(design: Design) -> Iterator[Finding]:
    site, units = design.network.layout.site, design.network.layout.site.units
    most = RULE.limit(site)
    for outlet, flow in zip(site.outlets, design.network.outlets, strict=True):
        taken_pa = {step.what: step.drop_pa for step in flow.ladder if step.what in ("coupling", "hose")}
        lost_pa = sum(taken_pa.values())
        if lost_pa <= most.value + _SLACK_PA:
            continue
        parts = " and ".join(f"{units.pressure_drop(drop_pa)} in the {what}" for what, drop_pa in taken_pa.items())
        measured = units.pressure_drop(lost_pa)
        yield RULE.finding(
            NOTE,
            outlet.where("coupling"),
            f"between {outlet.tag} and its tool {measured} is lost: {parts}",
            measured=measured,
            limit=units.pressure_drop(most.value),
            fix="take the next larger coupling and plug, and a hose as wide and as short as the work allows",
            subject=outlet.tag,
            source=most.source,
        )
