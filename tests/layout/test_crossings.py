"""The main crosses a room below its ceiling only where the site allows it, and where that pays."""

from __future__ import annotations

from itertools import pairwise

import pytest

from drafter.finding import Finding
from drafter.layout import Layout, lay_out
from drafter.layout.graph import RunKind
from drafter.pipeline import compose_drawing, design
from drafter.site import read

SITE = """
site: Across (invented)
rooms:
  hall: {{size: [14 m, 6 m], ceiling: 3.4 m{room}}}
compressor: {{wall: north, from left: 0.6 m, power: 4 kW, free air: 8 l/s, cut in: 7.5 bar, cut out: 9 bar,
  tank: 200 l, rated: 11 bar, relief: 10 bar}}
main: {{material: copper tube type L, height: 2.8 m, fall: 1 %, off wall: 180 mm{main}}}
outlets:
  - {{tag: A1, wall: north, from left: 5 m, tools: [blow gun]}}
  - {{tag: A2, wall: south, from left: 8.6 m, tools: [blow gun]}}
"""
ACROSS = ", crossings: [{wall: north, from left: 6 m}]"
JOISTS = ", crossings: [{wall: north, from left: 6 m, joists: {spacing: 600 mm, first: 400 mm}}]"
DOOR = ", openings: [{kind: overhead door, wall: west, from left: 1 m, width: 3 m, height: 2.6 m}]"


def text(room: str = ACROSS + DOOR, main: str = "") -> str:
    return SITE.format(room=room, main=main)


def laid_out(room: str = ACROSS + DOOR, main: str = "") -> tuple[Layout | None, tuple[Finding, ...]]:
    site, findings = read(text(room, main), "across.yaml")
    if site is None:
        return None, findings
    return lay_out(site)


def walls_of_main(layout: Layout) -> list[str]:
    return list(dict.fromkeys(run.wall for run in layout.runs if run.kind is RunKind.MAIN))


def test_it_crosses_where_it_is_allowed_and_shorter() -> None:
    layout, findings = laid_out()
    assert layout is not None, findings
    assert walls_of_main(layout) == ["north", "crossing 1", "south"]
    (run,) = [run for run in layout.runs if run.wall == "crossing 1"]
    start, end = layout.nodes[run.start].at, layout.nodes[run.end].at
    assert (start.x, end.x) == (pytest.approx(6.0), pytest.approx(6.0))
    assert start.y - end.y == pytest.approx(6 - 2 * 0.18)
    assert start.z - end.z == pytest.approx(0.01 * (6 - 2 * 0.18))
    assert "It crosses below the ceiling on crossing 1 of hall." in layout.reasons


def test_without_a_crossing_it_keeps_to_the_walls() -> None:
    layout, _ = laid_out(DOOR)
    assert layout is not None
    assert walls_of_main(layout) == ["north", "east", "south"]


@pytest.mark.parametrize("main", [", costs: {ceiling: 15}", ", path: [north, east, south]"])
def test_dear_or_unnamed_crossings_are_left_aside(main: str) -> None:
    layout, _ = laid_out(main=main)
    assert layout is not None
    assert walls_of_main(layout) == ["north", "east", "south"]


def test_a_path_may_name_a_crossing() -> None:
    layout, findings = laid_out(main=", path: [north, crossing 1, south], costs: {ceiling: 15}")
    assert layout is not None, findings
    assert walls_of_main(layout) == ["north", "crossing 1", "south"]


def test_hangers_are_on_joists_within_their_span() -> None:
    done = design(text(JOISTS + DOOR), "across.yaml")
    assert done.design is not None, done.findings
    assert done.takeoff is not None
    hangers = [bracket for bracket in done.design.brackets if bracket.wall == "crossing 1"]
    assert all(bracket.hangs and (bracket.stud or bracket.board) for bracket in hangers)
    on_joists = [bracket.from_left_m for bracket in hangers if bracket.stud]
    assert len(on_joists) >= len(hangers) - 1
    assert [round((m - 0.4) / 0.6, 6) % 1 for m in on_joists] == pytest.approx([0.0] * len(on_joists))
    assert all(board.height_m > 3.3 for board in done.design.boards)
    gaps = [b.from_left_m - a.from_left_m for a, b in pairwise(hangers)]
    assert max(gaps) <= hangers[0].size.bracket_span_m + 1e-6
    assert all(0.0 <= 3.4 - b.at.z - b.stand_off_m < 0.02 for b in hangers)
    rods = [row for row in done.takeoff.parts if row.item.startswith("hanger")]
    assert sum(row.quantity for row in rods) == len(hangers)


