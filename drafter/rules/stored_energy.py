"""Tank and piping store dangerous energy.

Why: a vessel that bursts lets its energy go at once; above 100 kJ that is counted as highly hazardous.
Passes: up to 100 kJ at cut-out in tank and piping together, about 95 litres at 8 bar.
Fails: a 270 litre tank at 8 bar. Every workshop tank of some size does; the note reminds of inspection and of who
stands near while testing.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, Rule, Threshold
from drafter.standards.limits import STORED_ENERGY_HAZARD_J
from drafter.supports.design import Design

RULE = Rule(
    "TANK002", "stored energy", STORED_ENERGY_HAZARD_J.source, (NOTE,), Threshold(STORED_ENERGY_HAZARD_J, Kind.ENERGY)
)


def check(design: Design) -> Iterator[Finding]:
    site, energy_j = design.network.layout.site, design.network.leaks.stored_energy_j
    limit = RULE.limit(site)
    if energy_j <= limit.value:
        return
    measured, most = site.units.energy(energy_j), site.units.energy(limit.value)
    yield RULE.finding(
        NOTE,
        site.compressor.where("tank_m3"),
        f"tank and piping store {measured} at cut-out; above {most} a burst is highly hazardous",
        measured=measured,
        limit=most,
        fix="have the tank inspected as its data plate and local law say; keep people away from pressure tests",
        subject="compressor",
        source=limit.source,
    )
