"""Water in compressed air by mass: what the air can carry, its dew point, and the heat that its water takes along."""

from drafter.standards.air import dew_point_k, humidity_ratio, saturation_pressure_pa

_WATER_TO_AIR = humidity_ratio(1.0, 2.0)
_DRIEST_RATIO = 1e-9
_SLOPE_STEP_K = 0.1


def saturated_ratio(temperature_k: float, absolute_pressure_pa: float) -> float:
    """Water that a kilogram of dry air can carry as vapour [kg/kg]; endless where the water would boil.

    Source:
        Buck, 1996 revision, and Dalton's law.
    """
    vapour_pa = saturation_pressure_pa(temperature_k)
    return humidity_ratio(vapour_pa, absolute_pressure_pa) if vapour_pa < absolute_pressure_pa else float("inf")


def intake_ratio(temperature_k: float, relative_humidity: float, absolute_pressure_pa: float) -> float:
    """Water that a kilogram of dry air brings in from outside [kg/kg].

    Source:
        Buck, 1996 revision, and Dalton's law.
    """
    return humidity_ratio(relative_humidity * saturation_pressure_pa(temperature_k), absolute_pressure_pa)


def pressure_dew_point_k(ratio: float, absolute_pressure_pa: float) -> float:
    """Dew point of air with so much vapour at its own pressure [K].

    Source:
        Dalton's law solved for the vapour's share; Buck, 1996 revision.
    """
    ratio = max(ratio, _DRIEST_RATIO)
    return dew_point_k(absolute_pressure_pa * ratio / (_WATER_TO_AIR + ratio))


def latent_heat_j_kg(temperature_k: float) -> float:
    """Heat that a kilogram of vapour gives off when it becomes water [J/kg].

    Source:
        2501 kJ/kg at 0 degC, 2.36 kJ/kg less for each kelvin (handbooks, from memory; 0.2 % to 80 degC).
    """
    return 2.501e6 - 2360.0 * (temperature_k - 273.15)


def cooling_capacity_j_kg_k(
    temperature_k: float, ratio: float, absolute_pressure_pa: float, dry_capacity_j_kg_k: float
) -> float:
    """Heat to take from moist air, per kilogram of its dry air, to cool it by a kelvin [J/(kg K)].

    Saturated air gives its water's latent heat besides, which can be more than its own.

    Args:
        ratio: vapour it carries [kg/kg].
        dry_capacity_j_kg_k: of dry air.

    Source:
        energy balance of saturated air, the slope of `saturated_ratio`.
    """
    if ratio < saturated_ratio(temperature_k, absolute_pressure_pa) * (1.0 - 1e-9):
        return dry_capacity_j_kg_k
    cooler = saturated_ratio(temperature_k - _SLOPE_STEP_K, absolute_pressure_pa)
    falls_out = max(0.0, ratio - cooler) / _SLOPE_STEP_K
    return dry_capacity_j_kg_k + latent_heat_j_kg(temperature_k) * falls_out
