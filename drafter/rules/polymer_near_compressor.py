"""Polymer pipe begins at the compressor's tank.

Why: the air leaves the tank warmer than the room, and polymer loses strength with every degree; the first metres
are the hottest of the whole line.
Passes: metal; or a polymer whose rating at the tank outlet's temperature is at or above the relief setting. That
temperature is taken as 25 K above the warmest air of the room or as the site file says, 15 K with an aftercooler.
Fails: an error for polyamide tube whose rating there is below the cut-out, as it bursts in everyday running; a warning
where it stands the cut-out, but not the relief valve's setting that it sees when the switch fails.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.graph import RunKind
from drafter.rules.rule import ERROR, WARNING, Rule
from drafter.site.model import Site
from drafter.standards.limits import Limit
from drafter.standards.materials import rating_pa
from drafter.supports.design import Design

TANK_OUTLET_RISE_K = Limit(25.0, "common practice for a tank on the compressor, from memory")
AFTERCOOLED_RISE_K = Limit(15.0, "common practice, 8 to 15 K above the cooling air, from memory")

RULE = Rule("HEAT001", "polymer near the hot compressor", TANK_OUTLET_RISE_K.source, (ERROR, WARNING), firm=True)

_SLACK_PA = 1.0
_NEAR = (RunKind.CONNECTION, RunKind.RISER, RunKind.TREATMENT)


def check(design: Design) -> Iterator[Finding]:
    network = design.network
    site, units = network.layout.site, network.layout.site.units
    near = dict.fromkeys(network.sizes[run.id] for run in network.layout.runs if run.kind in _NEAR)
    if not network.material.polymer or not near:
        return
    hot = hottest_air_k(site)
    ratings = {size: rating_pa(network.material, size, hot.value) for size in near}
    size, rating = min(ratings.items(), key=lambda each: each[1])
    plant = site.compressor
    if rating >= plant.relief_pa - _SLACK_PA:
        return
    bursts = rating < plant.cut_out_pa - _SLACK_PA
    least_pa, what = (plant.cut_out_pa, "cut-out at") if bursts else (plant.relief_pa, "relief valve's")
    rated, least = (f"{text} gauge" for text in units.pressures_apart(rating, least_pa))
    if not rating:
        rated = "no rating"
    yield RULE.finding(
        ERROR if bursts else WARNING,
        site.main.where("material"),
        f"{network.material.name} {size.name} begins at the tank, where about {units.temperature(hot.value)} "
        f"can be expected: {rated} there against the {what} {least}",
        measured=rated,
        limit=least,
        fix="take metal, a size or tube of a higher rating, or a cut-out and relief valve set lower; or confirm the "
        "temperature there in the site file: compressor: {air warmer by: ...}",
        subject="main",
        source=hot.source,
    )


def hottest_air_k(site: Site) -> Limit:
    """Return the temperature to be expected of the air where it leaves the tank on the warmest day [K], and why."""
    if any(unit.kind == "aftercooler" for unit in site.treatment):
        rise = AFTERCOOLED_RISE_K
    elif "air_warmer_by_k" in site.compressor.places:
        rise = Limit(site.compressor.air_warmer_by_k, "as the site file says")
    else:
        rise = TANK_OUTLET_RISE_K
    return Limit(site.rooms[site.compressor.room].warmest_k + rise.value, rise.source)
