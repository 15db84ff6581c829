"""Flow through restrictions after ISO 6358, written like a pipe's law: flow on one side, pressures on the other.

With the pressures p1 > p2, r = p2/p1 and the share s = (r - b)/(1 - b), ISO 6358 says (m/m*)^2 + s^2 = 1, where the
choked flow m* = K p1. Times (1 - b) p1^2 that is

    (1 - b) (m/K)^2 = (1 - b) p1^2 (1 - s^2)

whose right side tends to p1^2 - p2^2 for small drops and no longer knows p2 once s = 0, where the flow is choked.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drafter.standards.air import FREE_AIR_PRESSURE_PA, FREE_AIR_TEMPERATURE_K

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class RestrictionLaw:
    """The restrictions of a network as arrays.

    Attributes:
        choked_per_pressure: mass flow over inlet pressure when choked [kg/(s Pa)].
        critical_ratio: b of ISO 6358 [1].
        opens_out: whether it is a nozzle, behind which no draw can ask for more than it passes.
    """

    choked_per_pressure: Floats
    critical_ratio: Floats
    opens_out: NDArray[np.bool_]

    def times(self, copies: int) -> "RestrictionLaw":
        """All restrictions that many times over."""
        return RestrictionLaw(
            np.tile(self.choked_per_pressure, copies),
            np.tile(self.critical_ratio, copies),
            np.tile(self.opens_out, copies),
        )

    def drop_and_slope(self, flow_kg_s: Floats, least_kg_s: Floats) -> tuple[Floats, Floats]:
        """(1 - b) m|m|/K^2 [Pa2] and its derivative by the flow, that of `least_kg_s` for smaller ones [Pa2 s/kg]."""
        factor = (1.0 - self.critical_ratio) / self.choked_per_pressure**2
        size = np.abs(flow_kg_s)
        return factor * flow_kg_s * size, 2.0 * factor * np.maximum(size, least_kg_s)

    def driving_pa2(
        self, start_squared: Floats, end_squared: Floats, fall: Floats, least_pa2: float, yielding: float
    ) -> tuple[Floats, Floats, Floats]:
        """The right side of the law [Pa2] and its derivatives by the squared pressure at start and end, both above 0.

        Args:
            start_squared, end_squared: pressures squared, below zero behind what cannot pass its flow [Pa2].
            fall: the first less the second, without the rounding of their difference [Pa2].
            least_pa2: squared inlet pressure below which the law is held [Pa2].
            yielding: how far a choked restriction gives way to a draw it cannot pass: 0 not at all, 1 as
                easily as an open one. Nozzles never do.
        """
        forward = fall >= 0.0
        inlet = np.maximum(np.where(forward, start_squared, end_squared), least_pa2)
        size = np.abs(fall)
        ratio = np.sqrt(np.maximum(1.0 - size / inlet, 0.0))
        b = self.critical_ratio
        lost = np.minimum(size / (inlet * (1.0 + ratio) * (1.0 - b)), 1.0)
        share = np.maximum((ratio - b) / (1.0 - b), 0.0)
        past = np.maximum(size - (1.0 - b * b) * inlet, 0.0)
        choked = past > 0.0
        lost = np.where(choked, 1.0, lost)
        gives = np.where(self.opens_out & forward, 0.0, yielding) * (1.0 - b)
        driving = (1.0 - b) * inlet * lost * (2.0 - lost) + gives * past
        by_outlet = np.where(choked, gives, share / np.maximum(ratio, 1e-9))
        by_inlet = np.where(choked, (1.0 - b) + gives * b * b, (1.0 - b) * lost * (2.0 - lost) + share * ratio)
        by_start, by_end = np.where(forward, by_inlet, by_outlet), np.where(forward, by_outlet, by_inlet)
        return np.where(forward, driving, -driving), by_start, by_end


def restriction_law(
    sonic_conductance_m3_s_pa: Floats,
    critical_ratio: Floats,
    opens_out: NDArray[np.bool_],
    temperature_k: float,
    gas_constant_j_kg_k: float,
) -> RestrictionLaw:
    """Put conductances and the state of the gas into the law of each restriction.

    Args:
        sonic_conductance_m3_s_pa: of this gas, counted at 20 degC and 1 bar absolute [m3/(s Pa)].
        critical_ratio: [1].

    Source:
        ISO 6358-1, as in `drafter.standards.components`.
    """
    free_density = FREE_AIR_PRESSURE_PA / (gas_constant_j_kg_k * FREE_AIR_TEMPERATURE_K)
    per_pressure = free_density * math.sqrt(FREE_AIR_TEMPERATURE_K / temperature_k)
    return RestrictionLaw(sonic_conductance_m3_s_pa * per_pressure, critical_ratio, opens_out)
