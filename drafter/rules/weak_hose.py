"""A hose bears less than the relief valve's setting, or less warm air than it gets.

Why: when the pressure switch fails, the relief valve's setting is what every part must stand, the hose too; a hose that
is warmer than it is made for swells, bursts or slips off its tail.
Passes: hoses whose rating, where the site file gives it as `rated` and `rated to`, is at or above the relief setting
and at or above the warmest air at their outlet.
Fails: an error for a hose rated 8 bar behind a relief valve set at 10 bar, and for one rated to 40 °C in air of 55 °C.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.rules.label_limits import held_against_label
from drafter.rules.rule import ERROR, Rule
from drafter.sizing.ratings import air_at
from drafter.supports.design import Design

RULE = Rule(
    "RATE004",
    "hose rated below the relief setting, or for colder air",
    "29 CFR 1926.302(b)(5): the maker's safe pressure of hoses is not exceeded",
    (ERROR,),
    firm=True,
)


def check(design: Design) -> Iterator[Finding]:
    network = design.network
    site = network.layout.site
    for outlet, node in zip(site.outlets, network.layout.couplings, strict=True):
        what, air_k = f"the hose at {outlet.tag} is", air_at(network, node)
        yield from held_against_label(
            RULE, ERROR, site, outlet.hose, what=what, instead="a hose", air_k=air_k, subject=outlet.tag
        )
