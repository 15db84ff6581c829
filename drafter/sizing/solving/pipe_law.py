"""What steady isothermal flow costs in each pipe: the drop of squared pressure by friction, fittings and speed.

For a pipe of area A with the resistance r = f L/D + K, carrying the mass flow m of an ideal gas:

    p1^2 - p2^2 = R T (m/A)^2 (r + 2 ln(p1/p2))

The logarithm is the kinetic term. At the flow whose outlet pressure is (m/A) sqrt(R T) the pipe is choked.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drafter.standards.friction import friction_factor, friction_with_slope

Floats = NDArray[np.float64]

_STILL_REYNOLDS = 0.1
_CHOKE_STEPS = 60
_RATIO_STEPS = 6


@dataclass(frozen=True, slots=True)
class PipeLaw:
    """The pipes of a network as arrays over the pipes.

    Attributes:
        specific_work_j_kg: R T [J/kg].
        squared_per_flow: R T / A^2 [Pa2 s2/kg2].
        reynolds_per_flow: Reynolds number over mass flow [s/kg].
        relative_roughness: roughness over bore [1].
        length_over_bore: [1].
        loss_coefficient: of the fittings, on the bore [1].
    """

    specific_work_j_kg: float
    squared_per_flow: Floats
    reynolds_per_flow: Floats
    relative_roughness: Floats
    length_over_bore: Floats
    loss_coefficient: Floats

    def chosen(self, which: NDArray[np.intp]) -> "PipeLaw":
        """The pipes of these numbers, in this order."""
        return self._with(lambda values: values[which])

    def times(self, copies: int) -> "PipeLaw":
        """All pipes that many times over."""
        return self._with(lambda values: np.tile(values, copies))

    def _with(self, change: Callable[[Floats], Floats]) -> "PipeLaw":
        return PipeLaw(
            self.specific_work_j_kg,
            change(self.squared_per_flow),
            change(self.reynolds_per_flow),
            change(self.relative_roughness),
            change(self.length_over_bore),
            change(self.loss_coefficient),
        )

    @property
    def still_flow_kg_s(self) -> Floats:
        """Mass flow below which the slope of the drop is taken as it is there [kg/s]."""
        return _STILL_REYNOLDS / self.reynolds_per_flow

    def reynolds(self, flow_kg_s: Floats) -> Floats:
        """Reynolds number, the same along the whole of an isothermal pipe [1]."""
        return np.abs(flow_kg_s) * self.reynolds_per_flow

    def friction_factor(self, flow_kg_s: Floats) -> Floats:
        """Darcy friction factor [1]."""
        return friction_factor(self.reynolds(flow_kg_s), self.relative_roughness)

    def drop_pa2(self, flow_kg_s: Floats) -> Floats:
        """Drop of squared pressure by friction and fittings, with the sign of the flow [Pa2]."""
        resistance = self.friction_factor(flow_kg_s) * self.length_over_bore + self.loss_coefficient
        return self.squared_per_flow * flow_kg_s * np.abs(flow_kg_s) * resistance

    def slope_pa2_s_kg(self, flow_kg_s: Floats) -> Floats:
        """Derivative of `drop_pa2` with respect to the flow, always above zero [Pa2 s/kg]."""
        flow = np.maximum(np.abs(flow_kg_s), self.still_flow_kg_s)
        factor, slope = friction_with_slope(self.reynolds(flow), self.relative_roughness)
        growth = factor * self.length_over_bore * (2.0 + slope) + 2.0 * self.loss_coefficient
        return self.squared_per_flow * flow * growth

    def drop_and_slope(self, flow_kg_s: Floats, least_kg_s: Floats) -> tuple[Floats, Floats]:
        """`drop_pa2` and `slope_pa2_s_kg` for one reckoning of the friction factor.

        Args:
            least_kg_s: flow whose slope is taken for smaller ones, above zero; where it lies above
                `still_flow_kg_s` the drop is only right for flows that are larger, or nil [kg/s].
        """
        size = np.abs(flow_kg_s)
        at_least = np.maximum(size, least_kg_s)
        factor, slope = friction_with_slope(at_least * self.reynolds_per_flow, self.relative_roughness)
        friction = self.squared_per_flow * at_least * factor * self.length_over_bore
        fittings = self.squared_per_flow * self.loss_coefficient
        drop = flow_kg_s * (friction + fittings * size)
        return drop, friction * (2.0 + slope) + 2.0 * fittings * at_least

    def kinetic_pa2(self, flow_kg_s: Floats) -> Floats:
        """R T (m/A)^2: the squared outlet pressure at which this flow chokes [Pa2]."""
        return self.squared_per_flow * flow_kg_s**2

    def velocity_m_s(self, flow_kg_s: Floats, absolute_pressure_pa: Floats) -> Floats:
        """Mean speed where the pressure is this [m/s]."""
        return np.sqrt(self.specific_work_j_kg * self.kinetic_pa2(flow_kg_s)) / absolute_pressure_pa


def pipe_law(
    length_m: Floats,
    bore_m: Floats,
    roughness_m: Floats,
    loss_coefficient: Floats,
    temperature_k: float,
    viscosity_pa_s: float,
    gas_constant_j_kg_k: float,
) -> PipeLaw:
    """Put lengths, bores and the state of the gas into the law of each pipe.

    Args:
        length_m, bore_m, roughness_m: arrays over the pipes [m].
        loss_coefficient: of the fittings, on the bore, array over the pipes [1].

    Source:
        isothermal flow of an ideal gas in a pipe (Coulson and Richardson vol. 1; Crane TP-410).
    """
    area_m2 = math.pi / 4.0 * bore_m**2
    specific_work_j_kg = gas_constant_j_kg_k * temperature_k
    return PipeLaw(
        specific_work_j_kg=specific_work_j_kg,
        squared_per_flow=specific_work_j_kg / area_m2**2,
        reynolds_per_flow=bore_m / (area_m2 * viscosity_pa_s),
        relative_roughness=roughness_m / bore_m,
        length_over_bore=length_m / bore_m,
        loss_coefficient=loss_coefficient,
    )


def choked_ratio(resistance: Floats) -> Floats:
    """Ratio of the squared inlet pressure to that at the outlet of choked pipes [1].

    It is the u above 1 with u - 1 - ln u = r.

    Args:
        resistance: r = f L/D + K, above 0 [1].

    Source:
        the pipe law with dp/dL infinite at the outlet, solved by Newton steps.
    """
    ratio = 1.0 + resistance + np.sqrt(2.0 * resistance)
    for _ in range(_RATIO_STEPS):
        ratio = ratio - (ratio - 1.0 - np.log(ratio) - resistance) / (1.0 - 1.0 / ratio)
    return ratio


def choked_flow_kg_s(law: PipeLaw, inlet_absolute_pa: Floats) -> Floats:
    """The most each pipe passes from its inlet pressure, whatever lies behind it [kg/s].

    Args:
        inlet_absolute_pa: array over the pipes of `law` [Pa].

    Source:
        isothermal choking at the Mach number 1/sqrt(kappa), from the pipe law with dp/dL infinite.
    """
    flow = inlet_absolute_pa / np.sqrt(law.squared_per_flow)
    for _ in range(_CHOKE_STEPS):
        resistance = law.friction_factor(flow) * law.length_over_bore + law.loss_coefficient
        flow = inlet_absolute_pa / np.sqrt(law.squared_per_flow * choked_ratio(resistance))
    return flow
