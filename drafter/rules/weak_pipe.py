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
from drafter.standards.materials import TubeSize, rating_pa
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
    warmest_k: dict[TubeSize, float] = {}
    for run in network.layout.runs:
        size = network.sizes[run.id]
        warmest_k[size] = max(warmest_k.get(size, 0.0), site.rooms[run.room].warmest_k)
    relief = f"{units.pressure(site.compressor.relief_pa)} gauge"
    for size, temperature_k in warmest_k.items():
        rating = rating_pa(network.material, size, temperature_k)
        if rating >= site.compressor.relief_pa - _SLACK_PA:
            continue
        rated = f"{units.pressure(rating)} gauge"
        warm = units.temperature(temperature_k)
        yield RULE.finding(
            ERROR,
            site.main.where("material"),
            f"{network.material.name} {size.name} is rated {rated} at {warm}, below the relief valve's {relief}",
            measured=rated,
            limit=relief,
            fix="choose another size or material, or a relief valve set lower",
            subject=size.name,
        )
