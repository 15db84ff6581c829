"""Air in a drop is fast.

Why: a drop carries one tool; above 15 m/s its short length and many fittings take what the tool needs.
Passes: up to 10 m/s at the lowest line pressure. A note above it, a warning above 15 m/s.
Fails: an impact wrench on a drop of 9 mm bore.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, WARNING, Rule, Threshold
from drafter.standards.limits import BRANCH_VELOCITY_MAX_M_S, BRANCH_VELOCITY_PREFERRED_M_S
from drafter.supports.design import Design

RULE = Rule(
    "FLOW002",
    "fast air in a drop",
    BRANCH_VELOCITY_MAX_M_S.source,
    (WARNING, NOTE),
    Threshold(BRANCH_VELOCITY_PREFERRED_M_S, Kind.VELOCITY, "warning above 15 m/s"),
)

_STEPS = ((BRANCH_VELOCITY_MAX_M_S, WARNING), (BRANCH_VELOCITY_PREFERRED_M_S, NOTE))


def check(design: Design) -> Iterator[Finding]:
    network = design.network
    site, units = network.layout.site, network.layout.site.units
    for outlet in site.outlets:
        pipes = (network.pipe(run.id) for run in network.layout.runs if run.outlet == outlet.tag)
        fastest = max(pipes, key=lambda pipe: pipe.velocity_m_s)
        broken = RULE.broken_step(site, fastest.velocity_m_s, _STEPS)
        if broken is None:
            continue
        limit, severity = broken
        measured, most = units.velocity(fastest.velocity_m_s), units.velocity(limit.value)
        size = network.sizes[fastest.run].name
        yield RULE.finding(
            severity,
            outlet.place,
            f"air moves at {measured} in the drop of {outlet.tag}, {size}, above {most}",
            measured=measured,
            limit=most,
            fix="take the next larger size of the drops",
            subject=outlet.tag,
            source=limit.source,
        )
