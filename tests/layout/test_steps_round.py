"""The main steps round columns and in front of other services, where that costs less than another way."""

from __future__ import annotations

from itertools import pairwise

import pytest

from drafter.finding import Finding
from drafter.layout import Layout, lay_out
from drafter.layout.graph import NodeKind, RunKind
from drafter.layout.obstacles import obstacles_in
from drafter.pipeline import design
from drafter.site import read

SITE = """
site: Pillars (invented)
rooms:
  hall: {{size: [12 m, 8 m], ceiling: 3.6 m{room}}}
compressor: {{wall: north, from left: 0.6 m, power: 4 kW, free air: 8 l/s, cut in: 7.5 bar, cut out: 9 bar,
  tank: 200 l, rated: 11 bar, relief: 10 bar}}
main: {{material: copper tube type L, height: 3 m, fall: 1 %, off wall: 180 mm{main}}}
outlets:
  - {{tag: A1, wall: north, from left: {first}, tools: [blow gun]}}
  - {{tag: A2, wall: east, from left: 6 m, tools: [blow gun]}}
"""
MIDDLE = ", columns: [{wall: north, from left: 6 m, width: 0.4 m, depth: 0.3 m}]"
CORNER = ", columns: [{wall: east, from left: 0 m, width: 0.4 m, depth: 0.4 m}]"
PIPE = ", services: [{kind: water pipe, wall: north, from left: 6 m, width: 0.1 m, above floor: 0 m, height: 3.6 m}]"


def text(room: str, main: str = "", first: str = "9 m") -> str:
    return SITE.format(room=room, main=main, first=first)


def laid_out(room: str, main: str = "", first: str = "9 m") -> tuple[Layout | None, tuple[Finding, ...]]:
    site, findings = read(text(room, main, first), "pillars.yaml")
    assert site is not None, findings
    return lay_out(site)


def corners_of_main(layout: Layout) -> list[tuple[float, float]]:
    """Where the main turns in plan, to the millimetre, in the order of the air."""
    runs = [run for run in layout.runs if run.kind is RunKind.MAIN]
    spots = [layout.nodes[runs[0].start].at.plan, *(layout.nodes[run.end].at.plan for run in runs)]
    ways = [after.minus(before).unit for before, after in pairwise(spots)]
    turns = [at for at, way, on in zip(spots[1:], ways, ways[1:], strict=False) if way.dot(on) < 0.5]
    return [(round(at.x, 3), round(at.y, 3)) for at in turns]


def test_round_a_column_by_hand() -> None:
    """The column stands 6.0 to 6.4 m along, 0.3 m deep: 70 mm beside it the main turns out to 0.18 + 0.30 m."""
    layout, findings = laid_out(MIDDLE)
    assert layout is not None, findings
    y, out = 8 - 0.18, 8 - 0.48
    assert corners_of_main(layout)[:4] == [(5.93, y), (5.93, out), (6.47, out), (6.47, y)]
    assert any("steps out from the wall round the column (north wall)" in reason for reason in layout.reasons)


def test_the_main_falls_on_round_a_column() -> None:
    """Its level at A2 is what the whole way round costs, four pieces of 0.3 m and 0.54 m among them."""
    plain, _ = laid_out("")
    stepped, _ = laid_out(MIDDLE)
    assert plain is not None
    assert stepped is not None
    assert plain.take_offs["A2"].at.z - stepped.take_offs["A2"].at.z == pytest.approx(0.01 * 2 * 0.30)


def test_a_column_in_the_corner_is_passed_in_three_turns() -> None:
    layout, findings = laid_out(CORNER)
    assert layout is not None, findings
    x, y = 12 - 0.58, 8 - 0.47
    assert corners_of_main(layout)[:3] == [(x, 8 - 0.18), (x, y), (12 - 0.18, y)]


def test_a_pipe_on_the_wall_is_passed_in_front() -> None:
    """The water pipe and its clearance reach 0.25 m off the wall: the main steps out by 0.2 m, no less."""
    layout, findings = laid_out(PIPE)
    assert layout is not None, findings
    assert corners_of_main(layout)[1][1] == pytest.approx(8 - 0.38)


@pytest.mark.parametrize("kind, depth", [("hot pipe", "0.2 m"), ("duct", "0.7 m")])
def test_what_is_hot_or_deep_is_not_passed_in_front(kind: str, depth: str) -> None:
    room = PIPE.replace("water pipe", kind).replace("above floor", f"depth: {depth}, above floor")
    layout, _ = laid_out(room)
    assert layout is not None
    assert {run.wall for run in layout.runs if run.kind is RunKind.MAIN} == {"north", "west", "south", "east"}


@pytest.mark.parametrize("first, at", [("5.75 m", 5.75), ("5.5 m", 5.5)])
def test_an_outlet_beside_a_column_keeps_room_for_its_fitting(first: str, at: float) -> None:
    layout, findings = laid_out(MIDDLE, first=first)
    assert layout is not None, findings
    turns = [x for x, y in corners_of_main(layout) if x < 6.0 and y > 7.0]
    assert all(abs(x - at) >= 0.15 - 1e-6 for x in turns)


