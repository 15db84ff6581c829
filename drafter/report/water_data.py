"""Water and the quality of the air as plain data for programs."""

from __future__ import annotations

from typing import Any

from drafter.sizing.air_quality import outlet_air
from drafter.sizing.network import Network
from drafter.sizing.water import WaterDay


def water_data(network: Network) -> dict[str, Any]:
    """Return the object `water` of the report's schema."""
    site, water = network.layout.site, network.water
    nodes = network.layout.nodes
    return {
        "working_day_h": round(site.demand.working_day_s / 3600.0, 4),
        "average_free_air_l_s": round(water.average_m3_s * 1000.0, 4),
        "intake_relative_humidity": round(site.compressor.intake_humidity, 4),
        "near_room_after_m": round(water.near_room_m, 2),
        "near_room_on_average_after_m": round(water.near_room_on_average_m, 2),
        "days": [_day_data(network, "warm", water.warm), _day_data(network, "cold", water.cold)],
        "drip_legs": [
            {"tag": nodes[leg.node].tag, "holds_kg": _kg(leg.holds_kg), "water_kg": _kg(leg.a_day_kg),
             "opened_a_day": leg.times_a_day}
            for leg in water.legs
        ],
        "air": [
            {"id": air.tag, "used_for": air.used_for, "wanted_class": str(air.wanted),
             "reached_class": str(air.reached), "pressure_dew_point_deg_c": _deg_c(air.dew_point_k),
             "atmospheric_dew_point_deg_c": _deg_c(air.expanded_dew_point_k)}
            for air in outlet_air(network)
        ],
    }  # fmt: skip


def _day_data(network: Network, name: str, day: WaterDay) -> dict[str, Any]:
    return {
        "day": name,
        "intake_deg_c": _deg_c(day.intake_k),
        "taken_in_kg": _kg(day.taken_in_kg),
        "leaves_as_vapour_kg": _kg(day.leaves_kg),
        "given_off_with_purge_air_kg": _kg(day.given_off_kg),
        "places": [
            {"node": place.node, "tag": network.layout.nodes[place.node].tag,
             "from_tank_m": round(place.from_tank_m, 3), "air_deg_c": _deg_c(place.air_k),
             "pressure_dew_point_deg_c": _deg_c(place.dew_point_k),
             "water_kg": _kg(place.a_day_kg)}
            for place in day.places
        ],
    }  # fmt: skip


def _kg(mass_kg: float) -> float:
    return round(mass_kg, 5) + 0.0


def _deg_c(temperature_k: float) -> float:
    return round(temperature_k - 273.15, 2) + 0.0
