"""A pipe is rated below the relief valve's setting.

Why: when the pressure switch fails, the relief valve's setting is what every part must stand; a regulator in between
may fail as well and does not count.
Passes: the size's rating, lowered for the warmest air of the rooms it is in, at or above the relief setting.
Fails: polyamide tube 28 x 2.5 in a room of 40 degC behind a relief valve set at 10 bar.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.rules.rule import ERROR, Rule
from drafter.sizing.ratings import room_ratings
from drafter.supports.design import Design

RULE = Rule(
    "RATE001",
    "pipe rated below the relief setting",
    "US set: 29 CFR 1926.302(b)(5), construction: the maker's safe pressure of pipes and fittings is not exceeded; "
    "ASME B31.9, design pressure; the derating table of the material",
    (ERROR,),
    firm=True,
)

_SLACK_PA = 1.0


def check(design: Design) -> Iterator[Finding]:
    network = design.network
    site, units = network.layout.site, network.layout.site.units
    relief_pa = site.compressor.relief_pa
    for pipe in room_ratings(network):
        if pipe.gauge_pa >= relief_pa - _SLACK_PA:
            continue
        size = pipe.size
        rated, relief = (f"{text} gauge" for text in units.pressures_apart(pipe.gauge_pa, relief_pa))
        warm = units.temperature(pipe.temperature_k)
        yield RULE.finding(
            ERROR,
            site.main.where("material"),
            f"{network.material.name} {size.name} is rated {rated} at {warm}, below the relief valve's {relief}",
            measured=rated,
            limit=relief,
            fix="choose another size or material, or a relief valve set lower",
            subject=size.name,
        )
