"""A treatment unit is rated below the relief valve's setting.

Why: bowls and housings burst like pipes do; when the switch fails they see the relief valve's setting.
Passes: units whose rating, where the site file gives it as `rated`, is at or above the relief setting.
Fails: an error for a filter rated 8 bar behind a relief valve set at 10 bar. A regulator before it may fail as well
and does not count.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.rules.rule import ERROR, Rule
from drafter.supports.design import Design

RULE = Rule(
    "RATE003",
    "unit rated below the relief setting",
    "US set: 29 CFR 1926.302(b)(5), construction: the maker's safe pressure of valves, filters and fittings is not "
    "exceeded; ASME B31.9, design pressure; the label of the unit",
    (ERROR,),
    firm=True,
)

_SLACK_PA = 1.0


def check(design: Design) -> Iterator[Finding]:
    site = design.network.layout.site
    relief_pa = site.compressor.relief_pa
    for unit in site.treatment:
        if unit.rated_pa is not None and unit.rated_pa < relief_pa - _SLACK_PA:
            rated, relief = (f"{text} gauge" for text in site.units.pressures_apart(unit.rated_pa, relief_pa))
            yield RULE.finding(
                ERROR,
                unit.where("rated_pa"),
                f"the {unit.kind} is rated {rated}, below the relief valve's {relief}",
                measured=rated,
                limit=relief,
                fix="take a unit rated for the relief valve's setting",
                subject=unit.kind,
            )