def test_an_outlet_too_near_a_column_is_named_with_where_it_could_be() -> None:
    """The turn is 70 mm beside the column at 6.47 m, and needs 150 mm to the next fitting."""
    door = MIDDLE + ", openings: [{kind: opening, wall: south, from left: 4 m, width: 2 m, height: 3.2 m}]"
    layout, (finding,) = laid_out(door, first="6.5 m")
    assert layout is None
    assert finding.rule == "ROUTE001"
    assert "outlet A1 leaves no room to step round it" in finding.message
    assert "move outlet A1 to 6620 mm from the left or more" in finding.fix
    assert laid_out(door, first="6.62 m")[0] is not None
    layout, _ = laid_out(MIDDLE, first="6.5 m")
    assert layout is not None
    assert "It cannot step round the column (north wall): outlet A1 is too near to it." in layout.reasons


def test_an_outlet_between_a_column_and_the_corner_is_not_led_past() -> None:
    layout, _ = laid_out(CORNER, first="11.5 m")
    assert layout is not None
    assert not any("steps out" in reason for reason in layout.reasons)


@pytest.mark.parametrize("second", [6.45, 6.6, 6.69, 6.72, 6.74, 6.8, 6.9])
def test_two_columns_are_passed_as_one_or_one_by_one(second: float) -> None:
    room = MIDDLE[:-1] + f", {{wall: north, from left: {second} m, width: 0.4 m, depth: 0.3 m}}]"
    layout, findings = laid_out(room)
    assert layout is not None, findings
    assert any("steps out" in reason for reason in layout.reasons)
    assert not any("cannot" in reason for reason in layout.reasons)


def test_a_ring_goes_round_columns_too() -> None:
    room = MIDDLE[:-1] + ", {wall: south, from left: 5 m, width: 0.3 m, depth: 0.3 m}]"
    layout, findings = laid_out(room, ", arrangement: ring")
    assert layout is not None, findings
    for run in layout.runs:
        if run.kind is RunKind.MAIN:
            start, end = layout.nodes[run.start].at, layout.nodes[run.end].at
            assert not any(obstacle.meets(start, end) for obstacle in obstacles_in(layout.site, run.room))
    assert sum(layout.steps_out_to_m(node) > 0.0 for node in layout.nodes.values()) == 4


@pytest.mark.parametrize("room", [MIDDLE, CORNER, PIPE])
def test_what_steps_out_is_held_and_goes_together(room: str) -> None:
    """Brackets of the part before a column are on its front; the legs out hang on their neighbours."""
    done = design(text(room), "pillars.yaml")
    assert done.takeoff is not None, done.findings
    assert not [
        finding for finding in done.findings if finding.rule in ("JOIN001", "CLIP001", "CLIP002", "CLIP003", "MOVE001")
    ]
    assert done.design is not None
    fronts = [bracket for bracket in done.design.brackets if bracket.on_column]
    assert bool(fronts) == (room != PIPE)
    assert all(bracket.stand_off_m == pytest.approx(0.18) for bracket in fronts)
    assert room == CORNER or not any(bracket.fixed for bracket in fronts)
    marks = [mark for mark in done.takeoff.marks if "turns out" in mark.what or "turns back" in mark.what]
    assert len(marks) == (1 if room == CORNER else 2)


def test_soft_tube_that_steps_out_hangs_free_for_too_long() -> None:
    """From the last bracket on the wall, out beside the column, and along its front to the first bracket there."""
    done = design(text(MIDDLE).replace("copper tube type L", "polyamide tube"), "pillars.yaml")
    (finding,) = [each for each in done.findings if each.rule == "CLIP003"]
    assert done.design is not None
    wall = [b for b in done.design.brackets if b.wall == "north" and b.from_left_m < 6.6]
    fronts = sorted(b.from_left_m for b in wall if b.on_column)
    plain = [b.from_left_m for b in wall if not b.on_column]
    corners = corners_of_main(done.design.network.layout)
    (left, right), deep_m = sorted({x for x, _ in corners[:4]}), 7.82 - min(y for _, y in corners[:4])
    free_m = [left - max(m for m in plain if m < left) + deep_m + fronts[0] - left]
    free_m.append(min(m for m in plain if m > right) - right + deep_m + right - fronts[-1] if max(plain) > right else 0)
    assert int(finding.measured.split()[0]) == pytest.approx(1000 * max(free_m), abs=6)


def test_drains_and_drops_keep_to_the_wall() -> None:
    layout, _ = laid_out(MIDDLE)
    assert layout is not None
    low = [node for node in layout.nodes.values() if node.kind is NodeKind.DRAIN]
    assert all(layout.site.wall(node.room, node.wall).measure(node.at.plan)[1] < 0.2 for node in low)
