"""What a Kv or a Cv passes, as conductance and critical ratio of ISO 6358."""

import math

from drafter.standards.air import FREE_AIR_DENSITY_KG_M3, FREE_AIR_TEMPERATURE_K, GAS_CONSTANT_J_KG_K

KV_PER_CV = 0.865
"""Kv [m3/h of water at 1 bar] over Cv [US gal/min of water at 1 psi]. Source: IEC 60534-1, from memory."""

VALVE_PRESSURE_RATIO_FACTOR = 0.7
"""Share of the inlet pressure a valve has lost where its flow chokes, x_T of IEC 60534; 0.6 to 0.8 for usual
valves. Source: common practice."""


def restriction_of_kv(
    kv_m3_h: float, pressure_ratio_factor: float = VALVE_PRESSURE_RATIO_FACTOR
) -> tuple[float, float]:
    """Sonic conductance [m3/(s Pa)] and critical ratio [1] of a valve.

    The choked flow is that of IEC 60534 and so is the flow at small drops; between them the two formulas
    differ by 2 % at most.

    Args:
        kv_m3_h: water at a drop of 1 bar [m3/h].
        pressure_ratio_factor: x_T of IEC 60534, above 0 to 1 [1].

    Source:
        IEC 60534-2-1 for compressible fluids, from memory: W = Kv Y sqrt(1000 x p1 rho1) in kg/h and bar,
        Y = 1 - x/(3 x_T), choked at x = x_T; set equal to ISO 6358-1 at both ends, b = 1 - 8/9 x_T.
    """
    choked_kg_s_pa = 2.0 / 3.0 * kv_m3_h / 3600.0 * math.sqrt(
        pressure_ratio_factor / (100.0 * GAS_CONSTANT_J_KG_K * FREE_AIR_TEMPERATURE_K)
    )  # fmt: skip
    return choked_kg_s_pa / FREE_AIR_DENSITY_KG_M3, 1.0 - 8.0 / 9.0 * pressure_ratio_factor