def test_the_crossing_has_an_elevation_and_marks_of_its_own() -> None:
    done = design(text(), "across.yaml")
    assert done.design is not None
    assert done.takeoff is not None
    drawing = compose_drawing(done)
    assert "ELEVATION 3 - CROSSING 1" in [view.title for view in drawing.views]
    assert {mark.what[:6] for mark in done.takeoff.marks if mark.wall == "crossing 1"} == {"hanger"}


@pytest.mark.parametrize(
    "crossings, rule",
    [
        ("[{wall: north, from left: 20 m}]", "PLACE001"),
        ("[{wall: nowhere, from left: 2 m}]", "REF002"),
        ("[{wall: north, from left: 6 m}, {wall: west, from left: 3 m}]", "CROSS002"),
        ("[{wall: north, from left: 5.05 m}]", "CROSS003"),
        ("[{wall: north, from left: 0.1 m}]", "CROSS003"),
    ],
)
def test_crossings_that_cannot_be(crossings: str, rule: str) -> None:
    layout, findings = laid_out(f", crossings: {crossings}")
    assert layout is None
    assert [finding.rule for finding in findings] == [rule]


def test_a_crossing_needs_a_wall_that_faces_it() -> None:
    """From the slanted wall of a room with five corners nothing lies straight across."""
    site, findings = read(
        text("").replace("size: [14 m, 6 m]", "corners: {A: [0 m, 0 m], B: [0 m, 6 m], C: [9 m, 6 m], D: [14 m, 0 m]}, "
        "crossings: [{wall: C-D, from left: 3 m}]").replace("north", "B-C").replace("south", "D-A"),
        "across.yaml",
    )  # fmt: skip
    assert site is None
    assert [finding.rule for finding in findings] == ["CROSS001"]


RAISED = ", crossings: [{wall: north, from left: 6 m, height: 3.3 m}]"


def test_a_raised_crossing_goes_up_across_and_down_by_hand() -> None:
    """Up from 2.8 m less 3.75 m of fall at 1 % to 3.3 m; it falls 56.4 mm across and comes down as low as otherwise."""
    plain, _ = laid_out()
    layout, findings = laid_out(RAISED + DOOR)
    assert layout is not None, findings
    assert plain is not None
    (run,) = [run for run in layout.runs if run.wall == "crossing 1"]
    up, down = layout.nodes[run.start], layout.nodes[run.end]
    assert (up.at.z, down.at.z) == (pytest.approx(3.3), pytest.approx(3.3 - 0.0564))
    uprights = [run for run in layout.runs if run.kind is RunKind.RISE]
    assert [run.wall for run in uprights] == ["north", "south"]
    assert layout.take_offs["A2"].at.z == pytest.approx(plain.take_offs["A2"].at.z)


def test_what_turns_up_and_goes_nowhere_else_is_drained() -> None:
    layout, _ = laid_out(RAISED + DOOR)
    assert layout is not None
    first = next(run for run in layout.runs if run.kind is RunKind.RISE)
    assert layout.is_low_point(layout.nodes[first.start])


def test_from_a_main_that_goes_on_the_crossing_leaves_upwards() -> None:
    """Its water runs back into the main, so there is no drain at its foot."""
    more = "  - {tag: A3, wall: north, from left: 9 m, tools: [blow gun]}\n"
    site, findings = read(text(RAISED + DOOR) + more, "across.yaml")
    assert site is not None, findings
    layout, findings = lay_out(site)
    assert layout is not None, findings
    first = next(run for run in layout.runs if run.kind is RunKind.RISE)
    kinds = [run.kind for run in layout.runs_at[first.start]]
    assert sorted(kinds, key=str) == sorted([RunKind.MAIN, RunKind.MAIN, RunKind.RISE], key=str)


def test_a_raised_crossing_goes_together_and_is_held() -> None:
    done = design(
        text(RAISED.replace("height", "joists: {spacing: 600 mm, first: 400 mm}, height") + DOOR), "across.yaml"
    )
    assert done.takeoff is not None, done.findings
    assert not [finding for finding in done.findings if finding.rule in ("JOIN001", "CLIP001", "CLIP002", "CUT001")]


def test_a_main_as_high_as_its_crossing_stays_at_its_level() -> None:
    layout, findings = laid_out(RAISED.replace("3.3 m", "2.8 m") + DOOR)
    assert layout is not None, findings
    assert not [run for run in layout.runs if run.kind is RunKind.RISE]


@pytest.mark.parametrize("height, rule", [("3 m", "CROSS004"), ("3.38 m", "PLACE004")])
def test_a_crossing_as_high_as_it_may_be(height: str, rule: str) -> None:
    layout, findings = laid_out(RAISED.replace("3.3 m", height) + DOOR)
    assert layout is None
    assert [finding.rule for finding in findings] == [rule]
