"""What the finished installation asks for through the years: the maintenance card, and its log to fill in.

Intervals are common practice where no source is named. Data plates, makers' instructions and the local law come first.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from drafter.layout.connection import BEHIND_TRAIN
from drafter.layout.graph import Layout, Node, NodeKind
from drafter.quantity import duration
from drafter.sheets.leak_test import opening_text
from drafter.sheets.tables import Column, Table
from drafter.sizing.leak_numbers import ACCEPTED_FALL_PA, TEST_TIME_S
from drafter.sizing.network import Network
from drafter.sizing.water import LEAST_KG
from drafter.standards.components import component
from drafter.standards.rule_sets import rule_set, source_in

LOG_TITLE = "MAINTENANCE LOG"
LOG_ROWS, LOG_MM = (16, 12, 9, 7, 5), 7.5
"""Lengths of the log, the first that costs no sheet of its own is taken; height of a row."""

MEETS_BRASS_BADLY = ("steel", "aluminium")
"""Metals that wet air eats away where they touch copper alloys (galvanic series, handbooks, from memory)."""

_DRYERS = ("refrigeration dryer", "desiccant dryer")
_JET = "slowly, over a bucket; face and hands aside"

CareRow = tuple[str, str, str, str]


def care_rows(network: Network) -> list[CareRow]:
    """Return the plan as rows of when, what to do, where and what it comes to here, and what to mind."""
    return [*_draining(network), *_leaving(network), *_looking(network), *_units(network), *_testing(network)]


def _draining(network: Network) -> Iterator[CareRow]:
    site, layout, units = network.layout.site, network.layout, network.layout.site.units
    tank = next(node.id for node in layout.nodes.values() if node.kind is NodeKind.TANK)
    in_tank = units.water(network.water.warm.at(tank))
    by_hand = site.compressor.drain == "manual"
    do = "open the tank's drain until air comes" if by_hand else "try the tank's automatic drain by hand"
    oily = ", oily: collect it" if site.compressor.oil == "lubricated" else ""
    yield "daily" if by_hand else "weekly", do, f"C-01, up to {in_tank} on a warm day{oily}", _JET
    drains = {node.id: node.tag for node in layout.nodes.values() if node.kind is NodeKind.DRAIN}
    if site.main.drains == "automatic":
        yield "weekly", "see that every drain lets water out; clean it", _named(drains.values()), _JET
        return
    times = {id: _times_a_day(network, id) for id in drains}
    for count in sorted(set(times.values()) - {0}):
        wet = {tag: id for id, tag in drains.items() if times[id] == count}
        here = ", ".join(f"{tag} {units.water(network.water.warm.at(wet[tag]))}" for tag in _in_order(wet))
        yield _often(count), "open these drains until no water comes", f"{here} on a warm day", _JET
    dry = [tag for id, tag in drains.items() if not times[id]]
    if dry:
        yield _often(0), "open the other drains", _named(dry), _JET


def draining_times(network: Network, drain: str) -> str:
    """Return how often the drain at a node is opened by hand, in words."""
    return _often(_times_a_day(network, drain))


def _often(times: int) -> str:
    return ("weekly", "daily")[times] if times < 2 else f"daily, {times} times when warm"


def _times_a_day(network: Network, drain: str) -> int:
    """How often on a warm day; 0 for a drain that gets no water worth the name."""
    wet = {leg.node: leg for leg in network.water.legs if leg.a_day_kg >= LEAST_KG}
    return max(1, wet[drain].times_a_day) if drain in wet else 0


def _leaving(network: Network) -> Iterator[CareRow]:
    leaks, units = network.leaks, network.layout.site.units
    torn = leaks.openings[0]
    here = f"{torn.what}: {opening_text(torn, units)}"
    yield "when leaving", "stop the set, close V-01", here, "the set would run on through a burst hose"


def _looking(network: Network) -> Iterator[CareRow]:
    site, layout, units = network.layout.site, network.layout, network.layout.site.units
    yield (
        "weekly",
        "look and listen for leaks with all tools off; look at the oil",
        "whole line",
        "bleed before mending",
    )
    outlets = _named(outlet.tag for outlet in site.outlets)
    do = "look over hoses, couplings, flexible connection; change what is cut, soft or bulged"
    yield "monthly", do, outlets, "bleed the hose before it is taken off"
    here = f"C-01, set at {units.pressure(site.compressor.relief_pa)}"
    law = source_in(site.rule_set, "29 CFR 1910.169(b)(3)")
    mind = f"stand aside, eye and ear protection; never plug, reset or valve it off ({law})"
    yield "monthly", "try the relief valve as its maker says", here, mind
    valves = _named(node.tag for node in layout.nodes.values() if node.kind is NodeKind.VALVE)
    yield "yearly", "turn each valve", valves, "V-01 must shut and lock"


def _units(network: Network) -> Iterator[CareRow]:
    """Filters by the pressure they may take, dryers, regulators: in the treatment train and at outlets."""
    layout, units = network.layout, network.layout.site.units
    train = [node.tag for node in layout.nodes.values() if node.kind is NodeKind.TREATMENT]
    behind = [node.tag for node in layout.nodes.values() if node.what == BEHIND_TRAIN]
    if train and behind:
        do = f"shut V-01 and {behind[0]}, open D-01 until no air comes"
        yield "before a unit is opened", do, _named(train), "its gauge reads zero, its bowl is bled"
    yield from _units_at_outlets(layout)
    at: dict[str, list[Node]] = {}
    for node in layout.nodes.values():
        if node.kind in (NodeKind.TREATMENT, NodeKind.SERVICE):
            at.setdefault(node.what, []).append(node)
    for kind, nodes in at.items():
        here = _named(node.tag or layout.outlet_at(node) for node in nodes)
        change_pa = component(kind).change_at_pa
        if kind in _DRYERS:
            yield "monthly", f"{kind}: clean, read its dew point, see its drain work", here, "as its manual says"
        elif change_pa is not None:
            when = f"yearly, or when it takes {units.pressure_drop(change_pa)}"
            yield when, f"{kind}: new element", here, "bleed the bowl to zero first"
        else:
            yield "yearly", f"{kind}: see that it works and holds its setting", here, "as its manual says"


def _units_at_outlets(layout: Layout) -> Iterator[CareRow]:
    """What is shut and bled before a unit at an outlet is opened: the valve of its drop, and what hangs below that."""
    served = dict.fromkeys(layout.outlet_at(n) for n in layout.nodes.values() if n.kind is NodeKind.SERVICE)
    here = []
    for outlet in served:
        ids = dict.fromkeys(id for run in layout.runs if run.outlet == outlet for id in (run.start, run.end))
        tags = [layout.nodes[id].tag for id in ids if layout.nodes[id].kind in (NodeKind.VALVE, NodeKind.DRAIN)]
        here.append(f"{outlet}: {', '.join(_in_order(tags)[::-1])}")
    if here:
        do = "shut the valve of its drop, bleed the leg below it until no air comes, couple the hose off"
        yield "before a unit at an outlet is opened", do, "; ".join(here), "its gauge reads zero, its bowl is bled"


def _testing(network: Network) -> Iterator[CareRow]:
    site, leaks, units = network.layout.site, network.leaks, network.layout.site.units
    if leaks.target_m3_s:
        words = ("loaded", "unloaded") if site.compressor.unloads else ("running", "resting")
        if math.isinf(leaks.loaded_s):
            here = f"never {words[1]}"
        else:
            here = f"{words[0]} {duration(leaks.loaded_s)}, {words[1]} {duration(leaks.unloaded_s)}"
        yield "quarterly", "time the set with nothing in use", f"C-01: {here}", "more leaks than allowed for: find them"
    limit = f"{units.pressure(leaks.test_gauge_pa)}, may lose {units.pressure_drop(ACCEPTED_FALL_PA)}"
    before = "".join(f"; V-01 to {part.regulator} alone, {units.pressure(part.gauge_pa)}" for part in leaks.before)
    yield "yearly", f"leak test over {duration(TEST_TIME_S)}", f"whole line, {limit}{before}", "as the test record says"
    yield (
        "yearly",
        "look over brackets, sleeves, labels; hold gauges against a checked one",
        "whole line",
        "safe ladder",
    )
    metal = network.material.name.split()[0]
    if not site.is_dried and metal in MEETS_BRASS_BADLY:
        yield "yearly", f"look for crust where {metal} meets brass", "threads, valves, adapters", "bleed before mending"
    yield "as its manual says", "oil, belts, intake filter, cooler", "C-01", "off, locked out, bled to zero"
    vessel = rule_set(site.rule_set).vessel(site.compressor.rated_pa, site.compressor.tank_m3)
    yield "as the law says", "have the tank inspected inside and out", "C-01", vessel.source


def _in_order(tags: Iterable[str]) -> list[str]:
    return sorted(tags, key=lambda tag: (len(tag), tag))


def _named(tags: Iterable[str]) -> str:
    return ", ".join(_in_order(tags))


def care_table(network: Network) -> Table:
    """The maintenance card."""
    columns = (
        Column("when", widest_mm=32.0), Column("do", widest_mm=55.0), Column("here", widest_mm=60.0),
        Column("mind", widest_mm=55.0),
    )  # fmt: skip
    return Table("MAINTENANCE CARD", columns, tuple(care_rows(network)))


def log_table(rows: int) -> Table:
    """Blank lines for what was done."""
    columns = (
        Column("date", least_mm=20.0), Column("what was done, at which tag", least_mm=60.0),
        Column("read or found", least_mm=32.0), Column("by", least_mm=20.0),
    )  # fmt: skip
    return Table(LOG_TITLE, columns, (("", "", "", ""),) * rows, LOG_MM)
