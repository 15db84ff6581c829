"""Air in the main is fast.

Why: fast air loses pressure and carries condensate past the drains; the loss grows with the square of the speed.
Passes: up to 6 m/s at the lowest line pressure. A note above it, a warning above 9 m/s, an error above 15 m/s. A
size is chosen at the pressure that enters the line; where it is lower further on, 5 % more passes.
Fails: a half-inch main for three grinders running together.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.graph import RunKind
from drafter.layout.run_words import run_words
from drafter.quantity import Kind
from drafter.rules.rule import ERROR, NOTE, WARNING, Rule, Threshold
from drafter.standards.limits import MAIN_VELOCITY_MAX_M_S, MAIN_VELOCITY_PREFERRED_M_S, Limit
from drafter.supports.design import Design

RULE = Rule(
    "FLOW001",
    "fast air in the main",
    MAIN_VELOCITY_MAX_M_S.source,
    (ERROR, WARNING, NOTE),
    Threshold(MAIN_VELOCITY_PREFERRED_M_S, Kind.VELOCITY, "warning above 9 m/s, error above 15 m/s"),
)

REFUSED = Limit(15.0, "common practice, the most that is let pass in any line")
_STEPS = (
    (REFUSED, ERROR),
    (MAIN_VELOCITY_MAX_M_S, WARNING),
    (MAIN_VELOCITY_PREFERRED_M_S, NOTE),
)


_SLACK = 1.05
"""The sizes are chosen at the pressure that enters the line; where it is lower the air is a little faster."""


def check(design: Design) -> Iterator[Finding]:
    network = design.network
    site, units = network.layout.site, network.layout.site.units
    lines = [run for run in network.layout.runs if not run.outlet and run.kind is not RunKind.FLEXIBLE]
    fastest = max((network.pipe(run.id) for run in lines), key=lambda pipe: pipe.velocity_m_s)
    broken = RULE.broken_step(site, fastest.velocity_m_s, _STEPS, _SLACK)
    if broken is None:
        return
    limit, severity = broken
    where = run_words(network.layout, network.layout.run_by_id[fastest.run])
    measured, most = units.velocity(fastest.velocity_m_s), units.velocity(limit.value)
    yield RULE.finding(
        severity,
        site.main.where("size"),
        f"air moves at {measured} in {where}, {network.sizes[fastest.run].name}, above {most}",
        measured=measured,
        limit=most,
        fix="take the next larger size of the main, or let fewer outlets run at once",
        subject="main",
        source=limit.source,
    )
