"""Valves that shut off a part of the line: behind the treatment, in the arms of a main that divides, round a ring."""

from __future__ import annotations

from pathlib import Path

import pytest

from drafter.layout import lay_out
from drafter.layout.connection import BEHIND_TRAIN
from drafter.layout.graph import Layout, Node, NodeKind, RunKind
from drafter.layout.isolation import ARM_VALVE, SECTION_VALVE, WORTH_A_VALVE
from drafter.layout.valve_places import STUD_FROM_M, STUD_TO_M, VALVE_ROOM_M
from drafter.pipeline import design
from drafter.site import read

SITES = Path(__file__).parents[2] / "example_sites"
EXAMPLES = sorted(path.stem for path in SITES.glob("*.yaml"))


def laid(name: str, *pairs: str) -> Layout:
    text = (SITES / f"{name}.yaml").read_text(encoding="utf-8")
    for old, new in zip(pairs[::2], pairs[1::2], strict=True):
        assert old in text
        text = text.replace(old, new, 1)
    site, findings = read(text, name)
    assert site is not None, findings
    layout, found = lay_out(site)
    assert layout is not None, found
    return layout


def of(layout: Layout, what: str) -> list[Node]:
    return [node for node in layout.nodes.values() if node.what == what]


def cut_off(layout: Layout, shut: set[str]) -> set[str]:
    """The outlets that no air gets to with the valves of some tags shut, found by walking the runs."""
    reached, waiting = set[str](), [next(iter(layout.nodes))]
    while waiting:
        here = waiting.pop()
        if here not in reached and layout.nodes[here].tag not in shut:
            reached.add(here)
            waiting += [run.end if run.start == here else run.start for run in layout.runs_at[here]]
    return {node.tag for node in layout.couplings if node.id not in reached}


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_valve_in_the_riser_parts_the_treatment_from_all_outlets(name: str) -> None:
    layout = laid(name)
    valves = of(layout, BEHIND_TRAIN)
    assert len(valves) == bool(layout.site.treatment)
    for valve in valves:
        before, behind = layout.runs_at[valve.id]
        assert (before.kind, behind.kind) == (RunKind.RISER, RunKind.RISER)
        assert layout.is_upright(before)
        assert layout.is_upright(behind)
        assert cut_off(layout, {valve.tag}) == {outlet.tag for outlet in layout.site.outlets}
        assert any(reason.startswith(f"{valve.tag} stands behind the treatment") for reason in layout.reasons)


def test_a_riser_too_short_for_the_valve_is_said() -> None:
    layout = laid(
        "machinery_shed",
        "cut in: 7.9 bar",
        "connection: {from left: 1.9 m, height: 1.75 m}, height: 1.9 m, cut in: 7.9 bar",
    )
    assert not of(layout, BEHIND_TRAIN)
    assert "Behind the treatment no valve finds room: the whole line is bled before a unit is opened." in layout.reasons


@pytest.mark.parametrize("name", EXAMPLES)
def test_each_arm_of_two_outlets_or_more_can_be_shut_while_the_rest_feeds_on(name: str) -> None:
    layout = laid(name)
    every = {outlet.tag for outlet in layout.site.outlets}
    arms = [cut_off(layout, {valve.tag}) for valve in of(layout, ARM_VALVE)]
    assert all(WORTH_A_VALVE <= len(arm) < len(every) for arm in arms)
    assert sum(map(len, arms)) == len(set().union(*arms))
    if layout.site.main.arrangement == "dead end" and len(arms) == 2:
        assert set().union(*arms) == every
    for valve in of(layout, ARM_VALVE):
        assert all(layout.length_m(run) >= VALVE_ROOM_M - 1e-6 for run in layout.runs_at[valve.id])


def test_the_halves_of_a_ring_are_shut_one_at_a_time() -> None:
    layout = laid("boat_shed")
    tags = {
        node.what.removeprefix("ring valve, "): node.tag for node in layout.nodes.values() if "ring valve" in node.what
    }
    right, left = (cut_off(layout, {tags["half way round"], tags[f"arm to the {side}"]}) for side in ("right", "left"))
    assert right
    assert left
    assert right | left == {outlet.tag for outlet in layout.site.outlets}
    assert not right & left
    assert not cut_off(layout, {tags["half way round"]})


