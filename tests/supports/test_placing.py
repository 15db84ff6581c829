"""Brackets: within the span, near every fitting, clear of fittings and openings."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from drafter.layout import lay_out
from drafter.layout.graph import RunKind
from drafter.site import read
from drafter.sizing import size
from drafter.supports import Design, place_supports
from drafter.supports.placing import CLEAR_OF_FITTING_M, FIXED_KINDS, NEAR_FITTING_M, SHORTEST_M

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
        reach = NEAR_FITTING_M + tube.valve_length_m / 2
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


def test_each_long_piece_of_main_has_one_fixed_point(design: Design) -> None:
    for run in design.network.layout.runs:
        held = [b for b in design.brackets if b.run == run.id]
        if run.kind is RunKind.MAIN and held:
            assert sum(b.fixed for b in held) == 1
