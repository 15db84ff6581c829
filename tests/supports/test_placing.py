"""Brackets: within the span, near every fitting, clear of fittings and openings."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from drafter.layout import lay_out
from drafter.layout.graph import RunKind
from drafter.site import read
from drafter.sizing import size
from drafter.supports import Design, place_supports
from drafter.supports.boards import BOARD_TALL_M, BOARD_THICK_M
from drafter.supports.consoles import CARRIED, is_carried
from drafter.supports.framing import MEETS_M
from drafter.supports.lines import (
    BEYOND_M,
    CLEAR_OF_FITTING_M,
    FIXED_KINDS,
    NEAR_FITTING_M,
    SHORTEST_M,
    PipeLine,
    pipe_lines,
)
from drafter.supports.spacing import Window, span_between
from drafter.supports.straights import is_stepped, straights
from drafter.takeoff import take_off

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))
GRID_M = 0.007


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def design(request: pytest.FixtureRequest) -> Design:
    site, _ = read(request.param.read_bytes(), request.param.name)
    assert site is not None
    layout, _ = lay_out(site)
    assert layout is not None
    return place_supports(size(layout)[0])


def test_every_piece_is_held_within_its_span(design: Design) -> None:
    layout = design.network.layout
    for run in layout.runs:
        if run.kind not in FIXED_KINDS or layout.length_m(run) < 2 * SHORTEST_M:
            continue
        start = layout.nodes[run.start].at
        places = sorted(b.at.minus(start).length for b in design.brackets if b.run == run.id)
        assert places, run
        tube = design.network.sizes[run.id]
        upright = abs(layout.nodes[run.end].at.z - start.z) > 0.5 * layout.length_m(run)
        span = tube.vertical_span_m if upright else tube.bracket_span_m
        gaps = [b - a for a, b in pairwise(places)]
        assert all(gap <= span + GRID_M for gap in gaps), run
        reach = NEAR_FITTING_M + tube.valve_length_m / 2 + (BEYOND_M if _has_stud(design, run.id) else 0.0)
        reach += tube.union_length_m if design.network.material.joins_by == "thread" else 0.0
        assert places[0] <= reach
        assert layout.length_m(run) - places[-1] <= reach


def test_no_bracket_stands_on_a_fitting_or_in_an_opening(design: Design) -> None:
    layout = design.network.layout
    for bracket in design.brackets:
        run = next(run for run in layout.runs if run.id == bracket.run)
        for id in (run.start, run.end):
            assert layout.nodes[id].at.minus(bracket.at).length > CLEAR_OF_FITTING_M - GRID_M
        for opening in layout.site.rooms[bracket.room].openings:
            if layout.site.wall(bracket.room, opening.wall).name == bracket.wall:
                beside = not opening.from_left_m < bracket.from_left_m < opening.from_left_m + opening.width_m
                assert beside or not opening.bottom_m < bracket.at.z < opening.height_m


def test_tags_run_along_each_wall(design: Design) -> None:
    assert [b.tag for b in design.brackets] == [f"B-{n:02d}" for n in range(1, len(design.brackets) + 1)]
    for before, after in pairwise(design.brackets):
        if (before.room, before.wall) == (after.room, after.wall):
            assert before.from_left_m <= after.from_left_m + 1e-4


def test_each_straight_line_of_main_has_one_fixed_point(design: Design) -> None:
    """But for what steps out round something: it gives way with the legs on either side."""
    found = straights(design.network, pipe_lines(design.network))
    assert found
    for straight in found:
        held = [b for b in design.brackets if b.run in straight.runs]
        if held:
            assert sum(b.fixed for b in held) == (0 if is_stepped(design.network, straight) else 1)
    mains = {run for straight in found for run in straight.runs}
    others = {design.network.layout.run_by_id[b.run].kind for b in design.brackets if b.fixed and b.run not in mains}
    assert others <= {RunKind.RISER}


def test_a_straight_line_is_held_within_its_span_across_its_fittings(design: Design) -> None:
    for line in pipe_lines(design.network):
        stations = _stations(design, line)
        for low, high in pairwise(stations):
            assert high - low <= span_between(line.stretches, low, high) + 1e-6
        assert all(line.is_free(station) for station in stations)
        assert _missed(design, line) == []
    assert {finding.rule for finding in design.findings} <= {"CLIP004"}


def _has_stud(design: Design, run: str) -> bool:
    return any(bracket.stud for bracket in design.brackets if bracket.run == run)


def _missed(design: Design, line: PipeLine) -> list[Window]:
    """The windows of a line that no bracket stands in, nor a little beyond on a stud."""
    stations = _stations(design, line)
    more_m = BEYOND_M if any(_has_stud(design, run.id) for run in line.runs) else 0.0
    return [
        window
        for window in line.windows
        if not any(window.low_m - more_m - 1e-6 <= s <= window.high_m + more_m + 1e-6 for s in stations)
    ]


def _stations(design: Design, line: PipeLine) -> list[float]:
    runs = {run.id for run in line.runs}
    return sorted(b.at.z if line.upright else b.from_left_m for b in design.brackets if b.run in runs)


YARD = """
site: Stud Yard (invented)
rooms:
  shop:
    size: [{length} m, 6 m]
    ceiling: 3.4 m
    coldest: 10 degC
    warmest: 30 degC
{walls}
    openings:
      - {{kind: {kind}, wall: south, from left: {door} m, width: {width} m, height: {head} m, sill: 1 m}}
