"""What pressure the tank must hold for tools that run together to have theirs."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from drafter.sizing.demand import service_drop_pa
from drafter.sizing.sections import Sections
from drafter.sizing.solving import solve
from drafter.standards.air import atmospheric_pressure_pa, mass_flow_kg_s
from drafter.standards.materials import TubeSize


@dataclass(frozen=True, slots=True)
class ToolAtWork:
    """A tool at its outlet while it runs.

    Attributes:
        needed_pa: gauge pressure it needs at the outlet.
    """

    outlet: str
    tool: str
    free_air_m3_s: float
    needed_pa: float


TankNeed = Callable[[Sequence[ToolAtWork]], Sequence[float]]
"""Gives, for tools that run together, the gauge pressure each needs in the tank [Pa]; infinite where none will do."""


def tank_need(
    sections: Sections, sizes: Mapping[str, TubeSize], treatment_drop_pa: float, temperature_k: float
) -> TankNeed:
    """Return what the tank must hold for tools that run together, in the network as it is sized.

    For fixed flows the drop of squared pressure along a way does not depend on the pressure it begins at, but for
    the little that the air's own speed takes; so one solve, at cut-out, gives the pressure each tool needs. What a
    regulator in the treatment holds is the most that enters the main.

    Source:
        isothermal pipe flow, `drafter.sizing.solving.solver`; drops of units from
        `drafter/standards/components.yaml` as constants.
    """
    site, numbers = sections.layout.site, sections.node_numbers
    atmosphere_pa = atmospheric_pressure_pa(site.altitude_m)
    begin_pa = site.compressor.cut_out_pa + atmosphere_pa
    held_pa = min((unit.set_pa for unit in site.treatment if unit.set_pa is not None), default=math.inf)
    service_pa = {outlet.tag: service_drop_pa(outlet) for outlet in site.outlets}
    start = [numbers[section.start] for section in sections.sections]
    end = [numbers[section.end] for section in sections.sections]
    known: dict[tuple[ToolAtWork, ...], tuple[float, ...]] = {}

    def solved(tools: tuple[ToolAtWork, ...]) -> tuple[float, ...]:
        outflow = np.zeros(len(numbers))
        for tool in tools:
            outflow[sections.coupling_nodes[tool.outlet]] += mass_flow_kg_s(tool.free_air_m3_s)
        solution = solve(
            start, end, *sections.arrays(sizes), len(numbers), outflow, [0], [begin_pa], temperature_k
        )  # fmt: skip
        return tuple(
            at_tank(tool, solution.absolute_pressure_pa[sections.coupling_nodes[tool.outlet]]) for tool in tools
        )

    def at_tank(tool: ToolAtWork, left_pa: float) -> float:
        if tool.needed_pa == 0.0:
            return 0.0
        if math.isnan(left_pa):
            return math.inf
        behind_pa = tool.needed_pa + service_pa[tool.outlet] + atmosphere_pa
        entering_pa = math.sqrt(behind_pa**2 + begin_pa**2 - float(left_pa) ** 2) - atmosphere_pa
        return entering_pa + treatment_drop_pa if entering_pa <= held_pa else math.inf

    def need(tools: Sequence[ToolAtWork]) -> Sequence[float]:
        together = tuple(tools)
        if together not in known:
            known[together] = solved(together) if together else ()
        return known[together]

    return need
