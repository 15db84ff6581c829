"""The design pressure or temperature is beyond the scope of the building services code.

Why: up to 150 psi the building services piping code covers compressed air; above it the power piping code applies,
with its own ratings, welds and tests.
Passes: a relief setting up to 10.34 bar gauge, and air of at most 200 °F (93 °C) where it leaves the tank.
Fails: a two-stage compressor with its relief valve at 12 bar; air that leaves the tank at 100 °C.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import WARNING, Rule, Threshold
from drafter.site.model import Site
from drafter.standards.limits import DESIGN_PRESSURE_MAX_PA, DESIGN_TEMPERATURE_MAX_K
from drafter.supports.design import Design

RULE = Rule(
    "CODE001",
    "beyond the building services code",
    DESIGN_PRESSURE_MAX_PA.source,
    (WARNING,),
    Threshold(DESIGN_PRESSURE_MAX_PA, Kind.PRESSURE, "and 200 °F (93 °C) at the tank's outlet"),
)

_SLACK_PA = 500.0
"""150 psi is 1.03421 MPa; the limit is printed as 1.034."""

_SLACK_K = 0.05


def check(design: Design) -> Iterator[Finding]:
    site = design.network.layout.site
    yield from _too_hot(site)
    relief_pa, units = site.compressor.relief_pa, site.units
    most = RULE.limit(site)
    if relief_pa <= most.value + _SLACK_PA:
        return
    measured, limit = f"{units.pressure(relief_pa)} gauge", f"{units.pressure(most.value)} gauge"
    yield RULE.finding(
        WARNING,
        site.compressor.where("relief_pa"),
        f"the design pressure, the relief valve's {measured}, is above {limit}, the end of ASME B31.9",
        measured=measured,
        limit=limit,
        fix="use a relief valve set lower, or have the line designed and tested after ASME B31.1",
        subject="compressor",
        source=most.source,
    )


def _too_hot(site: Site) -> Iterator[Finding]:
    plant, most = site.compressor, DESIGN_TEMPERATURE_MAX_K
    hot_k = site.rooms[plant.room].warmest_k + plant.air_warmer_by_k
    if hot_k > most.value + _SLACK_K:
        measured, limit = site.units.temperature(hot_k), site.units.temperature(most.value)
        yield RULE.finding(
            WARNING,
            site.compressor.where("air_warmer_by_k"),
            f"the air leaves the tank at about {measured}, above {limit}, the end of ASME B31.9 for air",
            measured=measured,
            limit=limit,
            fix="cool the air before it leaves, or have the line designed and tested after ASME B31.1",
            subject="compressor",
            source=most.source,
        )