compressor:
  {{wall: north, from left: 0.6 m, power: 4 kW, free air: 8 l/s, cut in: 8 bar, cut out: 9 bar,
   tank: 200 l, rated: 11 bar, relief: 10.5 bar}}
main: {{material: {material}, height: 2.9 m, fall: 1 %}}
outlets:
  - {{tag: A1, wall: east, from left: {east} m, tools: [blow gun]}}
  - {{tag: A2, wall: south, from left: {south} m, tools: [blow gun]}}
"""
STUDS = "    studs: {{spacing: {spacing} m, first: {first} m}}"


def _placed(walls: str = "", **changes: object) -> Design | None:
    values: dict[str, object] = {
        "length": 9, "kind": "window", "door": 5, "width": 1, "head": 2.1, "east": 2, "south": 3,
        "material": "copper tube", "walls": walls,
    }  # fmt: skip
    site, _ = read(YARD.format(**values | changes), "yard.yaml")
    layout = lay_out(site)[0] if site else None
    return place_supports(size(layout)[0]) if layout else None


@settings(max_examples=30, deadline=None)
@given(
    st.integers(40, 120), st.integers(5, 55), st.integers(5, 30), st.floats(0.3, 0.7), st.floats(0.02, 1.0),
    st.sampled_from(["copper tube", "steel pipe", "polyamide tube", "aluminium tube"]), st.booleans(),
)  # fmt: skip
def test_any_stud_wall_is_served_or_the_place_is_reported(
    length: int, east: int, south: int, spacing: float, share: float, material: str, studs: bool
) -> None:
    first = max(0.02, share * spacing)
    walls = STUDS.format(spacing=round(spacing, 3), first=round(first, 3)) if studs else ""
    design = _placed(walls, length=length / 10, east=east / 10, south=south / 10, material=material, door=length / 20)
    assume(design is not None)
    assert design is not None
    missed = wide = 0
    for line in pipe_lines(design.network):
        stations = _stations(design, line)
        assert all(line.is_free(station) for station in stations)
        missed += len(_missed(design, line))
        wide += any(b - a > span_between(line.stretches, a, b) + 1e-6 for a, b in pairwise(stations))
    assert missed == sum(finding.rule == "CLIP002" for finding in design.findings)
    assert wide == sum(finding.rule == "CLIP001" for finding in design.findings)
    for bracket in design.brackets:
        assert bool(bracket.stud or bracket.board) == studs
        if bracket.stud:
            at = round(first, 3) + (bracket.stud - 1) * round(spacing, 3)
            assert bracket.from_left_m == pytest.approx(at, abs=MEETS_M + 1e-6)
    layout = design.network.layout
    assert len(design.consoles) == sum(
        node.kind in CARRIED and is_carried(layout, node) for node in layout.nodes.values()
    )
    assert all(bool(console.stud or console.board) == studs for console in design.consoles if not console.on_floor)
    _check_boards(design)


def _check_boards(design: Design) -> None:
    site = design.network.layout.site
    fixed = (*design.brackets, *design.consoles)
    for bracket in fixed:
        for board in design.boards:
            over = board.from_left_m <= bracket.from_left_m <= board.from_left_m + board.length_m
            beside = abs(bracket.at.z - board.height_m) <= BOARD_TALL_M / 2
            assert bracket.board or not (bracket.wall == board.wall and over and beside)
    for board in design.boards:
        held = [bracket for bracket in fixed if bracket.board == board.tag]
        assert held
        assert board.length_m > 0
        assert 0 <= board.from_left_m < board.from_left_m + board.length_m <= site.wall("shop", board.wall).length_m
        for bracket in held:
            assert bracket.wall == board.wall
            assert board.from_left_m <= bracket.from_left_m <= board.from_left_m + board.length_m
            reach_m = BOARD_TALL_M / 2 if bracket.stud else BOARD_TALL_M / 4
            assert abs(bracket.at.z - board.height_m) <= reach_m + 1e-9
        for opening in site.rooms["shop"].openings:
            if opening.wall == board.wall and opening.bottom_m < board.height_m < opening.height_m:
                left, right = opening.from_left_m, opening.from_left_m + opening.width_m
                assert board.from_left_m + board.length_m <= left + 1e-9 or board.from_left_m >= right - 1e-9


def test_masonry_needs_no_board_and_a_wall_may_differ_from_its_room() -> None:
    plain = _placed()
    mixed = _placed("    studs: {spacing: 0.4 m, first: 0.3 m}\n    walls:\n      - {wall: east, built: masonry}")
    assert plain is not None
    assert mixed is not None
    assert not plain.boards
    assert {(b.from_left_m, b.at.z) for b in plain.brackets if b.wall == "east"} == {
        (b.from_left_m, b.at.z) for b in mixed.brackets if b.wall == "east"
    }
    assert {b.wall for b in mixed.brackets if b.stud or b.board} == {"north", "south"}


def test_studs_are_taken_before_boards_where_the_windows_allow_it() -> None:
    """Studs at every 200 mm: each window, 240 mm wide, holds one, so no level pipe needs a board."""
    design = _placed(STUDS.format(spacing=0.2, first=0.2))
    assert design is not None
    layout = design.network.layout
    level = [b for b in design.brackets if not layout.is_upright(layout.run_by_id[b.run])]
    assert level
    assert all(b.stud for b in level if layout.run_by_id[b.run].kind is RunKind.MAIN)


def test_a_board_gives_its_thickness_to_the_bracket() -> None:
    design, plain = _placed(STUDS.format(spacing=0.6, first=0.6)), _placed()
    assert design is not None
    assert plain is not None
    drops = {round(b.stand_off_m, 4) for b in plain.brackets if b.at.z < 2.5 and b.wall == "south"}
    boarded = {round(b.stand_off_m, 4) for b in design.brackets if b.board and b.at.z < 2.5 and b.wall == "south"}
    assert boarded <= {round(off - BOARD_THICK_M, 4) for off in drops}


def test_inches() -> None:
    """16 in studs in a shop drawn in feet: every bracket of the main is on a stud or on a half inch."""
    site, findings = read((EXAMPLES[0].parent / "cabinet_shop.yaml").read_bytes(), "cabinet_shop.yaml")
    assert site is not None, findings
    layout, _ = lay_out(site)
    assert layout is not None
    design = place_supports(size(layout)[0])
    on_studs = [b for b in design.brackets if b.stud and layout.run_by_id[b.run].kind is RunKind.MAIN]
    assert on_studs
    for bracket in on_studs:
        assert bracket.from_left_m / 0.0254 == pytest.approx(15.25 + 16 * (bracket.stud - 1))
    for bracket in design.brackets:
        if bracket.board and not layout.is_upright(layout.run_by_id[bracket.run]):
            assert bracket.from_left_m / 0.0127 == pytest.approx(round(bracket.from_left_m / 0.0127))


def test_no_bracket_stands_on_a_coupling_of_the_cutting_list(design: Design) -> None:
    """The list's own pieces, laid end to end from the face of the first fitting, say where the couplings are."""
    layout, lengths = design.network.layout, dict[str, list[float]]()
    for piece in take_off(design).pieces:
        lengths.setdefault(piece.run, []).append(piece.cut_m)
    for run, cuts in lengths.items():
        tube, start = design.network.sizes[run], layout.nodes[layout.run_by_id[run].start].at
        end_m = tube.centre_to_face_m - tube.insertion_m
        for cut_m in cuts[:-1]:
            end_m += cut_m
            middle_m = end_m - tube.insertion_m + tube.coupling_length_m / 2
            end_m += tube.coupling_length_m - 2 * tube.insertion_m
            for bracket in design.brackets:
                if bracket.run == run:
                    clear_m = abs(bracket.at.minus(start).length - middle_m) - tube.coupling_length_m / 2
                    assert clear_m > CLEAR_OF_FITTING_M - 0.005
