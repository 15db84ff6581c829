"""Results as text: demand and supply, sizes with their reasons, outlets, brackets, route."""

from __future__ import annotations

from collections import Counter

from drafter.quantity import Units
from drafter.report.blocks import FREE_AIR, block, columns, percent
from drafter.report.expansion import expansion_lines
from drafter.report.ladders import ladder_lines
from drafter.report.leak_test import leak_test_text
from drafter.report.reach import reach_text
from drafter.report.sizes import size_lines
from drafter.report.spare_tees import spare_text
from drafter.report.tank import tank_block
from drafter.report.water import water_text
from drafter.sheets.care import care_rows
from drafter.sheets.rule_set import rule_set_rows
from drafter.sizing.network import Network, OutletFlow
from drafter.supports.design import Design
from drafter.supports.free_pipe import Holds, swan_necks
from drafter.supports.hose_end import hose_end_words
from drafter.supports.lines import BEYOND_M, SHORTEST_M, near_fitting_words
from drafter.takeoff.bend_words import turns_words
from drafter.takeoff.holding import held_by


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
        tank_block(network.tank, units),
        block(f"SIZES AND LENGTHS ({network.material.title})", size_lines(network)),
        block("OUTLETS (gauge pressure, compressor at cut-in)", columns(_outlet_rows(network))),
        spare_text(network),
        reach_text(network),
        block(f"WHERE THE PRESSURE GOES ({'psi' if site.imperial else 'bar'})", ladder_lines(network)),
        water_text(network),
        block(
            "BRACKETS",
            [
                f"{len(design.brackets)}, of them {fixed} fixed points",
                *_held(design),
                _near(design),
                *_necks(design),
                *filter(None, [hose_end_words(network.layout, design.brackets)]),
            ],
        ),
        block("WHAT THE MAIN GROWS FROM THE COLDEST TO THE WARMEST AIR", expansion_lines(design)),
        leak_test_text(network),
        block("CARE", columns([row[:3] for row in care_rows(network)])),
        block("RULES AND LABELS", columns(_rules(network))),
        block("ROUTE", [*network.layout.reasons, *_turns(network)]),
    ]
    return "\n\n".join(block for block in blocks if block)


def _rules(network: Network) -> list[tuple[str, str]]:
    return [(what, f"{here} ({source})" if source else here) for what, here, source in rule_set_rows(network)]


def _turns(network: Network) -> list[str]:
    return [f"Turns: {turns_words(network)}."] if network.layout.site.main.turns == "bent" else []


def _held(design: Design) -> list[str]:
    """How many brackets are on studs, joists, boards, columns; nothing where all are on bare walls."""
    count = Counter(held_by(bracket)[0] for bracket in design.brackets)
    names = {
        "stud": "studs", "joist": "joists", "board": "backing boards", "column": "columns", "wall": "bare wall",
        "ceiling": "the ceiling",
    }  # fmt: skip
    told = [f"{count[place]} on {name}" for place, name in names.items() if count[place]]
    lines = [", ".join(told)] if set(count) - {"wall"} else []
    consoles = sum(bool(console.board) for console in design.consoles)
    if design.boards:
        also = f", {consoles} of the consoles too" if consoles else ""
        lines.append(f"{len(design.boards)} backing board{'' if len(design.boards) == 1 else 's'} carry them{also}")
    return lines


def _near(design: Design) -> str:
    """The rule of brackets near fittings, with its exceptions."""
    units = design.network.layout.site.units
    beyond, short = (units.length_with_unit(units.set_out_m(each)) for each in (BEYOND_M, SHORTEST_M))
    studs = f", or up to {beyond} farther on a stud" if design.boards else ""
    return (
        f"one {near_fitting_words(design.network)} (UFGS 15561A){studs}; "
        f"pieces shorter than {short} between two of them hang on their neighbours' where that leaves no fitting "
        "of the main without a bracket on one side at least, nor more pipe free, measured round corners and through "
        "walls, than between two brackets on the straight (common practice)"
    )


def _necks(design: Design) -> list[str]:
    """The swan necks that hang free for longer than brackets may stand apart; nothing where none does."""
    network, units = design.network, design.network.layout.site.units
    holds = Holds(network, design.brackets, [console.node for console in design.consoles])
    longest = max(
        (free for free in swan_necks(network, holds) if free.is_too_long), key=lambda f: f.length_m, default=None
    )
    if longest is None:
        return []
    free, usual = units.length_with_unit(longest.length_m), units.length_with_unit(longest.limit_m)
    return [
        f"swan necks hang between the main's brackets and the first of their drop, up to {free} of pipe where {usual} "
        "is the most elsewhere: between main and wall no bracket gets at them"
    ]


def _supply_rows(network: Network, units: Units) -> list[tuple[str, str]]:
    supply, demand = network.supply, network.layout.site.demand
    held = (
        "; the compressor is held against the work pattern"
        if network.tank.work
        else "; the compressor is held against it"
    )
    if supply.purge_m3_s and not network.tank.work:
        held += " and what the dryers use up"
    return [
        ("compressor delivers", units.free_air(supply.delivered_m3_s)),
        ("tools, on average", units.free_air(supply.tools_average_m3_s)),
        (
            "with leakage, growth",
            f"{units.free_air(supply.average_m3_s)}, {percent(supply.average_m3_s / supply.delivered_m3_s)} of it; "
            f"{percent(demand.leakage)} leakage and {percent(demand.growth)} growth{held}",
        ),
        *([("dryers use up", f"{units.free_air(supply.purge_m3_s)} more")] if supply.purge_m3_s else []),
        (f"peak, {supply.at_once} at once", f"{units.free_air(supply.peak_m3_s)}; the pipes are held against it"),
        ("treatment takes", units.pressure_drop(supply.treatment_drop_pa)),
        ("into the main at cut-in", f"{units.pressure(supply.supply_gauge_pa)} gauge"),
        ("stored in the tank", f"{units.energy(supply.stored_energy_j)} at cut-out"),
    ]


def _outlet_rows(network: Network) -> list[tuple[str, ...]]:
    units = network.layout.site.units

    def row(flow: OutletFlow) -> tuple[str, ...]:
        needed = units.pressure(flow.needed_pa) if flow.needed_pa else "not known"
        together = ", ".join(flow.together_with) or "none"
        before, behind = units.pressure(flow.gauge_pressure_pa), units.pressure(flow.tool_pressure_pa)
        return flow.tag, units.free_air(flow.free_air_m3_s), before, behind, needed, together

    heads = ("tag", "free air", "before the coupling", "at the tool", "needed", "worst with")
    return [heads, *map(row, network.outlets)]
