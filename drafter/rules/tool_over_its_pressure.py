"""A tool can get more pressure than its plate allows.

Why: over its pressure a tool runs too fast; grinding wheels and blades burst, couplings fly off.
Passes: a tool whose `highest` pressure, where the site file gives it, is at or above the cut-out or what the
treatment's regulator holds; or an outlet with a regulator of its own.
Fails: a warning where it is below and nothing holds the pressure down.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.rules.rule import WARNING, Rule
from drafter.supports.design import Design

RULE = Rule("TOOL001", "tool over its pressure", "the tool's data plate", (WARNING,), guards=True)

_SLACK_PA = 1.0


def check(design: Design) -> Iterator[Finding]:
    site = design.network.layout.site
    line_pa = site.line_pa
    for outlet in site.outlets:
        for use in outlet.tools if "regulator" not in outlet.units else ():
            if use.highest_pa is not None and use.highest_pa < line_pa - _SLACK_PA:
                highest, gets = (f"{text} gauge" for text in site.units.pressures_apart(use.highest_pa, line_pa))
                yield RULE.finding(
                    WARNING,
                    use.where("highest_pa"),
                    f"the {use.tool} at {outlet.tag} may have {highest} and gets up to {gets}",
                    measured=gets,
                    limit=highest,
                    fix="give the outlet a regulator, set to the tool's pressure",
                    write="service: [regulator]",
                    subject=outlet.tag,
                )
