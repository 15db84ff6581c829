"""Moist air on its way: what a length of bare pipe and a treatment unit make of it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from drafter.site.model import Treatment
from drafter.standards.components import component
from drafter.standards.heat import HEAT_CAPACITY_J_KG_K, BarePipe, conductance_w_m_k
from drafter.standards.limits import AFTERCOOLER_APPROACH_K
from drafter.standards.moisture import cooling_capacity_j_kg_k, pressure_dew_point_k, saturated_ratio

STEP_M = 0.5
"""Length of pipe over which the heat transfer is taken as even."""

SETTLED_K = 0.05


@dataclass(frozen=True, slots=True)
class MoistAir:
    """Compressed air at one spot.

    Attributes:
        temperature_k, absolute_pressure_pa: there.
        ratio: vapour over dry air by mass [1].
        liquid_ratio: water that fell out since the last unit that keeps water, over dry air by mass [1].
    """

    temperature_k: float
    absolute_pressure_pa: float
    ratio: float
    liquid_ratio: float = 0.0

    @property
    def dew_point_k(self) -> float:
        return pressure_dew_point_k(self.ratio, self.absolute_pressure_pa)


def cooled_to(air: MoistAir, temperature_k: float) -> MoistAir:
    """Return the air at another temperature, the water that it cannot carry fallen out.

    Source:
        water balance with `drafter.standards.moisture.saturated_ratio`.
    """
    ratio = min(air.ratio, saturated_ratio(temperature_k, air.absolute_pressure_pa))
    return replace(air, temperature_k=temperature_k, ratio=ratio, liquid_ratio=air.liquid_ratio + air.ratio - ratio)


def along_pipe(air: MoistAir, pipe: BarePipe, length_m: float, room_k: float, flow_kg_s: float) -> MoistAir:
    """Return the air at the end of a run of bare pipe; without flow it is as warm as the room.

    Water that fell out does not go back into air that warms again: drains are taken to keep it.

    Args:
        flow_kg_s: dry air [kg/s].

    Source:
        exponential approach of the room's temperature over `STEP_M` at a time, heat transfer after
        `drafter.standards.heat.conductance_w_m_k`, the water's latent heat counted.
    """
    if flow_kg_s <= 0.0:
        return cooled_to(air, room_k) if length_m else air
    left_m = length_m
    while left_m > 0.0:
        settled = abs(air.temperature_k - room_k) < SETTLED_K
        step_m = left_m if settled else min(left_m, STEP_M)
        conductance = conductance_w_m_k(pipe, air.temperature_k, room_k, flow_kg_s)
        capacity = HEAT_CAPACITY_J_KG_K
        if air.temperature_k > room_k:
            capacity = cooling_capacity_j_kg_k(air.temperature_k, air.ratio, air.absolute_pressure_pa, capacity)
        left_over = math.exp(-conductance * step_m / (flow_kg_s * capacity))
        air = cooled_to(air, room_k + (air.temperature_k - room_k) * left_over)
        left_m -= step_m
    return air


def metres_to_room(air: MoistAir, pipe: BarePipe, room_k: float, flow_kg_s: float, within_k: float) -> float:
    """Return after how many metres of bare pipe the air is so near the room's temperature [m], to 200 m.

    Source:
        as `along_pipe`, in steps of 0.5 m.
    """
    length_m = 0.0
    while air.temperature_k > room_k + within_k and length_m < 200.0:
        air = along_pipe(air, pipe, STEP_M, room_k, flow_kg_s)
        length_m += STEP_M
    return length_m


def through_unit(
    air: MoistAir, kind: str, room_k: float, atmosphere_pa: float, given: Treatment | None = None
) -> tuple[MoistAir, float]:
    """Return the air behind a treatment unit, and the vapour that a dryer takes and gives off undrained [kg/kg].

    Aftercoolers cool to a few kelvin above the room, refrigeration dryers to their dew point and back to the room's
    temperature at most. Units that keep water leave none in the air. The pressure a unit costs is taken off.

    Args:
        given: the unit's entry in the site file, where it has one.

    Source:
        dew points, settings and drops of the site file, else of `drafter/standards/components.yaml`; a dryer's dew
        point holds at the pressure it works at.
    """
    unit = component(kind)
    air = replace(air, absolute_pressure_pa=max(atmosphere_pa, _pressure_behind_pa(air, kind, atmosphere_pa, given)))
    if kind == "aftercooler":
        air = cooled_to(air, min(air.temperature_k, room_k + AFTERCOOLER_APPROACH_K.value))
    given_off = 0.0
    if unit.dew_point_k is not None:
        dew_point_k = given.dew_point_k if given and given.dew_point_k is not None else unit.dew_point_k
        dried = cooled_to(air, dew_point_k)
        warm_again_k = min(air.temperature_k, max(room_k, dew_point_k))
        if unit.purge_share:
            warm_again_k, given_off = air.temperature_k, air.ratio - dried.ratio
        air = replace(dried, temperature_k=warm_again_k)
    return (replace(air, liquid_ratio=0.0) if unit.drains else air), given_off


def _pressure_behind_pa(air: MoistAir, kind: str, atmosphere_pa: float, given: Treatment | None) -> float:
    drop_pa = given.drop_pa if given and given.drop_pa is not None else component(kind).pressure_drop_pa
    behind_pa = air.absolute_pressure_pa - drop_pa
    return min(behind_pa, given.set_pa + atmosphere_pa) if given and given.set_pa is not None else behind_pa
