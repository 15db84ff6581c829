"""The pressure at an outlet is low for its tools.

Why: a tool below its pressure is weak and slow; a regulator needs more before it than it holds behind it, and
couplings and hoses take their share.
Passes: at the lowest supply pressure, the tools' need and 0.5 bar on top, 1 bar where a regulator stands there.
Fails: a warning below need and margin, an error below the need itself.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.rules.rule import Rule
from drafter.standards.limits import OUTLET_MARGIN_PA, REGULATOR_MARGIN_PA
from drafter.supports.design import Design

RULE = Rule("OUT001", "low pressure at an outlet", OUTLET_MARGIN_PA.source)

_SLACK_PA = 1.0


def check(design: Design) -> Iterator[Finding]:
    site, units = design.network.layout.site, design.network.layout.site.units
    for outlet, flow in zip(site.outlets, design.network.outlets, strict=True):
        margin = REGULATOR_MARGIN_PA if "regulator" in outlet.service else OUTLET_MARGIN_PA
        wanted_pa = flow.needed_pa + margin.value
        if flow.needed_pa == 0.0 or flow.gauge_pressure_pa >= wanted_pa - _SLACK_PA:
            continue
        left, needed, wanted = map(units.pressure, (flow.gauge_pressure_pa, flow.needed_pa, wanted_pa))
        short = flow.gauge_pressure_pa < flow.needed_pa - _SLACK_PA
        said = f"less than the {needed} its tools need"
        if not short:
            said = f"enough for the {needed} its tools need, but below {wanted}, which leaves a margin"
        yield RULE.finding(
            Severity.ERROR if short else Severity.WARNING,
            outlet.where("tools"),
            f"{flow.tag} gets {left} gauge at cut-in, {said}",
            measured=f"{left} gauge",
            limit=f"{needed if short else wanted} gauge",
            fix="raise the cut-in, take larger sizes, or move the outlet nearer to the compressor",
            subject=flow.tag,
            source=margin.source,
        )
