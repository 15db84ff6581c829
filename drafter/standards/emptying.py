"""A volume of air that empties through a restriction: how long it takes, and how far it gets in a time."""

import math

import numpy as np

from drafter.standards.air import FREE_AIR_PRESSURE_PA, FREE_AIR_TEMPERATURE_K

_ANGLES, _WEIGHTS = np.polynomial.legendre.leggauss(40)
_HALVINGS = 60


def emptying_time_s(
    volume_m3: float,
    start_absolute_pa: float,
    end_absolute_pa: float,
    outside_absolute_pa: float,
    sonic_conductance_m3_s_pa: float,
    critical_ratio: float,
    temperature_k: float = FREE_AIR_TEMPERATURE_K,
) -> float:
    """Time in which a closed volume falls from one pressure to a lower one through a restriction [s].

    Args:
        end_absolute_pa: not below the pressure outside [Pa].
        sonic_conductance_m3_s_pa, critical_ratio: C and b of ISO 6358; of a hole as in `orifice`.
        temperature_k: of the air, taken to stay so [K]; air that empties fast cools and loses pressure sooner.

    Raises:
        ValueError: the pressures do not fall from start over end to outside.

    Source:
        mass balance at constant temperature with the flow of ISO 6358-1: the choked part is a logarithm; the rest is
        the integral of (1 - b) / (b + (1 - b) sin x), where the pressure ratio is b + (1 - b) sin x.
    """
    if not start_absolute_pa >= end_absolute_pa >= outside_absolute_pa > 0.0:
        raise ValueError(
            f"pressures must fall: {start_absolute_pa} Pa, {end_absolute_pa} Pa, outside {outside_absolute_pa} Pa"
        )
    time_constant_s = volume_m3 * math.sqrt(FREE_AIR_TEMPERATURE_K / temperature_k) / (
        sonic_conductance_m3_s_pa * FREE_AIR_PRESSURE_PA
    )  # fmt: skip
    choked_down_to_pa = outside_absolute_pa / critical_ratio
    choked = math.log(start_absolute_pa / max(end_absolute_pa, choked_down_to_pa))
    low = _angle(outside_absolute_pa / start_absolute_pa, critical_ratio)
    high = _angle(outside_absolute_pa / end_absolute_pa, critical_ratio)
    return time_constant_s * (max(0.0, choked) + _subsonic(low, high, critical_ratio))


def pressure_after_pa(
    volume_m3: float,
    start_absolute_pa: float,
    time_s: float,
    outside_absolute_pa: float,
    sonic_conductance_m3_s_pa: float,
    critical_ratio: float,
    temperature_k: float = FREE_AIR_TEMPERATURE_K,
) -> float:
    """Absolute pressure of a closed volume after it has emptied so long; the pressure outside once it is empty [Pa].

    Source:
        `emptying_time_s` solved for the pressure by halving.
    """
    low_pa, high_pa = outside_absolute_pa, start_absolute_pa

    def time_to(end_pa: float) -> float:
        return emptying_time_s(
            volume_m3, start_absolute_pa, end_pa, outside_absolute_pa, sonic_conductance_m3_s_pa, critical_ratio,
            temperature_k,
        )  # fmt: skip

    if time_to(low_pa) <= time_s:
        return low_pa
    for _ in range(_HALVINGS):
        middle_pa = (low_pa + high_pa) / 2.0
        low_pa, high_pa = (middle_pa, high_pa) if time_to(middle_pa) > time_s else (low_pa, middle_pa)
    return high_pa


def _angle(ratio: float, critical_ratio: float) -> float:
    sine = (ratio - critical_ratio) / (1.0 - critical_ratio)
    return math.asin(min(1.0, max(0.0, sine)))


def _subsonic(low: float, high: float, critical_ratio: float) -> float:
    half = (high - low) / 2.0
    sines = np.sin(low + half * (_ANGLES + 1.0))
    slope = (1.0 - critical_ratio) / (critical_ratio + (1.0 - critical_ratio) * sines)
    return float(half * np.sum(_WEIGHTS * slope))
