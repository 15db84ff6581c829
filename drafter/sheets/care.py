"""What the finished installation asks for: a plan of its care, and a record of its first test to fill in and sign.

Intervals are common practice, the relief valve's after 29 CFR 1910.169(b)(3): tested frequently. Data plates, makers'
instructions and the local law come first.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from drafter.layout.graph import NodeKind
from drafter.quantity import duration
from drafter.sheets.leak_test import opening_text
from drafter.sheets.tables import Column, Table
from drafter.sizing.leak_numbers import ACCEPTED_FALL_PA, TEST_TIME_S
from drafter.sizing.network import Network
from drafter.standards.components import component
from drafter.standards.rule_sets import rule_set

BLANK = "." * 30
WIDEST_MM = 75.0


def care_rows(network: Network) -> list[tuple[str, str, str]]:
    """Return the plan as rows of when, what to do, and what it comes to here."""
    return [*_draining(network), *_leaving(network), *_looking(network), *_testing(network)]


def _draining(network: Network) -> Iterator[tuple[str, str, str]]:
    site, layout, units = network.layout.site, network.layout, network.layout.site.units
    tank = next(node.id for node in layout.nodes.values() if node.kind is NodeKind.TANK)
    in_tank = units.water(network.water.warm.at(tank))
    by_hand = site.compressor.drain == "manual"
    do = "open the tank's drain until air comes" if by_hand else "try the tank's automatic drain by hand"
    oily = ", it is oily" if site.compressor.oil == "lubricated" else ""
    yield "daily" if by_hand else "weekly", do, f"up to {in_tank} on a warm day; collect it{oily}"
    drains = {node.id: node.tag for node in layout.nodes.values() if node.kind is NodeKind.DRAIN}
    wet = {drains[leg.node]: leg for leg in network.water.legs if leg.a_day_kg > 0.0005}
    if site.main.drains == "automatic":
        yield "weekly", "see that every drain lets water out", ", ".join(drains.values())
        return
    if wet:
        named = (f"{tag} {units.water(leg.a_day_kg)}{_often(leg.times_a_day)}" for tag, leg in wet.items())
        yield "daily", "open these drains over a bucket, a little, face aside", f"on a warm day {', '.join(named)}"
    dry = [tag for tag in drains.values() if tag not in wet]
    if dry:
        yield "weekly", "open the other drains", ", ".join(dry)


def _often(times: int) -> str:
    return f", {times} times" if times > 1 else ""


def _leaving(network: Network) -> Iterator[tuple[str, str, str]]:
    leaks, units = network.leaks, network.layout.site.units
    torn = leaks.openings[0]
    yield "when leaving", "stop the set, close V-01", f"{torn.what}: {opening_text(torn, units)}; the set would run on"


def _looking(network: Network) -> Iterator[tuple[str, str, str]]:
    site, layout, units = network.layout.site, network.layout, network.layout.site.units
    yield "weekly", "look at hoses, couplings and oil; listen with nothing in use", f"{len(site.outlets)} outlets"
    relief = f"set at {units.pressure(site.compressor.relief_pa)}"
    yield "monthly", "try the relief valve as its maker says: stand aside, eye and ear protection", relief
    changes = {
        f"{node.tag or layout.outlet_at(node)} at {units.pressure_drop(change_pa)}": None
        for node in layout.nodes.values()
        if node.kind in (NodeKind.TREATMENT, NodeKind.SERVICE)
        and (change_pa := component(node.what).change_at_pa) is not None
    }
    if changes:
        yield "quarterly", "read what filters take at full flow; change their elements", ", ".join(changes)


def _testing(network: Network) -> Iterator[tuple[str, str, str]]:
    site, leaks, units = network.layout.site, network.leaks, network.layout.site.units
    if leaks.target_m3_s:
        words = ("is loaded", "unloaded") if site.compressor.unloads else ("runs", "rests")
        times = f"{words[0]} {duration(leaks.loaded_s)}, {words[1]} {duration(leaks.unloaded_s)}"
        said = f"never {words[1]}" if math.isinf(leaks.loaded_s) else times
        yield "quarterly", "time the set with nothing in use", f"at the leakage allowed for it {said}"
    limit = f"may lose {units.pressure_drop(ACCEPTED_FALL_PA)} in {duration(TEST_TIME_S)}"
    yield "yearly", "leak test of the piping; gauges, regulators, switch, belt, oil", limit
    vessel = rule_set(site.rule_set).vessel(site.compressor.rated_pa, site.compressor.tank_m3)
    yield "as the law says", "have the tank inspected inside and out", vessel.source


def care_table(network: Network) -> Table:
    """The plan of care."""
    return Table("CARE", (Column("when"), Column("do"), Column("here", widest_mm=WIDEST_MM)), tuple(care_rows(network)))


def record_table(network: Network) -> Table:
    """What is read when the installation is first put under air: planned, read, by whom."""
    site, leaks, units = network.layout.site, network.leaks, network.layout.site.units
    plant, worst = site.compressor, network.least_to_spare
    relief, rated = units.pressure(plant.relief_pa), units.pressure(plant.rated_pa)
    rows = [
        ("relief valve, as stamped", f"{relief}, at or below {rated}"),
        ("cut-in, cut-out", f"{units.pressure(plant.cut_in_pa)}, {units.pressure(plant.cut_out_pa)}"),
        ("low-pressure test, no bubbles", "0.5 to 1.7 bar (7 to 25 psi)"),
        ("leak test, start", f"{units.pressure(leaks.test_gauge_pa)}, air at"),
        (
            f"leak test, after {duration(TEST_TIME_S)}",
            f"down by {units.pressure_drop(ACCEPTED_FALL_PA)} at most, air at",
        ),
        (f"{worst.tag} at the tool, all running", f"{units.pressure(worst.tool_pressure_pa)} at cut-in"),
        ("drains, valves and labels in place", "yes"),
        ("installer, date", ""),
        ("witness or inspector, date", ""),
    ]
    columns = (Column("what"), Column("planned"), Column("read"))
    return Table("RECORD OF THE FIRST TEST", columns, tuple((*row, BLANK) for row in rows))
