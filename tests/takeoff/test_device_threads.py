"""Threads of valves, hoses and units follow the line and its flow; what carries them is bought too."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from drafter.layout.graph import NodeKind, RunKind
from drafter.pipeline import Designed, design
from drafter.supports.lines import half_m
from drafter.takeoff.consoles import console_item
from drafter.takeoff.device_threads import FASTEST_M_S, LEAST_THREAD, supply_thread, unit_thread
from drafter.takeoff.marks import Mark
from drafter.takeoff.pieces import COUPLING

SITES = Path(__file__).parents[2] / "example_sites"
EXAMPLES = sorted(SITES.glob("*.yaml"))
BORES_M = {"1/4": 0.364, "3/8": 0.493, "1/2": 0.622, "3/4": 0.824, "1": 1.049, "1-1/4": 1.380, "1-1/2": 1.610}
"""Bores of schedule 40 pipe [in], ASME B36.10, value from memory."""


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def designed(request: pytest.FixtureRequest) -> Designed:
    return design(request.param.read_bytes(), request.param.name)


def test_valve_and_hose_are_as_wide_as_the_line(designed: Designed) -> None:
    assert designed.network is not None
    network = designed.network
    flexible = next(run for run in network.layout.runs if run.kind is RunKind.FLEXIBLE)
    bore_m = BORES_M[supply_thread(network)] * 0.0254
    assert bore_m >= 0.89 * network.sizes[flexible.id].bore_m


def test_air_does_not_hurry_through_units(designed: Designed) -> None:
    assert designed.network is not None
    network = designed.network
    for node in network.layout.nodes.values():
        if node.kind is NodeKind.TREATMENT:
            runs = network.layout.runs_at[node.id]
            thread = unit_thread(network, runs, LEAST_THREAD)
            for run in runs:
                size, flow = network.sizes[run.id], network.pipe(run.id)
                speed_m_s = flow.velocity_m_s * (size.bore_m / (BORES_M[thread] * 0.0254)) ** 2
                assert speed_m_s <= max(FASTEST_M_S, 1.25 * flow.velocity_m_s)


def test_a_depot_of_28_l_s_has_units_of_one_inch_by_hand() -> None:
    """28 l/s at 8.2 bar gauge are about 3.1 l/s: 15 m/s in 15.8 mm, 8.9 m/s in 20.9 mm, 5.5 m/s in 26.6 mm."""
    path = next(path for path in EXAMPLES if path.stem == "boat_shed")
    done = design(path.read_bytes(), path.name)
    assert done.takeoff is not None
    sizes = {
        part.size for part in done.takeoff.instances if part.item in ("filter", "refrigeration dryer") and part.tag
    }
    assert sizes <= {"G 3/4", "G 1"}


def test_each_unit_and_outlet_is_carried_and_marked(designed: Designed) -> None:
    assert designed.takeoff is not None
    assert designed.layout is not None
    kinds = (NodeKind.TREATMENT, NodeKind.COUPLING)
    tags = sorted(node.tag for node in designed.layout.nodes.values() if node.kind in kinds)
    words = ("console", "stand", "bracket of its own")
    held = [row for row in designed.takeoff.parts if row.item.startswith(words)]
    assert {tag for row in held for tag in row.tags} == set(tags)
    main = [mark for mark in designed.takeoff.marks if ", on " in mark.what and not _is_service(designed, mark)]
    assert sorted(mark.tag for mark in main if mark.tag in tags) == tags


def test_each_unit_at_an_outlet_is_marked_where_it_is_and_held(designed: Designed) -> None:
    assert designed.takeoff is not None
    assert designed.layout is not None
    assert designed.design is not None
    layout = designed.layout
    units = [node for node in layout.nodes.values() if node.kind is NodeKind.SERVICE]
    marked = [mark for mark in designed.takeoff.marks if ", on " in mark.what and _is_service(designed, mark)]
    assert len(marked) == len(units)
    for node in units:
        (mark,) = [
            mark
            for mark in marked
            if (mark.room, mark.wall, mark.tag) == (node.room, node.wall, layout.outlet_at(node))
            and mark.what.startswith(f"{node.what}, on ")
        ]
        assert (mark.from_left_m, mark.height_m) == pytest.approx((layout.from_left_m(node), node.at.z))
    held = sum(
        row.quantity for row in designed.takeoff.parts if row.item.startswith(("console", "stand", "bracket of"))
    )
    assert held == len(designed.design.consoles)


def _is_service(designed: Designed, mark: Mark) -> bool:
    """Whether a mark is of a unit at an outlet."""
    assert designed.site is not None
    units = {outlet.tag: outlet.units for outlet in designed.site.outlets}
    return any(mark.what.startswith(f"{unit}, on ") for unit in units.get(mark.tag, ()))


def test_mark_out_and_parts_tell_one_length_of_a_console(designed: Designed) -> None:
    assert designed.design is not None
    assert designed.takeoff is not None
    layout, units = designed.design.network.layout, designed.design.network.layout.site.units
    for node in layout.couplings:
        off = units.length_with_unit(layout.site.wall(node.room, node.wall).measure(node.at.plan)[1])
        console = next(each for each in designed.design.consoles if each.node == node.id)
        item = console_item(layout, console)
        (mark,) = [m for m in designed.takeoff.marks if m.tag == node.tag and m.what.startswith("outlet, on ")]
        said = mark.what.removesuffix(" off").rpartition(", ")[2]
        assert f", {said} off the" in item
        assert console.board or said == off


def test_a_dryer_stands_on_the_floor_or_on_arms_where_the_floor_is_taken() -> None:
    text = (SITES / "cabinet_shop.yaml").read_text(encoding="utf-8")
    bench = "    equipment: [{kind: bench, wall: north, from left: 7 ft, width: 4 ft}]\n"
    taken = text.replace("    ceiling: 9 ft\n", f"    ceiling: 9 ft\n{bench}")
    for site, on_floor in ((text, True), (taken, False)):
        done = design(site, "shop.yaml")
        assert done.design is not None
        assert done.takeoff is not None
        (console,) = [each for each in done.design.consoles if each.tag == "T-02"]
        assert console.on_floor is on_floor
        assert bool(console.board or console.stud) is not on_floor
        (mark,) = [mark for mark in done.takeoff.marks if mark.tag == "T-02"]
        assert bool(re.search(r"on a stand on the floor, .+ off the wall$", mark.what)) is on_floor
        assert sum(row.quantity for row in done.takeoff.parts if "into the floor" in row.item) == 4 * on_floor


def test_no_bracket_stands_on_a_unit(designed: Designed) -> None:
    assert designed.design is not None
    network = designed.design.network
    for bracket in designed.design.brackets:
        run = network.layout.run_by_id[bracket.run]
        for id in (run.start, run.end):
            node = network.layout.nodes[id]
            if node.kind is NodeKind.TREATMENT:
                assert bracket.at.minus(node.at).length > half_m(network, id, run)


def test_pieces_of_a_line_add_up_to_it_across_their_couplings(designed: Designed) -> None:
    """From fitting to fitting, through each coupling, the centre-to-centre figures make the run."""
    assert designed.takeoff is not None
    assert designed.layout is not None
    for run in designed.layout.runs:
        pieces = [piece for piece in designed.takeoff.pieces if piece.runs == (run.id,)]
        if pieces and (pieces[0].end == COUPLING or len(pieces) > 1):
            assert sum(piece.centre_to_centre_m for piece in pieces) == pytest.approx(designed.layout.length_m(run))


SITE = """
site: Wide port (invented)
rooms: {{shop: {{size: [8 m, 6 m], ceiling: 3.2 m}}}}
compressor: {{wall: north, from left: 0.6 m, power: 4 kW, free air: 8 l/s, cut in: 7.5 bar, cut out: 9 bar,
  tank: 200 l, rated: 11 bar, relief: 10 bar{connection}}}
