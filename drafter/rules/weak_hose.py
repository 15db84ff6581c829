"""A hose is rated below the relief valve's setting.

Why: when the pressure switch fails, the relief valve's setting is what every part must stand, the hose too.
Passes: hoses whose rating, where the site file gives it as `rated`, is at or above the relief setting.
Fails: an error for a hose rated 8 bar behind a relief valve set at 10 bar.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.rules.rule import ERROR, Rule
from drafter.supports.design import Design

RULE = Rule(
    "RATE004",
    "hose rated below the relief setting",
    "29 CFR 1926.302(b)(5): the maker's safe pressure of hoses is not exceeded",
    (ERROR,),
    firm=True,
)

_SLACK_PA = 1.0


def check(design: Design) -> Iterator[Finding]:
    site = design.network.layout.site
    relief_pa = site.compressor.relief_pa
    for outlet in site.outlets:
        rated_pa = outlet.hose.rated_pa
        if rated_pa is not None and rated_pa < relief_pa - _SLACK_PA:
            rated, relief = (f"{text} gauge" for text in site.units.pressures_apart(rated_pa, relief_pa))
            yield RULE.finding(
                ERROR,
                outlet.where("hose"),
                f"the hose at {outlet.tag} is rated {rated}, below the relief valve's {relief}",
                measured=rated,
                limit=relief,
                fix="take a hose rated for the relief valve's setting",
                subject=outlet.tag,
            )
