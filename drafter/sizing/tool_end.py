"""From the drop's end to the tool: the units at the outlet, the coupling and the hose."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from drafter.site.model import Outlet
from drafter.sizing.sections import HOSE_ROUGHNESS_M
from drafter.sizing.solving import pipe_law
from drafter.standards.air import GAS_CONSTANT_J_KG_K, mass_flow_kg_s, viscosity_pa_s
from drafter.standards.components import component, find_coupling, restriction_outlet_pa

USUAL_HOSE_M = {"1/4": 0.008, "3/8": 0.010, "1/2": 0.013}
"""Bore of the hose that usually hangs on a coupling of each body size (common practice)."""

HOSE_ENDS_LOSS = 1.5
"""Loss coefficient of a hose's ends: 0.5 in, 1.0 out (Crane TP-410, from memory)."""

_STEPS = 60


@dataclass(frozen=True, slots=True)
class ToolEnd:
    """Absolute pressures on the way to a tool [Pa]; 0 from where the air cannot pass.

    Attributes:
        before_units_pa: at the end of the drop.
        before_coupling_pa: behind the units at the outlet.
        before_hose_pa: behind the coupling.
        at_tool_pa: at the end of the hose.
    """

    before_units_pa: float
    before_coupling_pa: float
    before_hose_pa: float
    at_tool_pa: float


def service_drop_pa(outlet: Outlet) -> float:
    """Return the pressure lost in the units at an outlet, which the piping does not answer for [Pa].

    Source:
        `drafter/standards/components.yaml`.
    """
    return sum(component(unit).pressure_drop_pa for unit in outlet.units)


def hose_bore_m(outlet: Outlet) -> float:
    """Return the bore of the hose at an outlet [m].

    Source:
        the site file, else common practice for the coupling's body.
    """
    return outlet.hose.bore_m or USUAL_HOSE_M[outlet.coupling]


def tool_end(outlet: Outlet, absolute_pa: float, free_air_m3_s: float, temperature_k: float) -> ToolEnd:
    """Follow the air from the end of a drop to the tool.

    Args:
        absolute_pa: at the end of the drop.
        free_air_m3_s: that the tool takes, at 20 degC and 1 bar.

    Source:
        coupling after ISO 6358-1 with the generic figures of `components.yaml`; hose by the law of isothermal
        pipe flow; units by their drop at full flow.
    """
    before_coupling = max(0.0, absolute_pa - service_drop_pa(outlet))
    coupling = find_coupling(f"quick coupling {outlet.coupling}")
    assert coupling is not None
    conductance, ratio = coupling.sonic_conductance_m3_s_pa, coupling.critical_ratio
    behind = before_coupling and restriction_outlet_pa(
        conductance, ratio, before_coupling, free_air_m3_s, temperature_k
    )
    at_tool = _behind_hose_pa(outlet, behind, free_air_m3_s, temperature_k) if behind else 0.0
    return ToolEnd(absolute_pa, before_coupling, behind or 0.0, at_tool)


def _behind_hose_pa(outlet: Outlet, absolute_pa: float, free_air_m3_s: float, temperature_k: float) -> float:
    if not outlet.hose.length_m:
        return absolute_pa
    law = pipe_law(
        np.array([outlet.hose.length_m]), np.array([hose_bore_m(outlet)]), np.array([HOSE_ROUGHNESS_M]),
        np.array([HOSE_ENDS_LOSS]), temperature_k, viscosity_pa_s(temperature_k), GAS_CONSTANT_J_KG_K,
    )  # fmt: skip
    flow = np.array([mass_flow_kg_s(free_air_m3_s)])
    drop, kinetic = float(law.drop_pa2(flow)[0]), float(law.kinetic_pa2(flow)[0])
    before = absolute_pa**2
    after = before - drop
    for _ in range(_STEPS):
        if after <= kinetic:
            return 0.0
        after, last = before - drop - kinetic * math.log(before / after), after
        if abs(after - last) < 1e-9 * before:
            break
    return math.sqrt(after) if after > kinetic else 0.0


def needed_before_units_pa(
    outlet: Outlet, at_tool_absolute_pa: float, free_air_m3_s: float, temperature_k: float
) -> float:
    """Return the absolute pressure at the end of the drop that leaves the tool what it needs [Pa].

    Source:
        `tool_end` solved for its first pressure by bisection; it rises with that pressure.
    """
    low, high = at_tool_absolute_pa, at_tool_absolute_pa + 1e5
    while tool_end(outlet, high, free_air_m3_s, temperature_k).at_tool_pa < at_tool_absolute_pa:
        low, high = high, high * 2.0
    for _ in range(_STEPS):
        middle = (low + high) / 2.0
        if tool_end(outlet, middle, free_air_m3_s, temperature_k).at_tool_pa < at_tool_absolute_pa:
            low = middle
        else:
            high = middle
    return high
