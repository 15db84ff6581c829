"""Sizes a layout: demand, bores, flows and pressures."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

import numpy as np

from drafter.finding import Finding
from drafter.layout.graph import Layout
from drafter.sizing.bores import Choice, choose_bores
from drafter.sizing.cases import Pressures, worst_cases
from drafter.sizing.demand import average_m3_s, free_air_m3_s, largest, outlet_demand, service_drop_pa, together
from drafter.sizing.leak_numbers import leak_numbers
from drafter.sizing.network import Network, OutletFlow, PipeFlow, Supply
from drafter.sizing.sections import Sections, sections_of
from drafter.sizing.solving import pipe_law
from drafter.standards.air import (
    GAS_CONSTANT_J_KG_K,
    atmospheric_pressure_pa,
    line_velocity_m_s,
    mass_flow_kg_s,
    viscosity_pa_s,
)
from drafter.standards.components import component
from drafter.standards.materials import TubeSize, material
from drafter.standards.receiver import draw_down_time_s, stored_energy_j


def size(layout: Layout) -> tuple[Network, tuple[Finding, ...]]:
    """Size a layout.

    Pressures are worked out at the compressor's cut-in, the lowest it works at, with the air as warm as
    the warmest room: both on the safe side.

    Returns:
        The sized network and the findings.

    Source:
        as in the modules called; pressures from `drafter.sizing.solving.solver`.
    """
    site = layout.site
    sections = sections_of(layout, material(site.main.material))
    demands = [outlet_demand(site, outlet) for outlet in site.outlets]
    peaks = {demand.tag: demand.peak_m3_s for demand in demands}
    at_once = together(site)
    atmosphere_pa = atmospheric_pressure_pa(site.altitude_m)
    temperature_k = max(room.warmest_k for room in site.rooms.values())
    supply = _supply(layout, list(peaks.values()), at_once, average_m3_s(site, demands))
    supply_pa = supply.supply_gauge_pa + atmosphere_pa

    @cache
    def solved(main: TubeSize, drop: TubeSize) -> Pressures:
        return worst_cases(sections, sections.sizes(main, drop), peaks, at_once, supply_pa, temperature_k)

    choice, findings = choose_bores(sections, peaks, at_once, supply_pa, temperature_k, solved)
    sizes = sections.sizes(choice.main, choice.drop)
    pressures = solved(choice.main, choice.drop)
    outlets = tuple(
        OutletFlow(
            demand.tag,
            demand.peak_m3_s,
            max(0.0, pressures.outlet_absolute_pa[demand.tag] - atmosphere_pa - service_drop_pa(outlet)),
            demand.needed_pa,
            pressures.together[demand.tag],
        )
        for outlet, demand in zip(site.outlets, demands, strict=True)
    )
    pipes = _pipe_flows(sections, sizes, choice, peaks, at_once, pressures, temperature_k)
    leaks = leak_numbers(layout, sizes, supply.average_m3_s, supply.delivered_m3_s)
    return Network(layout, sections.material, sizes, pipes, outlets, supply, leaks), tuple(findings)


def _supply(layout: Layout, peaks: list[float], at_once: int, average: float) -> Supply:
    site, plant = layout.site, layout.site.compressor
    treatment_pa = sum(
        unit.drop_pa if unit.drop_pa is not None else component(unit.kind).pressure_drop_pa for unit in site.treatment
    )
    entering = plant.cut_in_pa - treatment_pa
    settings = [unit.set_pa for unit in site.treatment if unit.set_pa is not None]
    peak, delivered = largest(peaks, at_once), free_air_m3_s(site, plant.free_air)
    lasts = draw_down_time_s(plant.tank_m3, plant.cut_out_pa, plant.cut_in_pa, peak, delivered)
    return Supply(
        average,
        peak,
        delivered,
        at_once,
        lasts,
        treatment_pa,
        min([entering, *settings]),
        stored_energy_j(plant.tank_m3, plant.cut_out_pa),
    )


def _pipe_flows(
    sections: Sections,
    sizes: Mapping[str, TubeSize],
    choice: Choice,
    peaks: Mapping[str, float],
    at_once: int,
    pressures: Pressures,
    temperature_k: float,
) -> tuple[PipeFlow, ...]:
    """Return flow, speed and loss of every run at the peak of what it feeds; drip legs hang still."""
    layout = sections.layout
    runs = [(run, section) for section in sections.sections for run in section.runs]
    flows = [largest([peaks[tag] for tag in section.outlets], at_once) for _, section in runs]
    bores = [sizes[run.id].bore_m for run, _ in runs]
    law = pipe_law(
        np.array([layout.length_m(run) for run, _ in runs]),
        np.array(bores),
        np.array([sections.roughness_m(run) for run, _ in runs]),
        np.array([sections.loss(run, bore_m) for (run, _), bore_m in zip(runs, bores, strict=True)]),
        temperature_k,
        viscosity_pa_s(temperature_k),
        GAS_CONSTANT_J_KG_K,
    )
    squared = law.drop_pa2(np.array([mass_flow_kg_s(flow) for flow in flows]))
    found = {}
    for (run, section), flow, bore_m, drop_pa2 in zip(runs, flows, bores, squared.tolist(), strict=True):
        before, after = (pressures.node_absolute_pa[node] for node in (section.start, section.end))
        drop = before - max(0.0, before**2 - drop_pa2) ** 0.5
        velocity = line_velocity_m_s(flow, max(after, 1.0), temperature_k, bore_m)
        found[run.id] = PipeFlow(run.id, flow, velocity, drop, choice.reason(run))
    return tuple(
        found.get(run.id) or PipeFlow(run.id, 0.0, 0.0, 0.0, "hangs still; same size as the line it drains")
        for run in layout.runs
    )