main: {{material: {material}, height: 2.7 m, fall: 1 %{main}}}
treatment: [filter]
outlets:
  - {{tag: A1, wall: south, from left: 3 m, tools: [blow gun]}}
"""


def items(material: str, connection: str = "", main: str = "") -> list[tuple[str, str]]:
    done = design(SITE.format(material=material, connection=connection, main=main), "port.yaml")
    assert done.takeoff is not None, done.findings
    assert not [finding for finding in done.findings if finding.rule == "JOIN001"]
    return [(part.item, part.size) for part in done.takeoff.instances]


def test_a_wider_port_of_the_tank_gets_a_reducing_nipple() -> None:
    found = items("copper tube", ", connection: {from left: 1.6 m, height: 0.6 m, thread: 1}", ", size: 3/4")
    assert ("reducing nipple", "G 1 x G 3/4") in found
    assert ("ball valve, lockable, threaded", "G 3/4") in found
    assert ("hexagon nipple", "G 3/4") not in found


def test_threaded_pipe_goes_straight_into_units_of_its_size() -> None:
    found = items("steel pipe", main=", size: 1/2")
    assert ("filter", "G 1/2") in found
    assert not any(item.startswith("adapter, male") for item, _ in found)
    assert ("coupling", "1/2") in found


@pytest.mark.parametrize(
    "material, closes", [("copper tube", True), ("aluminium tube", True), ("polyamide tube", False)]
)
def test_a_rigid_ring_is_closed_by_a_slip_coupling(material: str, closes: bool) -> None:
    tubes = ", tubes: [{outside: 25 mm, bore: 21 mm}]" if material == "aluminium tube" else ""
    found = [item for item, _ in items(material, main=", arrangement: ring" + tubes)]
    assert sum(item.startswith("slip coupling") for item in found) == closes
