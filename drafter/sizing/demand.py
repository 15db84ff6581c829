"""What the tools take: at each outlet, together, and over the day. All flows are free air at 20 degC, 1 bar, dry."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from drafter.quantity import Quantity
from drafter.site.model import DemandCase, Outlet, Site, ToolUse
from drafter.site.work import find_outlet, find_use, runs_of, uses_at
from drafter.standards.air import atmospheric_pressure_pa, find_flow_basis, intake_to_free_air, to_free_air
from drafter.standards.components import component
from drafter.standards.limits import simultaneity
from drafter.standards.tools import find_tool

USE_WHERE_NONE_IS_KNOWN = 0.3


@dataclass(frozen=True, slots=True)
class OutletDemand:
    """What one outlet wants.

    Attributes:
        peak_m3_s: flow of the largest tool used there; one tool hangs on a coupling at a time.
        average_m3_s: over the working day.
        needed_pa: gauge pressure at the most demanding tool.
    """

    tag: str
    peak_m3_s: float
    average_m3_s: float
    needed_pa: float


@dataclass(frozen=True)
class Case:
    """Outlets that run together, and what each takes [m3/s] by its tag."""

    name: str
    flows_m3_s: Mapping[str, float]

    @property
    def total_m3_s(self) -> float:
        return sum(self.flows_m3_s.values())


@dataclass(frozen=True)
class SiteDemand:
    """What a whole site wants.

    Attributes:
        outlets: in the order of the site file.
        at_once: how many outlets run together at most, where the site file names no case.
        written: the cases of the site file.
    """

    outlets: tuple[OutletDemand, ...]
    at_once: int
    written: tuple[Case, ...]

    @property
    def peaks_m3_s(self) -> Mapping[str, float]:
        """What each outlet may take, by tag."""
        return {demand.tag: demand.peak_m3_s for demand in self.outlets}

    @property
    def average_m3_s(self) -> float:
        """What the tools take over the working day, without leakage and growth."""
        return sum(demand.average_m3_s for demand in self.outlets)

    def peak_m3_s(self, tags: Sequence[str]) -> float:
        """The most that some outlets take together: the largest of those that may run at once, or a written case."""
        peaks = self.peaks_m3_s
        written = (sum(case.flows_m3_s.get(tag, 0.0) for tag in tags) for case in self.written)
        return max(largest([peaks[tag] for tag in tags], self.at_once), *written, 0.0)


def delivered_m3_s(site: Site) -> float:
    """Return what the compressor delivers at 20 degC, 1 bar, dry [m3/s].

    Source:
        as `free_air_m3_s`; of site air the vapour that is taken in is left out, as it falls out on the way.
    """
    plant = site.compressor
    return free_air_m3_s(site, plant.free_air, plant.intake_humidity)


def free_air_m3_s(site: Site, flow: Quantity, relative_humidity: float = 0.0) -> float:
    """Return a flow of the site file at 20 degC, 1 bar: on its unit's own basis, or on the file's [m3/s].

    Site air is taken at the site's altitude, as warm as the compressor's room gets: the least mass.

    Args:
        relative_humidity: of site air, 0 to 1 [1].

    Source:
        equal mass of dry air, `drafter.standards.air.to_free_air` and `intake_to_free_air`.
    """
    basis = find_flow_basis(flow.basis or site.flow_basis)
    if basis is not None:
        return to_free_air(flow.value, basis)
    warmest_k = site.rooms[site.compressor.room].warmest_k
    return intake_to_free_air(flow.value, atmospheric_pressure_pa(site.altitude_m), warmest_k, relative_humidity)


def site_demand(site: Site) -> SiteDemand:
    """Return what the outlets of a site want, and what runs together.

    Source:
        as in the functions called; where the site file names cases and no number at once, the largest case
        says how many run at once.
    """
    written = (*(_written(site, case) for case in site.demand.cases), *_of_work(site))
    return SiteDemand(tuple(outlet_demand(site, outlet) for outlet in site.outlets), together(site), written)


def outlet_demand(site: Site, outlet: Outlet) -> OutletDemand:
    """Return what an outlet wants; one without tools is counted as one with a blow gun.

    Source:
        the site file's own figures, else `drafter/standards/tools.yaml`; one tool on a coupling at a time.
    """
    figures = [tool_figures(site, use) for use in uses_at(outlet)]
    share = min(1.0, 1.0 / max(1e-9, sum(each.use for each in figures)))
    return OutletDemand(
        outlet.tag,
        max(each.free_air_m3_s for each in figures),
        share * sum(each.free_air_m3_s * each.use for each in figures),
        outlet.pressure_pa or max(each.needed_pa for each in figures),
    )


@dataclass(frozen=True, slots=True)
class ToolFigures:
    """Free air [m3/s], gauge pressure [Pa] and use factor [1] of a tool."""

    free_air_m3_s: float
    needed_pa: float
    use: float


def tool_figures(site: Site, use: ToolUse) -> ToolFigures:
    """Return the figures of a tool: its own before the table's.

    Source:
        the site file (data plate), else `drafter/standards/tools.yaml`.
    """
    typical = find_tool(use.tool)
    flow = typical.free_air_m3_s if typical else 0.0
    if use.free_air is not None:
        flow = free_air_m3_s(site, use.free_air)
    pressure = use.pressure_pa or (typical.gauge_pressure_pa if typical else 0.0)
    share = use.use if use.use is not None else (typical.use_factor if typical else USE_WHERE_NONE_IS_KNOWN)
    return ToolFigures(flow, pressure, share)


def _written(site: Site, case: DemandCase) -> Case:
    flows = {}
    for use in case.running:
        outlet = find_outlet(site.outlets, use.outlet)
        assert outlet is not None
        tool = find_use(outlet, use.tool) if use.tool else None
        tools = (tool,) if tool else uses_at(outlet)
        flows[outlet.tag] = max(tool_figures(site, each).free_air_m3_s for each in tools)
    return Case(case.name, flows)


def _of_work(site: Site) -> Iterator[Case]:
    """Yield what runs together in the work pattern, each set once; what another set holds too is left out."""
    if site.work is None:
        return
    runs: list[tuple[float, float, str, float]] = []
    for run, outlet, use in runs_of(site):
        flow = tool_figures(site, use).free_air_m3_s
        runs += [(*times, outlet.tag, flow) for times in run.times_s(site.work.length_s)]
    sets: dict[tuple[tuple[str, float], ...], None] = {}
    for moment in sorted({start_s for start_s, *_ in runs}):
        flows: dict[str, float] = {}
        for start_s, end_s, tag, flow in runs:
            if start_s <= moment < end_s:
                flows[tag] = flows.get(tag, 0.0) + flow
        sets[tuple(sorted(flows.items()))] = None
    for each in sets:
        others = (dict(other) for other in sets if other != each)
        if not any(all(flow <= other.get(tag, 0.0) for tag, flow in each) for other in others):
            yield Case("work pattern", dict(each))


def together(site: Site) -> int:
    """Return how many outlets are used at once: as the site file says, or by the simultaneity table.

    Source:
        `drafter.standards.limits.simultaneity`.
    """
    count = len(site.outlets)
    if site.demand.at_once is not None:
        return min(count, site.demand.at_once)
    if site.demand.cases:
        return max(len(case.running) for case in site.demand.cases)
    return max(1, math.ceil(count * simultaneity(count) - 1e-9))


def leakage_m3_s(site: Site, demand: SiteDemand) -> float:
    """Return what leaks all the time: its share of the day's average, growth left out [m3/s].

    Source:
        mass balance; share as in the demand tables of compressed-air handbooks.
    """
    return demand.average_m3_s * site.demand.leakage / (1 - site.demand.leakage)


def purge_m3_s(site: Site, average_m3_s: float) -> float:
    """Return what the dryers of the treatment use up themselves while an average flow passes them [m3/s].

    Source:
        mass balance; shares of `drafter/standards/components.yaml`.
    """
    passed = math.prod(1.0 - component(unit.kind).purge_share for unit in site.treatment)
    return average_m3_s * (1.0 / passed - 1.0)


def design_average_m3_s(site: Site, demand: SiteDemand) -> float:
    """Return the day's average with leakage and growth: tools / (1 - leakage) * (1 + growth) [m3/s].

    Source:
        mass balance; load factor and leakage as in the demand tables of compressed-air handbooks.
    """
    return demand.average_m3_s / (1 - site.demand.leakage) * (1 + site.demand.growth)


def largest(flows: Sequence[float], count: int) -> float:
    """Return the sum of the ``count`` largest flows.

    Source:
        arithmetic.
    """
    return sum(sorted(flows, reverse=True)[:count])
