"""The sheets kept beside the compressor: the record of test and hand-over with blanks, the maintenance card."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from drafter.drawing import Text
from drafter.geometry import Box
from drafter.layout.graph import Node, NodeKind, RunKind
from drafter.quantity import duration
from drafter.sheets.care import LOG_ROWS, LOG_TITLE, care_table, log_table
from drafter.sheets.joint_places import joint_rows
from drafter.sheets.leak_test import cautions_at_test, swing_words
from drafter.sheets.purposes import purpose
from drafter.sheets.rule_set import strength_test_words
from drafter.sheets.scene import Scene
from drafter.sheets.tables import Column, Placed, Table, flow
from drafter.sizing.leak_numbers import ACCEPTED_FALL_PA, TEST_TIME_S, low_test
from drafter.takeoff.unit_duty import setting

MOST_NAMED = 6
"""Outlets that run at the same time are counted, where they are more."""

TEST_TITLE, CARD_TITLE, BOTH_TITLE = "Test and hand-over", "Maintenance card", "Test, hand-over, maintenance card"
OPEN = ", its regulator fully open"
"""Said of what is left before a coupling behind a regulator of the outlet's own."""

FOUND_MM, TICK_MM, READ_MM, SIGNED_MM, WHICH_MM = 48.0, 16.0, 22.0, 56.0, 60.0
"""Least widths of columns that are written in by hand."""

WRITE_MM, TICK_ROW_MM, SIGN_MM = 6.5, 5.5, 9.0
"""Least heights of rows to write, to tick, to sign in."""


def record_pages(scene: Scene, area: Box) -> list[tuple[str, Placed]]:
    """Set the records, each sheet with its title: all on one, else the card that stays beside the set on its own sheet.

    The log is as long as the sheets hold.
    """
    record = record_table(scene), joints_table(scene), readings_table(scene), tags_table(scene), hand_over_table()
    card = care_table(scene.design.network)
    whole = _with_log(scene, (*record, card), area)
    if len(whole) == 1:
        return [(BOTH_TITLE, whole[0])]
    tests, cards = flow(record, area, scene.layers), _with_log(scene, (card,), area)
    return [*((TEST_TITLE, placed) for placed in tests), *((CARD_TITLE, replace(placed, free=())) for placed in cards)]


def _with_log(scene: Scene, tables: Sequence[Table], area: Box) -> list[Placed]:
    """Tables and a log on as few sheets as can be."""
    tried = [flow((*tables, log_table(rows)), area, scene.layers) for rows in LOG_ROWS]
    return min(tried, key=lambda sheets: (len(sheets), _parts_the_log(sheets)))


def _parts_the_log(sheets: list[Placed]) -> bool:
    texts = (item.text for placed in sheets for item in placed.items if isinstance(item, Text))
    return f"{LOG_TITLE} (continued)" in texts


def record_table(scene: Scene) -> Table:
    """The leak test: what the design asks for, and what is found."""
    columns = (Column("what"), Column("by the design", widest_mm=84.0), Column("found", least_mm=FOUND_MM))
    return Table("TEST AND HAND-OVER RECORD", columns, tuple((*row, "") for row in _test_rows(scene)), WRITE_MM)


def _test_rows(scene: Scene) -> Iterator[tuple[str, str]]:
    site, units, network = scene.site, scene.units, scene.design.network
    plant, test_pa = site.compressor, network.leaks.test_gauge_pa
    yield "site", site.name
    yield "drawing, revision", " ".join(word for word in (site.drawing.number, site.drawing.revision) if word)
    yield "date; tested by; witness", "the local code says who"
    most_pa = max([test_pa, *(part.gauge_pa for part in network.leaks.before)])
    yield "gauge: number, range, last checked", f"reads {units.pressure(most_pa)} well within its range"
    yield "strength test, if the code asks for one: pressure, time", strength_test_words(network)
    for caution in cautions_at_test(units):
        yield "caution, read to all who help", caution
    yield "joints tight with leak fluid", f"each one, at {low_test(units)} first; see the list of joints"
    yield "start: time, air temperature T1", ""
    yield "start: gauge p1", units.pressure(test_pa)
    yield "end: time, air temperature T2", f"{duration(TEST_TIME_S)} later"
    yield "end: gauge p2", ""
    yield (
        "fall: p1 - p2 x T1 / T2, absolute",
        f"at most {units.pressure_drop(ACCEPTED_FALL_PA)}; {swing_words(network)}",
    )
    for part in network.leaks.before:
        pressure = units.pressure(part.gauge_pa)
        yield f"then V-01 to {part.regulator}, start: time, p1, T1", f"p1 {pressure}, may lose as much"
        yield f"V-01 to {part.regulator}, end: time, p2, T2", f"{duration(TEST_TIME_S)} later"
    yield "passed; or repaired, tested again", ""
    yield "bled to zero, test hose off, drain back", "before the set is connected and started"
    relief, rated = units.pressure(plant.relief_pa), units.pressure(plant.rated_pa)
    yield "relief valve of the tank, as stamped", f"opens at {relief}, at or below {rated}"
    delivered = units.free_air(network.supply.delivered_m3_s)
    yield "its flow, as stamped", f"passes {delivered} free air or more, away from people"
    yield "tank, on its plate", f"rated {rated}, {units.volume(plant.tank_m3)}"
    yield "its maker, number, year", "from its plate"
    yield "last inspected, by", "from its papers"
    yield "cut-in, cut-out", f"{units.pressure(plant.cut_in_pa)}, {units.pressure(plant.cut_out_pa)}"
    for node in scene.layout.nodes.values():
        unit = next((unit for unit in site.treatment if unit.place == node.place and unit.set_pa is not None), None)
        if node.kind is NodeKind.TREATMENT and unit is not None and unit.set_pa is not None:
            yield f"{node.tag} {node.what} set to", units.pressure(unit.set_pa)
        if node.kind is NodeKind.SERVICE and "regulator" in node.what:
            yield f"regulator at {scene.layout.outlet_at(node)}, a tool running", setting(network, node)


