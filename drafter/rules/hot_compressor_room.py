"""The compressor heats its room.

Why: nearly all of the motor's power ends as heat in the room; a hot set wears, trips, and sends hot wet air.
Passes: a room that loses the set's average heat through walls and ceiling at a rise of 10 K or less.
Fails: a note for a small room, with the air that carries the heat away: power over density, heat capacity and rise.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.quantity.kinds import CUBIC_FOOT_M3
from drafter.rules.rule import NOTE, Rule, Threshold
from drafter.standards.heat import ventilation_m3_s
from drafter.standards.limits import Limit
from drafter.supports.design import Design

MOST_RISE_K = Limit(10.0, "common practice; heat balance, all of the shaft power, walls of 2 W/(m2 K), from memory")

RULE = Rule(
    "VENT001",
    "compressor heats its room",
    MOST_RISE_K.source,
    (NOTE,),
    Threshold(MOST_RISE_K, Kind.TEMPERATURE_DIFFERENCE),
)

LOST_W_M2_K = 2.0
"""What plain walls and ceilings let through (value from memory)."""

_SLACK_K = 0.01


def check(design: Design) -> Iterator[Finding]:
    site, network = design.network.layout.site, design.network
    plant, most = site.compressor, RULE.limit(site)
    duty = min(1.0, network.tank.motor.demand_m3_s / network.supply.delivered_m3_s)
    rise_k = plant.power_w * duty / (LOST_W_M2_K * _surface_m2(design))
    if rise_k <= most.value + _SLACK_K:
        return
    flow_m3_s = ventilation_m3_s(plant.power_w, most.value)
    flow = f"{flow_m3_s * 60.0 / CUBIC_FOOT_M3:.0f} cfm" if site.imperial else f"{flow_m3_s * 3600.0:.0f} m³/h"
    measured, limit = (site.units.temperature_difference(each) for each in (rise_k, most.value))
    yield RULE.finding(
        NOTE,
        plant.where("power_w"),
        f"with its doors shut {plant.room} would become {measured} warmer than outside by the compressor's heat",
        measured=measured,
        limit=limit,
        fix=f"let in and out {flow} of air while it runs, low on one side and high on the other; keep intake and "
        "exhaust apart",
        subject="compressor",
        source=most.source,
    )


def _surface_m2(design: Design) -> float:
    """Walls and ceiling of the compressor's room."""
    site = design.network.layout.site
    walls = site.walls[site.compressor.room]
    corners = [wall.left for wall in walls]
    twice_m2 = sum(a.cross(b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True))
    return abs(twice_m2) / 2 + sum(wall.length_m * wall.ceiling_m for wall in walls)
