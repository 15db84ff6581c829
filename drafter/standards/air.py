"""Dry and moist air as an ideal gas: density, viscosity, flow bases, velocity, dew points, condensate."""

import math
from enum import Enum

GAS_CONSTANT_J_KG_K = 287.055
"""Of dry air [J/(kg K)]. Source: printed as 287.05 to 287.06 in handbooks, from memory."""

FREE_AIR_PRESSURE_PA = 100_000.0
"""Absolute pressure of free air inside the program [Pa]. Source: ISO 1217 and ISO 8778, from memory."""

FREE_AIR_TEMPERATURE_K = 293.15
"""Temperature of free air inside the program [K]. Source: ISO 1217 inlet reference, ISO 8778, from memory."""

STANDARD_ATMOSPHERE_PA = 101_325.0
"""Absolute pressure at sea level [Pa]. Source: ISO 2533 standard atmosphere."""

_WATER_TO_AIR = 0.62198
_BUCK_WATER = (611.21, 18.678, 234.5, 257.14)
_BUCK_ICE = (611.15, 23.036, 333.7, 279.82)


class FlowBasis(Enum):
    """The state a printed free-air flow is counted at: label of a site file, absolute pressure, temperature.

    Source:
        20 degC 1 bar: ISO 1217 inlet reference (from memory); 68 degF 14.5 psi: SCFM harmonised with ISO
        (from memory); 60 degF 14.7 psi: header of the Crane TP-410 air table; 68 degF 14.7 psi: older US
        practice; 0 degC 1.01325 bar: DIN 1343 (from memory). 14.7 psi stands for the standard atmosphere.
    """

    ISO = ("20 degC, 1 bar", FREE_AIR_PRESSURE_PA, FREE_AIR_TEMPERATURE_K)
    SCFM = ("68 degF, 14.5 psi", 14.5 * 6894.757293168361, 293.15)
    US_60_DEG_F = ("60 degF, 14.7 psi", STANDARD_ATMOSPHERE_PA, 459.67 / 1.8 + 60 / 1.8)
    US_68_DEG_F = ("68 degF, 14.7 psi", STANDARD_ATMOSPHERE_PA, 293.15)
    NORMAL = ("0 degC, 1.01325 bar", STANDARD_ATMOSPHERE_PA, 273.15)

    def __init__(self, label: str, absolute_pressure_pa: float, temperature_k: float) -> None:
        self.label = label
        self.absolute_pressure_pa = absolute_pressure_pa
        self.temperature_k = temperature_k


def find_flow_basis(label: str) -> FlowBasis | None:
    """The basis written so in a site file, or None.

    Source:
        the labels of `FlowBasis`.
    """
    return next((basis for basis in FlowBasis if basis.label == label), None)


def density_kg_m3(absolute_pressure_pa: float, temperature_k: float) -> float:
    """Density of dry air [kg/m3], 0.3 % low at 8 bar absolute and 20 degC.

    Source:
        ideal gas law.
    """
    return absolute_pressure_pa / (GAS_CONSTANT_J_KG_K * temperature_k)


FREE_AIR_DENSITY_KG_M3 = density_kg_m3(FREE_AIR_PRESSURE_PA, FREE_AIR_TEMPERATURE_K)
"""Of free air inside the program, 1.188352 [kg/m3]. Source: ideal gas law at the reference state."""


def viscosity_pa_s(temperature_k: float) -> float:
    """Dynamic viscosity of air [Pa s]; pressure changes it by less than 1 % below 20 bar.

    Source:
        Sutherland's formula with 1.716e-5 Pa s at 273.15 K and 110.4 K (from memory; 0.3 to 0.6 % below
        published property tables between -10 and 60 degC).
    """
    ratio = temperature_k / 273.15
    return 1.716e-5 * ratio * math.sqrt(ratio) * (273.15 + 110.4) / (temperature_k + 110.4)


def atmospheric_pressure_pa(altitude_m: float) -> float:
    """Absolute pressure of the atmosphere [Pa] at an altitude up to 11 000 m.

    Source:
        standard atmosphere, 101325 (1 - 2.25577e-5 h)^5.25588, as printed in a public receiver-sizing sheet.
    """
    return float(STANDARD_ATMOSPHERE_PA * (1.0 - 2.25577e-5 * altitude_m) ** 5.25588)


def to_free_air(flow_m3_s: float, basis: FlowBasis) -> float:
    """The same mass flow counted at 20 degC and 1 bar absolute, dry [m3/s].

    Source:
        ideal gas law; the bases as in `FlowBasis`.
    """
    return flow_m3_s * density_kg_m3(basis.absolute_pressure_pa, basis.temperature_k) / FREE_AIR_DENSITY_KG_M3


def mass_flow_kg_s(free_air_m3_s: float) -> float:
    """Mass flow [kg/s] of a free-air flow at 20 degC and 1 bar absolute, dry.

    Source:
        ideal gas law.
    """
    return free_air_m3_s * FREE_AIR_DENSITY_KG_M3


