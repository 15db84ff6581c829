"""What the tools take: at each outlet, together, and over the day. All flows are free air at 20 degC, 1 bar, dry."""

from __future__ import annotations

import math
from dataclasses import dataclass

from drafter.quantity import Quantity
from drafter.site.model import Outlet, Site, ToolUse
from drafter.site.work import uses_at
from drafter.standards.air import find_flow_basis, to_free_air
from drafter.standards.components import component
from drafter.standards.limits import simultaneity
from drafter.standards.tools import find_tool


@dataclass(frozen=True, slots=True)
class OutletDemand:
    """What one outlet wants.

    Attributes:
        peak_m3_s: flow of the largest tool used there; one tool hangs on a coupling at a time.
        average_m3_s: over the working day.
        needed_pa: gauge pressure of the most demanding tool.
    """

    tag: str
    peak_m3_s: float
    average_m3_s: float
    needed_pa: float


def free_air_m3_s(site: Site, flow: Quantity) -> float:
    """Return a flow of the site file at 20 degC, 1 bar: on its unit's own basis, or on the file's [m3/s].

    Source:
        equal mass, `drafter.standards.air.to_free_air`.
    """
    basis = find_flow_basis(flow.basis or site.flow_basis)
    assert basis is not None
    return to_free_air(flow.value, basis)


def outlet_demand(site: Site, outlet: Outlet) -> OutletDemand:
    """Return what an outlet wants; one without tools is counted as one with a blow gun.

    Source:
        the site file's own figures, else `drafter/standards/tools.yaml`; one tool on a coupling at a time.
    """
    figures = [tool_figures(site, use) for use in uses_at(outlet)]
    share = min(1.0, 1.0 / max(1e-9, sum(use for _, _, use in figures)))
    return OutletDemand(
        outlet.tag,
        max(flow for flow, _, _ in figures),
        share * sum(flow * use for flow, _, use in figures),
        outlet.pressure_pa or max(pressure for _, pressure, _ in figures),
    )


def tool_figures(site: Site, use: ToolUse) -> tuple[float, float, float]:
    """Return flow [m3/s], gauge pressure [Pa] and use factor of a tool: its own figures before the table's.

    Source:
        the site file, else `drafter/standards/tools.yaml`.
    """
    typical = find_tool(use.tool)
    flow = typical.free_air_m3_s if typical else 0.0
    if use.free_air is not None:
        flow = free_air_m3_s(site, use.free_air)
    pressure = use.pressure_pa or (typical.gauge_pressure_pa if typical else 0.0)
    share = use.use if use.use is not None else (typical.use_factor if typical else 0.3)
    return flow, pressure, share


def service_drop_pa(outlet: Outlet) -> float:
    """Return the pressure lost in the units at an outlet, which the piping does not answer for [Pa].

    Source:
        `drafter/standards/components.yaml`.
    """
    return sum(component(unit).pressure_drop_pa for unit in outlet.service)


def together(site: Site) -> int:
    """Return how many outlets are used at once: as the site file says, or by the simultaneity table.

    Source:
        `drafter.standards.limits.simultaneity`.
    """
    count = len(site.outlets)
    if site.demand.at_once is not None:
        return min(count, site.demand.at_once)
    return max(1, math.ceil(count * simultaneity(count) - 1e-9))


def leakage_m3_s(site: Site, demands: list[OutletDemand]) -> float:
    """Return what leaks all the time: its share of the day's average, growth left out [m3/s].

    Source:
        mass balance; share as in the demand tables of compressed-air handbooks.
    """
    tools = sum(demand.average_m3_s for demand in demands)
    return tools * site.demand.leakage / (1 - site.demand.leakage)


def average_m3_s(site: Site, demands: list[OutletDemand]) -> float:
    """Return the day's average with leakage and growth: sum / (1 - leakage) * (1 + growth) [m3/s].

    Source:
        mass balance; load factor and leakage as in the demand tables of compressed-air handbooks.
    """
    tools = sum(demand.average_m3_s for demand in demands)
    return tools / (1 - site.demand.leakage) * (1 + site.demand.growth)


def largest(flows: list[float], count: int) -> float:
    """Return the sum of the ``count`` largest flows.

    Source:
        arithmetic.
    """
    return sum(sorted(flows, reverse=True)[:count])