def test_the_valves_are_bought_marked_and_built() -> None:
    done = design((SITES / "bus_depot.yaml").read_bytes(), "bus_depot.yaml")
    assert done.takeoff is not None
    assert done.layout is not None
    for node in (*of(done.layout, BEHIND_TRAIN), *of(done.layout, ARM_VALVE)):
        assert sum(node.tag in row.tags for row in done.takeoff.parts if row.item.startswith("ball valve")) == 1
        (mark,) = [mark for mark in done.takeoff.marks if mark.tag == node.tag]
        assert mark.what == node.what
        assert node.kind is NodeKind.VALVE


def test_sections_are_shut_where_the_site_file_says() -> None:
    """Besides the arms: a place in the main; what it shuts off is said."""
    asked = "main: {valves: [{room: shop, wall: C-D, from left: 7 ft}], "
    layout = laid("cabinet_shop", "main: {", asked)
    (valve,) = of(layout, SECTION_VALVE)
    assert (valve.room, valve.wall) == ("shop", "C-D")
    assert layout.from_left_m(valve) == pytest.approx(7 * 0.3048)
    assert cut_off(layout, {valve.tag}) == {"O5", "O6"}
    assert any(f"{valve.tag} O5, O6." in reason for reason in layout.reasons)
    bought = design((SITES / "cabinet_shop.yaml").read_text().replace("main: {", asked, 1), "shop.yaml")
    assert bought.takeoff is not None
    assert any(valve.tag in row.tags for row in bought.takeoff.parts if row.item.startswith("ball valve"))


TWO_ROOMS = """
site: Two rooms (invented)
rooms:
  hall: {size: [12 m, 6 m], ceiling: 3.2 m, coldest: 10 degC, warmest: 30 degC}
  store: {size: [8 m, 6 m], behind: {room: hall, wall: east, from left: 0 m}, ceiling: 3.2 m, coldest: 10 degC,
    warmest: 30 degC}
compressor: {room: hall, wall: north, from left: 0.6 m, power: 4 kW, free air: 8 l/s, cut in: 7.5 bar, cut out: 8.5 bar,
  tank: 80 l, rated: 11 bar, relief: 10 bar}
main: {material: copper tube, height: 2.6 m, fall: 0.5 %, shut off: SECTIONS}
outlets:
  - {tag: A1, room: hall, wall: north, from left: 5 m, tools: [blow gun]}
  - {tag: B1, room: store, wall: east, from left: 3 m, tools: [blow gun]}
"""


def test_on_request_each_room_behind_an_outlet_has_its_valve() -> None:
    for word, shut in (("arms", set[str]()), ("sections", {"B1"})):
        site, findings = read(TWO_ROOMS.replace("SECTIONS", word), "two.yaml")
        assert site is not None, findings
        layout, found = lay_out(site)
        assert layout is not None, found
        valves = of(layout, SECTION_VALVE)
        assert len(valves) == bool(shut)
        assert all(cut_off(layout, {valve.tag}) == shut and valve.room == "store" for valve in valves)


def test_a_section_without_room_for_its_valve_is_said() -> None:
    text = (SITES / "bus_depot.yaml").read_text(encoding="utf-8").replace("main: {", "main: {shut off: sections, ", 1)
    assert "VALVE004" in [finding.rule for finding in design(text, "bus.yaml").findings]


def test_a_valve_stands_where_its_brackets_find_studs() -> None:
    """Studs of 16 in: one lies 6 to 14 in to either side."""
    layout = laid("cabinet_shop")
    (valve,) = of(layout, ARM_VALVE)
    studs = layout.site.rooms["shop"].studs_of("A-B")
    assert studs is not None
    off_m = [at_m - layout.from_left_m(valve) for at_m in studs.places_m(7.0)]
    assert any(STUD_FROM_M <= m <= STUD_TO_M for m in off_m)
    assert any(STUD_FROM_M <= -m <= STUD_TO_M for m in off_m)
