"""What pressure the tank must hold for tools that run together to have theirs."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

from drafter.sizing.cases import Piping, Sizes
from drafter.sizing.demand import Case
from drafter.sizing.ladder import treatment_drop_pa
from drafter.sizing.tool_end import needed_before_units_pa
from drafter.standards.air import atmospheric_pressure_pa


@dataclass(frozen=True, slots=True)
class ToolAtWork:
    """A tool at its outlet while it runs.

    Attributes:
        needed_pa: gauge pressure it needs, behind coupling and hose.
    """

    outlet: str
    tool: str
    free_air_m3_s: float
    needed_pa: float


TankNeed = Callable[[Sequence[ToolAtWork]], Sequence[float]]
"""Gives, for tools that run together, the gauge pressure each needs in the tank [Pa]; infinite where none will do."""


def tank_need(piping: Piping, sizes: Sizes) -> TankNeed:
    """Return what the tank must hold for tools that run together, in the network as it is sized.

    For fixed flows the drop of squared pressure along a way does not depend on the pressure it begins at, but for
    the little that the air's own speed takes; so one solve, at cut-out, gives the pressure each tool needs. What a
    regulator in the treatment holds is the most that enters the main.

    Source:
        isothermal pipe flow, `drafter.sizing.solving`; coupling, hose and units by `drafter.sizing.tool_end`.
    """
    site = piping.sections.layout.site
    atmosphere_pa = atmospheric_pressure_pa(site.altitude_m)
    begin_pa, taken_pa = site.compressor.cut_out_pa + atmosphere_pa, treatment_drop_pa(site)
    held_pa = min((unit.set_pa for unit in site.treatment if unit.set_pa is not None), default=math.inf)
    filled = Piping(piping.sections, piping.demand, begin_pa, piping.temperature_k)
    outlets = {outlet.tag: outlet for outlet in site.outlets}

    def need(tools: Sequence[ToolAtWork]) -> Sequence[float]:
        flows: dict[str, float] = {}
        for tool in tools:
            flows[tool.outlet] = flows.get(tool.outlet, 0.0) + tool.free_air_m3_s
        solved = filled.solve(sizes, Case("at work", flows)) if flows else None
        return [at_tank(tool, filled.at_coupling_pa(solved, tool.outlet)) for tool in tools] if solved else []

    @cache
    def behind_pa(tool: ToolAtWork) -> float:
        at_tool_pa = tool.needed_pa + atmosphere_pa
        return needed_before_units_pa(outlets[tool.outlet], at_tool_pa, tool.free_air_m3_s, piping.temperature_k)

    def at_tank(tool: ToolAtWork, left_pa: float) -> float:
        if tool.needed_pa == 0.0:
            return 0.0
        if left_pa == 0.0:
            return math.inf
        entering_pa = math.sqrt(behind_pa(tool) ** 2 + begin_pa**2 - left_pa**2) - atmosphere_pa
        return entering_pa + taken_pa if entering_pa <= held_pa else math.inf

    return need
