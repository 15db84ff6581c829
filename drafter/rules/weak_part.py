"""Valves, drains, couplings, fittings or the flexible connection bear less than the relief setting, or less warm air.

Why: when the pressure switch fails, the relief valve's setting is what every part must stand, as warm as the air makes
it; the ratings of seals and plastic fall with warmth.
Passes: kinds of parts whose weakest label, where the site file gives it under `ratings`, is at or above the relief
setting, and at or above the warmest air that comes to one of them.
Fails: an error for couplings rated 9 bar behind a relief valve set at 10 bar, and for drains rated to 60 °C in air of
70 °C. What is not given is named under NOT CHECKED.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.rules.label_limits import held_against_label
from drafter.rules.rule import ERROR, Rule
from drafter.sizing.ratings import warmest_parts_k
from drafter.supports.design import Design

RULE = Rule(
    "RATE005",
    "part rated below the relief setting, or for colder air",
    "US set: 29 CFR 1926.302(b)(5), construction: the maker's safe pressure of valves and fittings is not exceeded; "
    "ASME B31.9, design pressure; the label of the part",
    (ERROR,),
    firm=True,
)

CALLED = {
    "valves": "isolating valves",
    "drains": "drain valves",
    "couplings": "quick couplings",
    "fittings": "fittings",
    "flexible": "parts of the flexible connection",
}


def check(design: Design) -> Iterator[Finding]:
    network = design.network
    site, warmest_k = network.layout.site, warmest_parts_k(network)
    for name, label in site.part_ratings.told:
        yield from held_against_label(
            RULE,
            ERROR,
            site,
            label,
            what=f"the {CALLED[name]} are",
            instead="such as are",
            air_k=warmest_k.get(name),
            subject=name,
        )
