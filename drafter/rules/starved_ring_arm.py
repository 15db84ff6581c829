"""With the valve of one arm of a ring shut, a tool gets less pressure than it needs.

Why: the valves of a ring are there so that work goes on while one arm is opened; that only holds if the other arm
carries all the air.
Passes: with either valve shut each tool still gets what it needs in its worst case.
Fails: a long ring of a size that just suffices while both arms feed it. A tool short with both arms open already is
found as low pressure at its outlet, and not a second time here.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.rules.rule import Rule
from drafter.supports.design import Design

RULE = Rule("RING002", "a tool is starved with one arm of the ring shut", "mass balance of the ring; data plates")


def check(design: Design) -> Iterator[Finding]:
    network = design.network
    site, units = network.layout.site, network.layout.site.units
    low = {flow.tag for flow in network.outlets if flow.tool_pressure_pa < flow.needed_pa}
    for shut in network.arms_shut:
        if shut.outlet in low or shut.tool_pressure_pa >= shut.needed_pa:
            continue
        left, needed = units.pressure(shut.tool_pressure_pa), units.pressure(shut.needed_pa)
        yield RULE.finding(
            Severity.NOTE,
            site.main.where("arrangement"),
            f"with {shut.valve} shut the tool at {shut.outlet} gets {left} gauge at cut-in, less than the {needed} "
            "it needs",
            measured=f"{left} gauge",
            limit=f"{needed} gauge",
            fix="take a larger size for the main, or let fewer outlets run while a valve of the ring is shut",
            subject=shut.outlet,
        )
