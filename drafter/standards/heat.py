"""Heat that a bare pipe gives to the air of a room: outside, through its wall, and from the air inside it."""

import math
from dataclasses import dataclass

from drafter.standards.air import GAS_CONSTANT_J_KG_K, STANDARD_ATMOSPHERE_PA, density_kg_m3, viscosity_pa_s

HEAT_CAPACITY_J_KG_K = 3.5 * GAS_CONSTANT_J_KG_K
"""Of dry air at constant pressure, 1004.7 [J/(kg K)]. Source: 7/2 R of a two-atomic ideal gas."""

STEFAN_BOLTZMANN_W_M2_K4 = 5.670374e-8
"""[W/(m2 K4)]. Source: CODATA 2018."""

GRAVITY_M_S2 = 9.80665
"""[m/s2]. Source: standard gravity, ISO 80000-3."""

_LAMINAR, _LAMINAR_UP_TO, _TURBULENT_FROM = 3.66, 2300.0, 4000.0
_ROUNDS = 6


@dataclass(frozen=True, slots=True)
class BarePipe:
    """A pipe as heat sees it.

    Attributes:
        outside_m, bore_m: diameters [m].
        conductivity_w_m_k: of the wall [W/(m K)].
        emissivity: of the outside [1].
    """

    outside_m: float
    bore_m: float
    conductivity_w_m_k: float
    emissivity: float


def conductivity_w_m_k(temperature_k: float) -> float:
    """Thermal conductivity of air [W/(m K)].

    Source:
        US Standard Atmosphere 1976, from memory; within 2 % of CoolProp between -20 and 100 degC.
    """
    return (
        2.64638e-3
        * temperature_k
        * math.sqrt(temperature_k)
        / (temperature_k + 245.4 * math.pow(10.0, -12.0 / temperature_k))
    )


def prandtl(temperature_k: float) -> float:
    """Prandtl number of air [1].

    Source:
        its definition, heat capacity times viscosity over conductivity.
    """
    return HEAT_CAPACITY_J_KG_K * viscosity_pa_s(temperature_k) / conductivity_w_m_k(temperature_k)


def nusselt_outside(rayleigh: float, prandtl_number: float) -> float:
    """Nusselt number of natural convection round a horizontal cylinder, on its diameter [1].

    Source:
        Churchill and Chu, Int. J. Heat Mass Transfer 18, 1975, 1049-1053.
    """
    damping = (1.0 + (0.559 / prandtl_number) ** (9.0 / 16.0)) ** (8.0 / 27.0)
    return float((0.60 + 0.387 * rayleigh ** (1.0 / 6.0) / damping) ** 2)


def nusselt_inside(reynolds: float, prandtl_number: float) -> float:
    """Nusselt number of flow in a long smooth pipe, on its bore [1]: 3.66 where laminar, to 2300.

    Straight between the two from a Reynolds number of 2300 to 4000.

    Source:
        Gnielinski, Int. Chem. Eng. 16, 1976, 359-368, with Petukhov's friction factor; laminar at constant wall
        temperature after Nusselt and Graetz; the straight line between after Gnielinski, Int. J. Heat Mass
        Transfer 63, 2013, 134-140 (from memory).
    """
    if reynolds <= _LAMINAR_UP_TO:
        return _LAMINAR
    turbulent = _gnielinski(max(reynolds, _TURBULENT_FROM), prandtl_number)
    share = min(1.0, (reynolds - _LAMINAR_UP_TO) / (_TURBULENT_FROM - _LAMINAR_UP_TO))
    return _LAMINAR + share * (turbulent - _LAMINAR)


def _gnielinski(reynolds: float, prandtl_number: float) -> float:
    eighth = (0.79 * math.log(reynolds) - 1.64) ** -2.0 / 8.0
    return float(
        eighth
        * (reynolds - 1000.0)
        * prandtl_number
        / (1.0 + 12.7 * math.sqrt(eighth) * (prandtl_number ** (2.0 / 3.0) - 1.0))
    )


def convection_w_m2_k(surface_k: float, room_k: float, outside_m: float) -> float:
    """Heat transfer by natural convection from a horizontal pipe to still room air at sea level [W/(m2 K)].

    Upright pipes are taken alike; at 2000 m above the sea it is about a tenth less.

    Source:
        `nusselt_outside`, properties of air at the mean of both temperatures.
    """
    film_k = (surface_k + room_k) / 2.0
    viscosity_m2_s = viscosity_pa_s(film_k) / density_kg_m3(STANDARD_ATMOSPHERE_PA, film_k)
    number = prandtl(film_k)
    grashof = GRAVITY_M_S2 * abs(surface_k - room_k) * outside_m**3 / (film_k * viscosity_m2_s**2)
    return nusselt_outside(grashof * number, number) * conductivity_w_m_k(film_k) / outside_m


def radiation_w_m2_k(surface_k: float, room_k: float, emissivity: float) -> float:
    """Heat transfer by radiation from a pipe to the walls of a large room as warm as its air [W/(m2 K)].

    Source:
        Stefan and Boltzmann; a small body in large surroundings.
    """
    return emissivity * STEFAN_BOLTZMANN_W_M2_K4 * (surface_k**2 + room_k**2) * (surface_k + room_k)


def conductance_w_m_k(pipe: BarePipe, air_k: float, room_k: float, flow_kg_s: float) -> float:
    """Heat a metre of pipe gives away, over the difference of the air inside and the room [W/(m K)].

    The surface's temperature is found by repeated substitution.

    Args:
        flow_kg_s: of the air inside [kg/s].

    Source:
        resistances in series: inside by `nusselt_inside`, the wall by Fourier's law for a cylinder, outside by
        natural convection and radiation side by side.
    """
    reynolds = 4.0 * flow_kg_s / (math.pi * pipe.bore_m * viscosity_pa_s(air_k))
    inside = math.pi * nusselt_inside(reynolds, prandtl(air_k)) * conductivity_w_m_k(air_k)
    wall = math.log(pipe.outside_m / pipe.bore_m) / (2.0 * math.pi * pipe.conductivity_w_m_k)
    surface_k, conductance = air_k, 0.0
    for _ in range(_ROUNDS):
        coefficient = convection_w_m2_k(surface_k, room_k, pipe.outside_m)
        coefficient += radiation_w_m2_k(surface_k, room_k, pipe.emissivity)
        outside = math.pi * pipe.outside_m * coefficient
        conductance = 1.0 / (1.0 / inside + wall + 1.0 / outside)
        surface_k = room_k + conductance / outside * (air_k - room_k)
    return conductance


def ventilation_m3_s(power_w: float, rise_k: float) -> float:
    """Flow of room air that carries a power away at a rise of temperature [m3/s].

    Source:
        P / (rho cp dT), air at 1.2 kg/m3 and 1005 J/(kg K).
    """
    return power_w / (1.2 * 1005.0 * rise_k)
