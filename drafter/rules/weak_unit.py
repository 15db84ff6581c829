"""A treatment unit, or a unit at an outlet, bears less than the relief valve's setting, or less warm air than it gets.

Why: bowls and housings burst like pipes do; when the switch fails they see the relief valve's setting, and the warmer
they are the less they bear.
Passes: units whose label, where the site file gives it as `rated` and `rated to`, is at or above the relief setting
and at or above the warmest air that comes to them.
Fails: an error for a filter rated 8 bar behind a relief valve set at 10 bar, and for one rated to 50 °C in air of
60 °C. A regulator before it may fail as well and does not count.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.rules.label_limits import held_against_label
from drafter.rules.rule import ERROR, Rule
from drafter.site.model import ServiceUnit, Site, Treatment
from drafter.sizing.ratings import air_at
from drafter.supports.design import Design

RULE = Rule(
    "RATE003",
    "unit rated below the relief setting, or for colder air",
    "US set: 29 CFR 1926.302(b)(5), construction: the maker's safe pressure of valves, filters and fittings is not "
    "exceeded; ASME B31.9, design pressure; the label of the unit",
    (ERROR,),
    firm=True,
)


def check(design: Design) -> Iterator[Finding]:
    network = design.network
    site = network.layout.site
    nodes = {node.place: node for node in network.layout.nodes.values()}
    for unit, where in _units(site):
        air_k = air_at(network, nodes[unit.place]) if unit.place in nodes else None
        what = f"the {unit.kind}{where} is"
        yield from held_against_label(RULE, ERROR, site, unit, what=what, instead="one", air_k=air_k, subject=unit.kind)


def _units(site: Site) -> Iterator[tuple[Treatment | ServiceUnit, str]]:
    """Every unit, with where it is in words."""
    for unit in site.treatment:
        yield unit, ""
    for outlet in site.outlets:
        for served in outlet.service:
            yield served, f" at {outlet.tag}"
