"""Results as text: demand and supply, sizes with their reasons, outlets, brackets, route."""

from __future__ import annotations

import math

from drafter.layout.graph import Run
from drafter.quantity import Units
from drafter.report.blocks import FREE_AIR, block, columns, percent
from drafter.report.water import water_text
from drafter.sizing.network import Network, OutletFlow
from drafter.supports.design import Design


def results_text(design: Design) -> str:
    """Return demand against supply, sizes with their reasons, pressures, lengths and brackets."""
    network = design.network
    site, units = network.layout.site, network.layout.site.units
    drawing = site.drawing
    head = ", ".join(part for part in (f"Drawing {drawing.number}, revision {drawing.revision}", drawing.date) if part)
    fixed = sum(bracket.fixed for bracket in design.brackets)
    blocks = [
        f"{site.name}\n{head}",
        block(f"DEMAND AND SUPPLY ({FREE_AIR}; gauge pressures)", columns(_supply_rows(network, units))),
        block(f"SIZES AND LENGTHS ({network.material.title})", columns(_size_rows(network, units))),
        block("OUTLETS (gauge pressure before the coupling, compressor at cut-in)", columns(_outlet_rows(network))),
        water_text(network),
        block("BRACKETS", [f"{len(design.brackets)}, of them {fixed} fixed points"]),
        block("ROUTE", network.layout.reasons),
    ]
    return "\n\n".join(block for block in blocks if block)


def _supply_rows(network: Network, units: Units) -> list[tuple[str, str]]:
    supply, demand = network.supply, network.layout.site.demand
    lasts = supply.tank_lasts_s
    return [
        ("compressor delivers", units.free_air(supply.delivered_m3_s)),
        (
            "average demand",
            f"{units.free_air(supply.average_m3_s)}, {percent(supply.average_m3_s / supply.delivered_m3_s)} of it; "
            f"leakage {percent(demand.leakage)} and growth {percent(demand.growth)} included",
        ),
        (f"peak, {supply.at_once} at once", units.free_air(supply.peak_m3_s)),
        ("tank carries the peak", "as long as wanted" if math.isinf(lasts) else f"{lasts:.0f} s, cut-out to cut-in"),
        ("treatment takes", units.pressure_drop(supply.treatment_drop_pa)),
        ("lowest into the main", f"{units.pressure(supply.supply_gauge_pa)} gauge"),
        ("stored in the tank", f"{supply.stored_energy_j / 1000:.0f} kJ at cut-out"),
    ]


def _size_rows(network: Network, units: Units) -> list[tuple[str, ...]]:
    """One row for each size of the main and of the drops, with what decided it."""
    layout = network.layout
    groups: dict[tuple[str, str], list[Run]] = {}
    for run in layout.runs:
        groups.setdefault(("drops" if run.outlet else "main", network.sizes[run.id].name), []).append(run)
    rows: list[tuple[str, ...]] = [("", "size", "length", "fastest air", "why")]
    for (line, size), runs in groups.items():
        fastest = max((network.pipe(run.id) for run in runs), key=lambda pipe: pipe.velocity_m_s)
        length = units.long_length(sum(layout.length_m(run) for run in runs))
        rows.append((line, size, length, units.velocity(fastest.velocity_m_s), fastest.decided_by))
    return rows


def _outlet_rows(network: Network) -> list[tuple[str, ...]]:
    units = network.layout.site.units

    def row(flow: OutletFlow) -> tuple[str, ...]:
        needed = units.pressure(flow.needed_pa) if flow.needed_pa else "not known"
        together = ", ".join(flow.together_with) or "none"
        return flow.tag, units.free_air(flow.free_air_m3_s), units.pressure(flow.gauge_pressure_pa), needed, together

    return [("tag", "free air", "pressure", "needed", "worst with"), *map(row, network.outlets)]
