"""Polymer pipe begins at the compressor's tank.

Why: the air leaves the tank warmer than the room, and polymer loses strength with every degree; the first metres
are the hottest of the whole line.
Passes: metal; or a polymer whose rating at the tank outlet's temperature is at or above the relief setting. That
temperature is taken as 25 K above the warmest air of the room or as the site file says, 15 K with an aftercooler.
Fails: polyamide tube straight from the flexible connection of a piston compressor without aftercooler.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.graph import RunKind
from drafter.rules.rule import WARNING, Rule
from drafter.standards.limits import Limit
from drafter.standards.materials import rating_pa
from drafter.supports.design import Design

TANK_OUTLET_RISE_K = Limit(25.0, "common practice for a tank on the compressor, from memory")
AFTERCOOLED_RISE_K = Limit(15.0, "common practice, 8 to 15 K above the cooling air, from memory")

RULE = Rule("HEAT001", "polymer near the hot compressor", TANK_OUTLET_RISE_K.source, (WARNING,))

_SLACK_PA = 1.0
_NEAR = (RunKind.CONNECTION, RunKind.RISER, RunKind.TREATMENT)


def check(design: Design) -> Iterator[Finding]:
    network = design.network
    site, units = network.layout.site, network.layout.site.units
    near = [run for run in network.layout.runs if run.kind in _NEAR]
    if not network.material.polymer or not near:
        return
    cooled = any(unit.kind == "aftercooler" for unit in site.treatment)
    rise = TANK_OUTLET_RISE_K
    if cooled:
        rise = AFTERCOOLED_RISE_K
    elif "air_warmer_by_k" in site.compressor.places:
        rise = Limit(site.compressor.air_warmer_by_k, "as the site file says")
    hot_k = site.rooms[site.compressor.room].warmest_k + rise.value
    size = network.sizes[near[0].id]
    rating = rating_pa(network.material, size, hot_k)
    if rating >= site.compressor.relief_pa - _SLACK_PA:
        return
    rated = f"{units.pressure(rating)} gauge" if rating else "no rating"
    relief = f"{units.pressure(site.compressor.relief_pa)} gauge"
    yield RULE.finding(
        WARNING,
        site.main.where("material"),
        f"{network.material.name} {size.name} begins at the tank, where about {units.temperature(hot_k)} "
        f"can be expected: {rated} there against the relief valve's {relief}",
        measured=rated,
        limit=relief,
        fix="run the first 3 m (10 ft) in metal, or confirm the temperature there and the maker's rating at it",
        subject="main",
        source=rise.source,
    )
