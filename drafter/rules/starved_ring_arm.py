"""With one valve of a ring shut, so that air comes one way round only, a tool gets less pressure than it needs.

Why: a ring is fed from both sides so that each arm can be spared; that only holds if the other carries all the air.
Passes: with either valve shut each tool still gets what it needs in its worst case.
Fails: a long ring of a size that just suffices while both arms feed it. A tool short with both arms open already is
found as low pressure at its outlet, and not a second time here.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.rules.rule import NOTE, Rule
from drafter.supports.design import Design

RULE = Rule(
    "RING002", "a tool is starved with one arm of the ring shut", "mass balance of the ring; data plates", (NOTE,)
)


def check(design: Design) -> Iterator[Finding]:
    network = design.network
    site, units = network.layout.site, network.layout.site.units
    low = {flow.tag for flow in network.outlets if flow.tool_pressure_pa < flow.needed_pa}
    for shut in network.arms_shut:
        starved = [each for each in shut.starved if each.outlet not in low]
        if not starved:
            continue
        worst = starved[0]
        left, needed = units.pressures_apart(worst.tool_pressure_pa, worst.needed_pa)
        others = f", and so do {', '.join(each.outlet for each in starved[1:])}" if len(starved) > 1 else ""
        yield RULE.finding(
            NOTE,
            site.main.where("arrangement"),
            f"with {shut.valve} shut the tool at {worst.outlet} gets {left} gauge at cut-in, less than the {needed} "
            f"it needs{others}",
            measured=f"{left} gauge",
            limit=f"{needed} gauge",
            fix="take a larger size for the main, or let fewer outlets run while a valve of the ring is shut",
            subject=worst.outlet,
        )
