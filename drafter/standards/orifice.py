"""Air through a hole: how much escapes, and which hole lets so much escape."""

import math

from drafter.standards.air import FREE_AIR_DENSITY_KG_M3, FREE_AIR_TEMPERATURE_K, GAS_CONSTANT_J_KG_K

ISENTROPIC_EXPONENT = 1.4
"""Of air [1]. Source: ratio of the specific heats of a diatomic gas, as printed in handbooks (from memory)."""

CRITICAL_RATIO = (2.0 / (ISENTROPIC_EXPONENT + 1.0)) ** (ISENTROPIC_EXPONENT / (ISENTROPIC_EXPONENT - 1.0))
"""Pressure ratio at and below which a hole is choked, 0.5283 [1]. Source: isentropic flow of an ideal gas."""

SHARP_EDGE = 0.65
"""Discharge coefficient of a hole with sharp edges [1]. Source: footnote of the printed table "Discharge of air
through an orifice"; NAVFAC MO-206 table B-1 prints 0.64."""


def orifice_free_air_m3_s(
    diameter_m: float,
    upstream_absolute_pa: float,
    downstream_absolute_pa: float,
    discharge_coefficient: float = SHARP_EDGE,
    temperature_k: float = FREE_AIR_TEMPERATURE_K,
) -> float:
    """Free air through a round hole, choked or not [m3/s]; none where the downstream pressure is not the lower one.

    Args:
        temperature_k: of the air before the hole [K].

    Source:
        isentropic nozzle flow of an ideal gas (Saint-Venant and Wantzel) times a discharge coefficient; held
        against the printed table "Discharge of air through an orifice" and ISO 6358 conductances.
    """
    if upstream_absolute_pa <= downstream_absolute_pa:
        return 0.0
    ratio = max(downstream_absolute_pa / upstream_absolute_pa, CRITICAL_RATIO)
    area_m2 = discharge_coefficient * math.pi / 4.0 * diameter_m**2
    return area_m2 * upstream_absolute_pa * _speed_term(ratio, temperature_k) / FREE_AIR_DENSITY_KG_M3


def hole_conductance_m3_s_pa(diameter_m: float, discharge_coefficient: float = SHARP_EDGE) -> float:
    """Sonic conductance of a round hole, C of ISO 6358 [m3/(s Pa)]; its critical ratio is 0.5283.

    Source:
        choked isentropic flow at 20 degC: 0.156 d^2 in l/(s bar) with d in mm.
    """
    area_m2 = discharge_coefficient * math.pi / 4.0 * diameter_m**2
    return area_m2 * _speed_term(CRITICAL_RATIO, FREE_AIR_TEMPERATURE_K) / FREE_AIR_DENSITY_KG_M3


def equivalent_hole_m(
    free_air_m3_s: float,
    upstream_absolute_pa: float,
    downstream_absolute_pa: float,
    discharge_coefficient: float = SHARP_EDGE,
    temperature_k: float = FREE_AIR_TEMPERATURE_K,
) -> float:
    """Diameter of the one round hole that leaks as much [m].

    Raises:
        ValueError: the downstream pressure is not the lower one.

    Source:
        `orifice_free_air_m3_s` solved for the diameter.
    """
    if upstream_absolute_pa <= downstream_absolute_pa:
        raise ValueError(f"nothing leaks from {upstream_absolute_pa} Pa to {downstream_absolute_pa} Pa")
    of_one_metre = orifice_free_air_m3_s(
        1.0, upstream_absolute_pa, downstream_absolute_pa, discharge_coefficient, temperature_k
    )
    return math.sqrt(free_air_m3_s / of_one_metre)


def _speed_term(ratio: float, temperature_k: float) -> float:
    """Mass flow over area and upstream pressure [s/m]."""
    k = ISENTROPIC_EXPONENT
    squared = 2.0 * k / ((k - 1.0) * GAS_CONSTANT_J_KG_K * temperature_k)
    return math.sqrt(squared * (ratio ** (2.0 / k) - ratio ** ((k + 1.0) / k)))
