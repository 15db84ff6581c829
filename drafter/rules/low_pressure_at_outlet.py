"""The pressure at an outlet is low for its tools.

Why: a tool below its pressure is weak and slow; a regulator needs more before it than it holds behind it.
Passes: with the compressor at cut-in and the worst others running, the tool gets what it needs behind coupling and
hose, and before the coupling there is its need and 0.5 bar on top, 1 bar where a regulator stands there.
Fails: a warning below that margin, an error where the tool itself gets less than it needs.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.quantity import Units
from drafter.rules.rule import Rule
from drafter.site.model import Outlet
from drafter.sizing.network import OutletFlow
from drafter.standards.limits import OUTLET_MARGIN_PA, REGULATOR_MARGIN_PA
from drafter.supports.design import Design

RULE = Rule("OUT001", "low pressure at an outlet", OUTLET_MARGIN_PA.source)

_SLACK_PA = 1.0
_TOOL_END = ("coupling", "hose")


def check(design: Design) -> Iterator[Finding]:
    site, units = design.network.layout.site, design.network.layout.site.units
    for outlet, flow in zip(site.outlets, design.network.outlets, strict=True):
        margin = REGULATOR_MARGIN_PA if "regulator" in outlet.service else OUTLET_MARGIN_PA
        if flow.needed_pa == 0.0:
            continue
        if flow.tool_pressure_pa < flow.needed_pa - _SLACK_PA:
            yield _short(outlet, flow, units)
        elif flow.gauge_pressure_pa < flow.needed_pa + margin.value - _SLACK_PA:
            left, needed, wanted = map(
                units.pressure, (flow.gauge_pressure_pa, flow.needed_pa, flow.needed_pa + margin.value)
            )
            yield RULE.finding(
                Severity.WARNING,
                outlet.where("tools"),
                f"{flow.tag} gets {left} gauge at cut-in before its coupling: enough for the {needed} its tools need, "
                f"but below {wanted}, which leaves a margin",
                measured=f"{left} gauge",
                limit=f"{wanted} gauge",
                fix="raise the cut-in, or take larger sizes",
                subject=flow.tag,
                source=margin.source,
            )


def _short(outlet: Outlet, flow: OutletFlow, units: Units) -> Finding:
    left, needed = units.pressure(flow.tool_pressure_pa), units.pressure(flow.needed_pa)
    largest = sorted(flow.ladder, key=lambda step: -step.drop_pa)[:2]
    lost = " and ".join(f"{units.pressure_drop(step.drop_pa)} in the {step.what}" for step in largest)
    at_the_end = any(step.what in _TOOL_END for step in largest)
    fix = "take a larger coupling, a wider or shorter hose" if at_the_end else "take larger sizes"
    return RULE.finding(
        Severity.ERROR,
        outlet.where("tools"),
        f"the tool at {flow.tag} gets {left} gauge at cut-in, less than the {needed} it needs; most is lost: {lost}",
        measured=f"{left} gauge",
        limit=f"{needed} gauge",
        fix=f"{fix}, raise the cut-in, or let fewer outlets run at once",
        subject=flow.tag,
        source="the tool's data plate, else the table of typical tools",
    )
