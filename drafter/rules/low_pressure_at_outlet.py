"""The pressure at an outlet is low for its tools.

Why: a tool below its pressure is weak and slow; a regulator needs more before it than it holds behind it.
Passes: with the compressor at cut-in and the worst others running, the tool gets what it needs behind coupling and
hose, and before the coupling there is its need and 0.5 bar on top, 1 bar where a regulator stands there.
Fails: a warning below that margin, an error where the tool itself gets less than it needs.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import ERROR, WARNING, Rule, Threshold
from drafter.site.model import Outlet, Site
from drafter.sizing.ladder import HELD
from drafter.sizing.network import OutletFlow
from drafter.standards.limits import OUTLET_MARGIN_PA, REGULATOR_MARGIN_PA
from drafter.supports.design import Design

RULE = Rule(
    "OUT001",
    "low pressure at an outlet",
    OUTLET_MARGIN_PA.source,
    (ERROR, WARNING),
    Threshold(
        OUTLET_MARGIN_PA,
        Kind.PRESSURE,
        "over what the tool needs; 1 bar before a regulator; error where the tool itself is short",
    ),
)

_SLACK_PA = 1.0
_TOOL_END = ("coupling", "hose")


def check(design: Design) -> Iterator[Finding]:
    site, units = design.network.layout.site, design.network.layout.site.units
    for outlet, flow in zip(site.outlets, design.network.outlets, strict=True):
        margin = RULE.limit(site, REGULATOR_MARGIN_PA if "regulator" in outlet.units else OUTLET_MARGIN_PA)
        if flow.needed_pa == 0.0:
            continue
        if flow.tool_pressure_pa < flow.needed_pa - _SLACK_PA:
            yield _short(outlet, flow, site)
        elif flow.gauge_pressure_pa < flow.needed_pa + margin.value - _SLACK_PA:
            left, needed, wanted = map(
                units.pressure, (flow.gauge_pressure_pa, flow.needed_pa, flow.needed_pa + margin.value)
            )
            yield RULE.finding(
                WARNING,
                outlet.where("tools"),
                f"{flow.tag} gets {left} gauge at cut-in before its coupling: enough for the {needed} its tools need, "
                f"but below {wanted}, which leaves a margin",
                measured=f"{left} gauge",
                limit=f"{wanted} gauge",
                fix=f"{_more_pressure(flow, site, flow.needed_pa + margin.value - flow.gauge_pressure_pa)}, "
                "or take larger sizes",
                subject=flow.tag,
                source=margin.source,
            )


def _short(outlet: Outlet, flow: OutletFlow, site: Site) -> Finding:
    units = site.units
    left, needed = units.pressures_apart(flow.tool_pressure_pa, flow.needed_pa)
    largest = sorted((step for step in flow.ladder if step.what != HELD), key=lambda step: -step.drop_pa)[:2]
    lost = " and ".join(f"{units.pressure_drop(step.drop_pa)} in the {step.what}" for step in largest)
    at_the_end = any(step.what in _TOOL_END for step in largest)
    fix = "take a larger coupling, a wider or shorter hose" if at_the_end else "take larger sizes"
    return RULE.finding(
        ERROR,
        outlet.where("tools"),
        f"the tool at {flow.tag} gets {left} gauge at cut-in, less than the {needed} it needs; most is lost: {lost}",
        measured=f"{left} gauge",
        limit=f"{needed} gauge",
        fix=f"{fix}, {_more_pressure(flow, site, flow.needed_pa - flow.tool_pressure_pa)}, "
        "or let fewer outlets run at once",
        subject=flow.tag,
        source="the tool's data plate, else the table of typical tools",
    )


def _more_pressure(flow: OutletFlow, site: Site, short_pa: float) -> str:
    """Where the pressure that is short could come from: the regulator that holds it down, else the compressor."""
    if flow.needed_pa >= site.compressor.cut_out_pa:
        return "take a compressor with a cut-out above what the tool needs"
    held = next((step for step in flow.ladder if step.what == HELD), None)
    if held is None:
        return "raise the cut-in"
    wanted = site.units.pressure(held.gauge_pressure_pa + short_pa)
    if short_pa <= held.drop_pa:
        return f"set the regulator of the treatment to {wanted} or more"
    return f"raise the cut-in and set the regulator of the treatment to {wanted} or more"