def line_velocity_m_s(free_air_m3_s: float, absolute_pressure_pa: float, temperature_k: float, bore_m: float) -> float:
    """Mean velocity of the air in a bore at line pressure [m/s].

    Source:
        continuity and the ideal gas law.
    """
    area_m2 = math.pi / 4.0 * bore_m**2
    return mass_flow_kg_s(free_air_m3_s) / (density_kg_m3(absolute_pressure_pa, temperature_k) * area_m2)


def saturation_pressure_pa(temperature_k: float) -> float:
    """Vapour pressure of water, of ice below 0 degC [Pa], for -80 to 60 degC.

    Source:
        Buck, 1996 revision (from memory; within 0.05 % of the ASHRAE formulation).
    """
    celsius = temperature_k - 273.15
    scale_pa, b, d, c = _BUCK_WATER if celsius >= 0.0 else _BUCK_ICE
    return scale_pa * math.exp((b - celsius / d) * celsius / (c + celsius))


def dew_point_k(vapour_pressure_pa: float) -> float:
    """Temperature [K] at which this vapour pressure saturates the air; frost point below 0 degC.

    Raises:
        ValueError: the vapour pressure is not above zero.

    Source:
        Buck, 1996 revision, solved for the temperature.
    """
    if not vapour_pressure_pa > 0.0:
        raise ValueError(f"a dew point needs a vapour pressure above zero, not {vapour_pressure_pa} Pa")
    scale_pa, b, d, c = _BUCK_WATER if vapour_pressure_pa >= _BUCK_WATER[0] else _BUCK_ICE
    log_ratio = math.log(vapour_pressure_pa / scale_pa)
    half = d / 2.0 * (b - log_ratio)
    return 273.15 + half - math.sqrt(half**2 - c * d * log_ratio)


def dew_point_at_pressure_k(dew_point_k_now: float, from_absolute_pa: float, to_absolute_pa: float) -> float:
    """Dew point [K] of the same air at another pressure: pressure dew point to atmospheric, or back.

    Args:
        dew_point_k_now: dew point at `from_absolute_pa` [K].

    Source:
        Dalton's law: the vapour pressure follows the total pressure; Buck, 1996 revision.
    """
    return dew_point_k(saturation_pressure_pa(dew_point_k_now) * to_absolute_pa / from_absolute_pa)


def humidity_ratio(vapour_pressure_pa: float, absolute_pressure_pa: float) -> float:
    """Water over dry air by mass [1].

    Source:
        ideal gas law, molar masses 18.015 and 28.965 g/mol (ASHRAE Fundamentals, from memory).
    """
    return _WATER_TO_AIR * vapour_pressure_pa / (absolute_pressure_pa - vapour_pressure_pa)


def dry_air_kg_s(
    intake_m3_s: float, absolute_pressure_pa: float, temperature_k: float, relative_humidity: float
) -> float:
    """Dry air in a moist intake flow counted at the intake's own state [kg/s].

    Args:
        relative_humidity: 0 to 1 [1].

    Source:
        Dalton's law and the ideal gas law.
    """
    vapour_pa = relative_humidity * saturation_pressure_pa(temperature_k)
    return intake_m3_s * density_kg_m3(absolute_pressure_pa - vapour_pa, temperature_k)


def intake_to_free_air(
    flow_m3_s: float, absolute_pressure_pa: float, temperature_k: float, relative_humidity: float = 0.0
) -> float:
    """The dry air in a flow counted at the state of a place, as free air at 20 degC, 1 bar absolute, dry [m3/s].

    Args:
        flow_m3_s: free air delivered, counted at the intake's own state [m3/s].
        absolute_pressure_pa: of the place, as `atmospheric_pressure_pa` gives it for an altitude [Pa].
        relative_humidity: 0 to 1 [1]; the water falls out on the way and drives no tool.

    Source:
        equal mass of dry air: Dalton's law and the ideal gas law; free air delivered is counted at the intake's
        state by ISO 1217 (from memory).
    """
    return dry_air_kg_s(flow_m3_s, absolute_pressure_pa, temperature_k, relative_humidity) / FREE_AIR_DENSITY_KG_M3


def condensate_kg_s(
    dry_air_kg_s: float,
    ambient_temperature_k: float,
    relative_humidity: float,
    ambient_absolute_pa: float,
    line_absolute_pa: float,
    cooled_to_k: float,
) -> float:
    """Water that falls out when air taken in is compressed and cooled [kg/s]; zero where it stays dry.

    Args:
        dry_air_kg_s: air taken in, without its water [kg/s].
        relative_humidity: of the intake, 0 to 1 [1].
        cooled_to_k: lowest temperature at line pressure, a pipe's or a dryer's dew point [K].

    Source:
        water balance with humidity ratios; saturation after Buck, 1996 revision.
    """
    vapour_pa = relative_humidity * saturation_pressure_pa(ambient_temperature_k)
    taken_in = humidity_ratio(vapour_pa, ambient_absolute_pa)
    carried_on = humidity_ratio(saturation_pressure_pa(cooled_to_k), line_absolute_pa)
    return dry_air_kg_s * max(0.0, taken_in - carried_on)
