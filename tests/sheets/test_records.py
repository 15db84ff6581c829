"""The record of test and hand-over: this site's numbers and tags, and room to write."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from generated_site import site_text

from drafter.layout.graph import NodeKind, RunKind
from drafter.pipeline import design
from drafter.sheets.care import care_rows
from drafter.sheets.layers import Layers
from drafter.sheets.leak_test import cautions_at_test
from drafter.sheets.records import hand_over_table, joints_table, readings_table, record_table, tags_table
from drafter.sheets.scene import Scene
from drafter.sizing.leak_numbers import ACCEPTED_FALL_PA
from drafter.sizing.ratings import weakest_pipe
from drafter.standards.burst import stand_off_m
from drafter.standards.rule_sets import rule_set
from drafter.symbol_library import load_all

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))


def made(text: str | bytes) -> Scene:
    done = design(text, "site.yaml")
    assert done.design is not None, done.findings
    assert done.takeoff is not None
    return Scene(done.design, done.takeoff, dict(load_all()), Layers("M"), {})


@pytest.fixture(scope="module", params=[*EXAMPLES, 20], ids=lambda each: getattr(each, "stem", "20 outlets"))
def scene(request: pytest.FixtureRequest) -> Scene:
    given = request.param
    return made(given.read_bytes() if isinstance(given, Path) else site_text(20, 2, 3))


def tags_of(scene: Scene, *kinds: NodeKind) -> list[str]:
    return sorted(node.tag for node in scene.layout.nodes.values() if node.kind in kinds)


def test_the_test_asks_for_what_the_design_computes(scene: Scene) -> None:
    units, leaks, table = scene.units, scene.design.network.leaks, record_table(scene)
    asked = {row[0]: row[1] for row in table.rows}
    assert asked["start: gauge p1"] == units.pressure(leaks.test_gauge_pa)
    assert asked["end: time, air temperature T2"] == "30 min later"
    strength = asked["strength test, if the code asks for one: pressure, time"]
    times = rule_set(scene.site.rule_set).strength_test.times
    assert f"= {units.pressure(times * scene.site.compressor.relief_pa)} for 10 min" in strength
    away = units.rough_length(max(30.0, stand_off_m(leaks.stored_energy_j)))
    assert strength.endswith(f"everybody {away} away")
    fall = asked["fall: p1 - p2 x T1 / T2, absolute"]
    assert fall.startswith(f"at most {units.pressure_drop(ACCEPTED_FALL_PA)}; 1 ")
    assert [row[1] for row in table.rows if row[0].startswith("caution")] == list(cautions_at_test(units))
    assert all(row[-1] == "" for row in table.rows)


def test_each_outlet_valve_and_drain_has_a_row_of_its_own(scene: Scene) -> None:
    readings = readings_table(scene)
    assert [row[0] for row in readings.rows] == [outlet.tag for outlet in scene.site.outlets]
    for row, flow in zip(readings.rows, scene.design.network.outlets, strict=True):
        outlet = next(outlet for outlet in scene.site.outlets if outlet.tag == flow.tag)
        behind = ", its regulator fully open" if "regulator" in outlet.units else ""
        assert row[2] == f"{scene.units.pressure(flow.gauge_pressure_pa)}{behind}"
        assert row[5:] == ("", "")
        named = row[3].split(", ") if not row[3].endswith("others") else flow.together_with
        assert len(named) == max(1, len(flow.together_with))
    of_tank, tried = tags_table(scene).rows[:2], tags_table(scene).rows[2:]
    assert [row[0] for row in of_tank] == ["C-01", "C-01"]
    assert sorted(row[0] for row in tried) == tags_of(scene, NodeKind.VALVE, NodeKind.DRAIN)


def test_there_is_room_to_sign() -> None:
    signed = hand_over_table()
    assert {"installer", "user", "inspector,"} <= {row[0].split(":")[0].split(" ")[0] for row in signed.rows}
    assert signed.least_row_mm >= 8.0
    assert signed.columns[-1].least_mm >= 50.0


def test_the_joints_are_counted_wall_by_wall(scene: Scene) -> None:
    rows = joints_table(scene).rows
    assert sum(int(row[1]) for row in rows) == len(scene.takeoff.joints)
    walls = {(each.room, each.wall) for each in (*scene.layout.nodes.values(), *scene.layout.runs)}
    assert 0 < len(rows) <= len(walls)
    high = sum(0 if row[3] == "none" else int(row[3]) for row in rows)
    assert 0 < high < len(scene.takeoff.joints)
    told = {number for row in rows for number in _numbers(row[2].partition(";")[0])}
    assert told >= {piece.number for piece in scene.takeoff.pieces}


def _numbers(words: str) -> set[int]:
    """The piece numbers of ``ends of pc 1-4, 7``."""
    ends = [list(map(int, one.split("-"))) for one in re.findall(r"\d+(?:-\d+)?", words)]
    return {number for pair in ends for number in range(pair[0], pair[-1] + 1)}


def test_the_gauge_and_the_card_cover_the_part_before_a_regulator() -> None:
    text = (EXAMPLES[0].parent / "cabinet_shop.yaml").read_bytes()
    scene = made(text)
    (before,) = scene.design.network.leaks.before
    pressure = scene.units.pressure(before.gauge_pa)
    asked = {row[0]: row[1] for row in record_table(scene).rows}
    assert asked["gauge: number, range, last checked"].startswith(f"reads {pressure} ")
    (leak,) = [row for row in care_rows(scene.design.network) if row[1].startswith("leak test")]
    assert f"{before.regulator} alone, {pressure}" in leak[2]


def test_a_strength_test_above_what_the_weakest_pipe_bears_says_not_above_that(scene: Scene) -> None:
    network, units = scene.design.network, scene.units
    weakest = weakest_pipe(network).gauge_pa
    asked = {row[0]: row[1] for row in record_table(scene).rows}
    strength = asked["strength test, if the code asks for one: pressure, time"]
    tested_pa = rule_set(scene.site.rule_set).strength_test.times * scene.site.compressor.relief_pa
    assert (f"NOT ABOVE {units.pressure(weakest)}" in strength) == (tested_pa > weakest)


def test_each_reading_says_where_its_gauge_is(scene: Scene) -> None:
    layout, table = scene.layout, readings_table(scene)
    place = [column.head for column in table.columns].index("gauge at")
    drains = {run.outlet: layout.nodes[run.end].tag for run in layout.runs if run.kind is RunKind.DRIP_LEG}
    for row in table.rows:
        outlet = next(outlet for outlet in scene.site.outlets if outlet.tag == row[0])
        has_regulator = any("regulator" in unit for unit in outlet.units)
        assert row[place] == ("its regulator" if has_regulator else drains.get(row[0], "a tee before it"))


def test_every_joint_on_a_wall_or_crossing_is_counted_where_its_pipe_is() -> None:
    shed = made(EXAMPLES[0].with_name("machinery_shed.yaml").read_bytes())
    rows = {row[0]: row for row in joints_table(shed).rows}
    assert "16, 17" in rows["crossing 1"][2] or "16-17" in rows["crossing 1"][2]
