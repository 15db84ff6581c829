"""Spare tees: where they stand in the main, what they are made of, what a later drop would find there."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from drafter.layout.graph import Layout, NodeKind
from drafter.pipeline import Designed, design
from drafter.sizing import Network
from drafter.standards.materials import material_names
from drafter.takeoff.schedules import not_joined

SITES = Path(__file__).parents[2] / "example_sites"
YARD = (Path(__file__).parents[1] / "data" / "keeps_every_rule.yaml").read_text(encoding="utf-8")
LATER = "fall: 1 %, spare tees: [{wall: north, from left: 5 m}, {wall: east, from left: 4 m, free air: 9 l/s}]"


@cache
def yard(spare: str = LATER, family: str = "copper tube") -> Designed:
    return design(YARD.replace("fall: 1 %", spare).replace("copper tube", family), "yard.yaml")


def network_of(designed: Designed) -> Network:
    assert designed.network is not None, designed.findings
    return designed.network


def layout_of(designed: Designed) -> Layout:
    assert designed.layout is not None, designed.findings
    return designed.layout


def test_they_stand_in_the_main_at_its_level() -> None:
    layout = layout_of(yard())
    spares = [node for node in layout.nodes.values() if node.kind is NodeKind.SPARE_TEE]
    assert [(node.tag, node.wall, round(layout.from_left_m(node), 6)) for node in spares] == [
        ("P-01", "north", 5.0),
        ("P-02", "east", 4.0),
    ]
    for node in spares:
        before, behind = layout.runs_at[node.id]
        assert layout.fall(before) == pytest.approx(0.01)
        assert layout.fall(behind) == pytest.approx(0.01)
    plain = layout_of(yard("fall: 1 %"))
    total = [sum(each.length_m(run) for run in each.runs) for each in (layout, plain)]
    assert total[0] == pytest.approx(total[1])


@pytest.mark.parametrize("family", material_names())
def test_each_family_has_a_tee_and_what_closes_it(family: str) -> None:
    designed = yard(family=family)
    assert designed.takeoff is not None
    assert not_joined(layout_of(designed), designed.takeoff) == []
    closing = [part for part in designed.takeoff.instances if part.tag.startswith("P-")]
    assert len(closing) == 2
    assert all(part.item.startswith(("plug", "stub of tube")) for part in closing)
    tees = {
        name: sum(part.item.endswith("tee") for part in takeoff.instances)
        for name, takeoff in (("with", designed.takeoff), ("without", yard("fall: 1 %", family).takeoff))
        if takeoff
    }
    assert tees["with"] == tees["without"] + 2
    assert {mark.tag for mark in designed.takeoff.marks if mark.what == "spare tee on the main"} == {"P-01", "P-02"}


def test_a_later_drop_takes_the_hungriest_tools_flow_or_what_is_given() -> None:
    spares = network_of(yard()).spare_tees
    assert spares[0].free_air_m3_s == pytest.approx(0.005)
    assert spares[1].free_air_m3_s == pytest.approx(0.009)
    assert spares[0].together_with == ("A1", "A2")


def test_what_is_left_is_what_an_outlet_there_leaves_in_the_main() -> None:
    """The same site with an outlet in the place of the tee, all running: the pressure before its swan neck."""
    with_tee = network_of(yard("fall: 1 %, size: 3/4, drop size: 3/4, spare tees: [{wall: north, from left: 5 m}]"))
    (spare,) = with_tee.spare_tees
    drop = "outlets:\n  - {tag: A0, wall: north, from left: 5 m, tools: [{tool: blow gun, free air: 5 l/s}]}"
    built = design(
        YARD.replace("fall: 1 %", "fall: 1 %, size: 3/4, drop size: 3/4").replace("outlets:", drop)
        + "demand: {at once: 3}\n",
        "built.yaml",
    )
    (outlet,) = [flow for flow in network_of(built).outlets if flow.tag == "A0"]
    steps = {step.what: step for step in outlet.ladder}
    assert set(outlet.together_with) == {"A1", "A2"}
    assert spare.gauge_pressure_pa == pytest.approx(steps["main"].gauge_pressure_pa, abs=150.0)
    assert spare.gauge_pressure_pa < spare.now_pa


def test_more_air_leaves_less_and_a_thinner_main_less_again() -> None:
    def left(main: str) -> float:
        return network_of(yard(f"fall: 1 %, {main}")).spare_tees[0].gauge_pressure_pa

    tee = "spare tees: [{wall: north, from left: 5 m, free air: %s}]"
    assert left("size: 3/4, " + tee % "2 l/s") > left("size: 3/4, " + tee % "8 l/s")
    assert left("size: 3/4, " + tee % "8 l/s") > left("size: 1/2, " + tee % "8 l/s")


def test_past_the_last_outlet_the_last_tee_counts() -> None:
    plain = yard("fall: 1 %")
    layout = layout_of(plain)
    low = max((n for n in layout.nodes.values() if n.kind is NodeKind.TAKE_OFF), key=lambda n: layout.outlet_at(n))
    ends = sorted(
        layout.from_left_m(layout.nodes[id])
        for run in layout.runs_at[low.id]
        if run.kind.value == "main" and run.start == low.id
        for id in (run.start, run.end)
    )
    text = f"fall: 1 %, spare tees: [{{wall: {low.wall}, from left: {(ends[0] + ends[1]) / 2:.3f} m}}]"
    (spare,) = network_of(yard(text)).spare_tees
    at_last = next(flow for flow in network_of(plain).outlets if flow.tag == layout.outlet_at(low))
    assert spare.now_pa > at_last.gauge_pressure_pa
    assert 0.0 < spare.gauge_pressure_pa < spare.now_pa


def test_a_ring_may_have_them_in_either_arm() -> None:
    text = (SITES / "boat_shed.yaml").read_text(encoding="utf-8")
    spare = "  fall: 0.5 %\n  spare tees: [{wall: north, from left: 12 m}, {wall: west, from left: 4 m}]"
    designed = design(text.replace("  fall: 0.5 %", spare), "shed.yaml")
    found = network_of(designed).spare_tees
    assert [each.tag for each in found] == ["P-01", "P-02"]
    assert designed.takeoff is not None
    assert not_joined(layout_of(designed), designed.takeoff) == []
    assert all(0.0 < each.gauge_pressure_pa < each.now_pa for each in found)
