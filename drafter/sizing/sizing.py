"""Sizes a layout: demand, bores, flows and pressures."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from drafter.finding import Finding, Severity
from drafter.layout.graph import Layout
from drafter.site.model import Outlet, Site
from drafter.sizing.arm_shut import arms_shut
from drafter.sizing.bores import Choice, choose_bores
from drafter.sizing.cases import Piping
from drafter.sizing.demand import SiteDemand, delivered_m3_s, design_average_m3_s, leakage_m3_s, purge_m3_s, site_demand
from drafter.sizing.explaining import explained
from drafter.sizing.groups import sizes_of_sections
from drafter.sizing.ladder import ladder, supply_gauge_pa, treatment_drop_pa
from drafter.sizing.leak_numbers import leak_numbers
from drafter.sizing.network import Network, OutletFlow, PipeFlow, SizeChoice, Supply
from drafter.sizing.sections import sections_of
from drafter.sizing.solving import pipe_law
from drafter.sizing.spare_tees import spare_flows
from drafter.sizing.tank_need import tank_need
from drafter.sizing.tank_over_time import tank_over_time
from drafter.sizing.tool_end import needed_before_units_pa, service_drop_pa, tool_end
from drafter.standards.air import (
    GAS_CONSTANT_J_KG_K,
    atmospheric_pressure_pa,
    line_velocity_m_s,
    mass_flow_kg_s,
    viscosity_pa_s,
)
from drafter.standards.limits import OUTLET_MARGIN_PA
from drafter.standards.receiver import stored_energy_j


def size(layout: Layout) -> tuple[Network, tuple[Finding, ...]]:
    """Size a layout.

    Pressures are worked out at the compressor's cut-in, the lowest it works at, with the air as warm as
    the warmest room: both on the safe side.

    Returns:
        The sized network and the findings.

    Source:
        as in the modules called; pressures from `drafter.sizing.solving`.
    """
    piping = piping_of(layout)
    choice = choose_bores(piping, _needed_pa(piping))
    choices = explained(piping, choice)
    sizes = sizes_of_sections(piping, choice.groups, choice.chosen)
    supply = _supply(layout.site, piping.demand)
    leakage = leakage_m3_s(layout.site, piping.demand)
    need = tank_need(piping, sizes)
    network = Network(
        layout,
        piping.sections.material,
        piping.sections.run_sizes(sizes),
        choices,
        choice.gap,
        _pipe_flows(piping, choice, choices),
        tuple(_outlet_flow(piping, choice, outlet) for outlet in layout.site.outlets),
        arms_shut(piping, sizes),
        supply,
        tank_over_time(layout.site, supply.at_once, supply.average_m3_s, leakage, supply.purge_m3_s, need),
        leak_numbers(layout, piping.sections.run_sizes(sizes), leakage, supply.delivered_m3_s),
        spare_flows(piping, sizes, choice.results),
    )
    return network, (*_too_fast(piping, choice), *_choked(piping, choice))


def piping_of(layout: Layout) -> Piping:
    """Return the piping of a layout with the air that enters it at the compressor's cut-in.

    Source:
        as in the modules called.
    """
    site = layout.site
    return Piping(
        sections_of(layout, site.material),
        site_demand(site),
        supply_gauge_pa(site) + atmospheric_pressure_pa(site.altitude_m),
        max(room.warmest_k for room in site.rooms.values()),
    )


def _needed_pa(piping: Piping) -> dict[str, float]:
    """Absolute pressure wanted at the end of each drop: the tool's own, and its margin before the coupling [Pa]."""
    site = piping.sections.layout.site
    atmosphere_pa = atmospheric_pressure_pa(site.altitude_m)
    needed = {}
    for outlet, demand in zip(site.outlets, piping.demand.outlets, strict=True):
        at_tool_pa = demand.needed_pa + atmosphere_pa
        by_tool = needed_before_units_pa(outlet, at_tool_pa, demand.peak_m3_s, piping.temperature_k)
        needed[outlet.tag] = max(by_tool, at_tool_pa + OUTLET_MARGIN_PA.value + service_drop_pa(outlet))
    return needed


def _supply(site: Site, demand: SiteDemand) -> Supply:
    plant = site.compressor
    average = design_average_m3_s(site, demand)
    peak = demand.peak_m3_s([each.tag for each in demand.outlets])
    delivered = delivered_m3_s(site)
    return Supply(
        demand.average_m3_s,
        average,
        purge_m3_s(site, average),
        peak,
        delivered,
        demand.at_once,
        treatment_drop_pa(site),
        supply_gauge_pa(site),
        stored_energy_j(plant.tank_m3, plant.cut_out_pa),
    )