def joints_table(scene: Scene) -> Table:
    """How many joints there are on each wall, to be ticked off with leak fluid."""
    columns = (
        Column("where"), Column("joints", True), Column("which", widest_mm=WHICH_MM), Column("above reach", True),
        Column("tight", least_mm=TICK_MM),
    )  # fmt: skip
    rows = tuple((*row, "") for row in joint_rows(scene))
    return Table("JOINTS GONE OVER WITH LEAK FLUID", columns, rows, TICK_ROW_MM)


def readings_table(scene: Scene) -> Table:
    """The gauge readings at each outlet, beside what the sizing leaves there.

    The gauge is on the outlet's own regulator, else on the drain of its drip leg, else on a tee.
    """
    units, nodes = scene.units, scene.layout.nodes
    legs = (run for run in scene.layout.runs if run.kind is RunKind.DRIP_LEG)
    drains = {run.outlet: nodes[run.end].tag for run in legs}
    regulated = {outlet.tag for outlet in scene.site.outlets if "regulator" in outlet.units}
    rows = tuple(
        (
            flow.tag, units.free_air(flow.free_air_m3_s),
            units.pressure(flow.gauge_pressure_pa) + (OPEN if flow.tag in regulated else ""),
            _others(flow.together_with),
            "its regulator" if flow.tag in regulated else drains.get(flow.tag, "a tee before it"), "", "",
        )
        for flow in scene.design.network.outlets
    )  # fmt: skip
    columns = (
        Column("outlet"), Column("taking", True), Column("at least, at cut-in", widest_mm=34.0),
        Column("with these running", widest_mm=34.0), Column("gauge at"), Column("read at rest", least_mm=READ_MM),
        Column("read running", least_mm=READ_MM),
    )  # fmt: skip
    return Table("GAUGE READINGS BEFORE THE COUPLINGS", columns, rows, WRITE_MM)


def _others(tags: tuple[str, ...]) -> str:
    return f"{len(tags)} others" if len(tags) > MOST_NAMED else ", ".join(tags) or "none"


def tags_table(scene: Scene) -> Table:
    """Every valve and drain, those of the tank first, to be tried and tagged."""
    of_tank = (("C-01", "drain of the tank", "", ""), ("C-01", "relief valve of the tank, by its ring", "", ""))
    rows = (*of_tank, *((node.tag, purpose(scene.layout, node.id), "", "") for node in valves_and_drains(scene)))
    columns = (
        Column("tag"), Column("what"), Column("works", least_mm=TICK_MM), Column("tagged", least_mm=TICK_MM)
    )  # fmt: skip
    return Table("VALVES AND DRAINS TRIED", columns, rows, TICK_ROW_MM)


def valves_and_drains(scene: Scene) -> list[Node]:
    """Every valve and every drain, in the order of their tags."""
    nodes = scene.layout.nodes.values()
    return sorted((node for node in nodes if node.kind in (NodeKind.VALVE, NodeKind.DRAIN)), key=_by_tag)


def _by_tag(node: Node) -> tuple[bool, int, str]:
    return node.kind is NodeKind.DRAIN, len(node.tag), node.tag


def hand_over_table() -> Table:
    """What is handed over, and who signs for it."""
    rows = [
        ("line blown out before the first hose is hung", "eye protection; hoses held"),
        ("V-01 shuts and locks; key handed to", ""),
        ("shown: shut V-01, bleed to zero, drain, read the gauges", ""),
        ("drawings marked as built, this card beside C-01", ""),
        ("data sheets and manuals handed over", ""),
        ("installer: name, date, signature", ""),
        ("user: name, date, signature", ""),
        ("inspector, where the local code wants one", ""),
    ]
    columns = (Column("what", widest_mm=70.0), Column("mind"), Column("done by, date, signature", least_mm=SIGNED_MM))
    return Table("HAND-OVER", columns, tuple((*row, "") for row in rows), SIGN_MM)
