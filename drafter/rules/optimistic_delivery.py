"""The compressor delivers more than its motor can.

Why: plates often give the displacement, what the piston sweeps, in the place of the free air that comes out; tools
chosen by it starve.
Passes: a delivery whose isothermal power at the cut-out is up to 70 % of the motor's power; small piston sets reach
40 to 60 %.
Fails: a warning above that, with what to ask for.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import WARNING, Rule, Threshold
from drafter.standards.air import atmospheric_pressure_pa
from drafter.standards.limits import Limit
from drafter.supports.design import Design

MOST_SHARE = Limit(0.7, "isothermal power p V ln(p2 / p1); the share: value from memory, above all small sets")

RULE = Rule(
    "PLANT004",
    "delivery too good for the motor",
    MOST_SHARE.source,
    (WARNING,),
    Threshold(MOST_SHARE, Kind.SHARE, "of the motor's power"),
)

_SLACK = 1e-6


def check(design: Design) -> Iterator[Finding]:
    site, delivered_m3_s = design.network.layout.site, design.network.supply.delivered_m3_s
    plant, most = site.compressor, RULE.limit(site)
    outside_pa = atmospheric_pressure_pa(site.altitude_m)
    least_w = delivered_m3_s * 1e5 * math.log((plant.cut_out_pa + outside_pa) / outside_pa)
    share = least_w / plant.power_w
    if share <= most.value + _SLACK:
        return
    delivered, power = site.units.free_air(delivered_m3_s), site.units.power(plant.power_w)
    yield RULE.finding(
        WARNING,
        plant.where("free_air"),
        f"{delivered} free air at the cut-out takes {site.units.power(least_w)} at the very best, {share * 100:.0f} % "
        f"of the motor's {power}: this looks like displacement, not delivery",
        measured=f"{share * 100:.0f} %",
        limit=f"{most.value * 100:.0f} %",
        fix="ask the data sheet for the free air delivered (ISO 1217) at working pressure, or time the filling of the "
        "tank, and write that",
        subject="compressor",
        source=most.source,
    )