def _outlet_flow(piping: Piping, choice: Choice, outlet: Outlet) -> OutletFlow:
    solved = choice.results.worst[outlet.tag]
    flow = solved.case.flows_m3_s[outlet.tag]
    atmosphere_pa = atmospheric_pressure_pa(piping.sections.layout.site.altitude_m)
    end = tool_end(outlet, piping.at_coupling_pa(solved, outlet.tag), flow, piping.temperature_k)
    needed = next(each.needed_pa for each in piping.demand.outlets if each.tag == outlet.tag)
    return OutletFlow(
        outlet.tag,
        flow,
        max(0.0, end.before_coupling_pa - atmosphere_pa),
        max(0.0, end.at_tool_pa - atmosphere_pa),
        needed,
        solved.case.name,
        tuple(tag for tag in solved.case.flows_m3_s if tag != outlet.tag),
        ladder(piping, outlet, solved),
    )


def _pipe_flows(piping: Piping, choice: Choice, choices: tuple[SizeChoice, ...]) -> tuple[PipeFlow, ...]:
    """Return flow, speed and loss of every run at the peak of what it feeds; drip legs hang still."""
    sections, lowest = piping.sections, choice.results.lowest_absolute_pa
    layout = sections.layout
    sizes = sections.run_sizes(sizes_of_sections(piping, choice.groups, choice.chosen))
    why = {run: each.decided_by for each in choices for run in each.runs}
    runs = [(run, index) for index, section in enumerate(sections.sections) for run in section.runs]
    flows = [
        float(choice.results.peak_m3_s[index])
        if sections.sections[index].ring
        else piping.demand.peak_m3_s(sections.sections[index].outlets)
        for _, index in runs
    ]
    bores = [sizes[run.id].bore_m for run, _ in runs]
    law = pipe_law(
        np.array([layout.length_m(run) for run, _ in runs]),
        np.array(bores),
        np.array([sections.roughness_m(run) for run, _ in runs]),
        np.array([sections.loss(run, sizes[run.id]) for run, _ in runs]),
        piping.temperature_k,
        viscosity_pa_s(piping.temperature_k),
        GAS_CONSTANT_J_KG_K,
    )
    squared = law.drop_pa2(np.array([mass_flow_kg_s(flow) for flow in flows]))
    found = {}
    for (run, index), flow, bore_m, drop_pa2 in zip(runs, flows, bores, squared.tolist(), strict=True):
        section = sections.sections[index]
        before, after = sorted((lowest[section.start], lowest[section.end]), reverse=True)
        drop = before - max(0.0, before**2 - drop_pa2) ** 0.5
        passes = after if after > 0.0 else piping.supply_absolute_pa
        velocity = line_velocity_m_s(flow, passes, piping.temperature_k, bore_m)
        found[run.id] = PipeFlow(run.id, flow, velocity, drop, why[run.id])
    return tuple(
        found.get(run.id) or PipeFlow(run.id, 0.0, 0.0, 0.0, "hangs still; same size as the line it drains")
        for run in layout.runs
    )


def _too_fast(piping: Piping, choice: Choice) -> Iterator[Finding]:
    """Yield SIZE001 once for the main and once for the drops, where no size keeps the velocity limit."""
    layout, family = piping.sections.layout, piping.sections.material
    units = layout.site.units
    for part in ("main", "drops"):
        groups = [group for group in choice.groups if not group.fits and group.is_drop == (part == "drops")]
        if groups:
            worst = max(groups, key=lambda group: group.peak_m3_s)
            priced = layout.site.main.prices
            larger = "price larger sizes too" if priced else "choose a material with larger sizes"
            yield Finding(
                "SIZE001",
                Severity.WARNING,
                layout.site.main.where("prices" if priced else "material"),
                f"no {'priced ' if priced else ''}size of {family.name} carries "
                f"{units.free_air(worst.peak_m3_s)} in the {part} below {units.velocity(worst.velocity_limit_m_s)}",
                part,
                fix=f"{larger}, or let fewer outlets run at once; the largest size is drawn",
            )


def _choked(piping: Piping, choice: Choice) -> Iterator[Finding]:
    """Yield SIZE002 once for each stretch that cannot pass its flow at all."""
    layout = piping.sections.layout
    site, units = layout.site, layout.site.units
    worst: dict[int, tuple[float, float, str]] = {}
    for tag, solved in choice.results.worst.items():
        for index, asked, limit in solved.choked:
            if index not in worst or asked - limit > worst[index][0] - worst[index][1]:
                worst[index] = (asked, limit, tag)
    for index, (asked, limit, tag) in worst.items():
        group = choice.groups[choice.group_of(index)]
        run = piping.sections.sections[index].runs[0]
        flow, most = units.free_air(asked), units.free_air(limit)
        yield Finding(
            "SIZE002",
            Severity.ERROR,
            site.main.where("drop_size" if run.outlet else "size"),
            f"the {group.where} ({run.id}) is asked for {flow} in the worst case of {tag} and can pass {most} at most",
            run.outlet or "main",
            flow,
            most,
            "take a larger size or a material with larger sizes, or let fewer outlets run at once",
            source="isothermal flow chokes at the Mach number 1/sqrt(kappa)",
        )
