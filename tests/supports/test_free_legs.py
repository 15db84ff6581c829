"""Free legs: near an end of the main that moves, nothing holds the pipe across it sideways."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from drafter.layout import lay_out
from drafter.layout.graph import Run
from drafter.report.expansion import expansion_lines
from drafter.site import read
from drafter.sizing import size
from drafter.standards.expansion import TAKEN_UP_M
from drafter.supports import Design, place_supports
from drafter.supports.design import Bracket
from drafter.supports.free_legs import holds_sideways, with_free_legs
from drafter.supports.lines import pipe_lines
from drafter.supports.straights import End, Movement, movements

SITES = Path(__file__).parents[2] / "example_sites"
EXAMPLES = sorted(path.stem for path in SITES.glob("*.yaml"))

HALL = """
site: Hall (invented)
rooms: {{hall: {{size: [{length} m, {width} m], ceiling: 4 m, coldest: {coldest} degC, warmest: {warmest} degC}}}}
compressor: {{wall: north, from left: 1 m, power: 4 kW, free air: 8 l/s, cut in: 8 bar, cut out: 9 bar,
  tank: 200 l, rated: 11 bar, relief: 10.5 bar}}
main: {{material: {material}, height: 3.4 m, fall: 0.5 %}}
outlets:
  - {{tag: A1, wall: east, from left: {east} m, tools: [blow gun]}}
  - {{tag: A2, wall: south, from left: 1.5 m, tools: [blow gun]}}
"""


def placed(text: str) -> Design | None:
    site, _ = read(text, "hall.yaml")
    layout = lay_out(site)[0] if site else None
    return place_supports(size(layout)[0]) if layout else None


@cache
def example(name: str) -> Design:
    design = placed((SITES / f"{name}.yaml").read_text())
    assert design is not None
    return design


def across(design: Design, movement: Movement, end: End) -> Iterator[tuple[float, Bracket]]:
    """Each bracket on the pipe across an end, walked to through what goes straight on, and round steps."""
    layout = design.network.layout
    lines = {run.id: line.runs for line in pipe_lines(design.network) for run in line.runs}
    ways: list[tuple[float, str, Run]] = [(0.0, end.node, run) for run in layout.runs_at[end.node]]
    seen = set(movement.straight.runs)
    while ways:
        so_far_m, here, run = ways.pop()
        if run.id in seen:
            continue
        seen.add(run.id)
        at = layout.nodes[here].at
        yield from ((so_far_m + b.at.minus(at).length, b) for b in design.brackets if b.run == run.id)
        beyond = run.start if run.end == here else run.end
        for other in layout.runs_at[beyond]:
            steps = layout.goes_across(run) != layout.goes_across(other) and run.wall == other.wall
            if other in lines.get(run.id, ()) or (steps and so_far_m == 0.0 and layout.goes_across(run)):
                ways.append((so_far_m + layout.length_m(run), beyond, other))


def check(design: Design) -> None:
    gives: dict[str, float] = {}
    for movement in movements(design):
        for end in movement.pulls:
            if end.moves_m < TAKEN_UP_M or end.needed_m is None or end.leg_m is None:
                continue
            assert end.takes_m >= end.moves_m
            for off_m, bracket in across(design, movement, end):
                if off_m < min(end.needed_m, end.leg_m) - 1e-6:
                    assert not holds_sideways(bracket), (end, bracket)
                    assert not bracket.fixed
                    assert bracket.hangs or bracket.gives_m >= end.takes_m
                    gives[bracket.tag] = max(gives.get(bracket.tag, 0.0), 0.0 if bracket.hangs else end.takes_m)
    for bracket in design.brackets:
        assert bracket.gives_m == pytest.approx(gives.get(bracket.tag, 0.0))


@pytest.mark.parametrize("name", EXAMPLES)
def test_nothing_holds_sideways_within_the_needed_leg_and_nothing_is_loose_elsewhere(name: str) -> None:
    check(example(name))


@settings(max_examples=30, deadline=None)
@given(
    st.integers(60, 290), st.integers(30, 150), st.integers(-5, 15), st.integers(20, 45),
    st.sampled_from(["copper tube", "steel pipe", "stainless press tube", "polyamide tube"]),
)  # fmt: skip
def test_in_any_hall(length: int, width: int, coldest: int, warmest: int, material: str) -> None:
    design = placed(
        HALL.format(
            length=length / 10, width=width / 10, coldest=coldest, warmest=warmest, material=material,
            east=round(width / 20, 2),
        )
    )  # fmt: skip
    assume(design is not None)
    assert design is not None
    check(design)


def test_the_first_bracket_round_the_corner_of_a_long_wall_gives_way() -> None:
    """The end of the north wall moves 4.3 mm and needs 853 mm; the first bracket round the corner stands at 330 mm."""
    design = example("bus_depot")
    (end,) = (e for m in movements(design) for e in m.ends if round(e.moves_m * 1000, 1) == 4.3)
    at = design.network.layout.nodes[end.node].at
    loose = [b for b in design.brackets if b.wall == "west" and b.gives_m == end.moves_m]
    assert [round(b.at.minus(at).length, 2) for b in loose] == [0.33]
    (said,) = (line for line in expansion_lines(design) if "loose" in line)
    assert f"{loose[0].tag} 5 mm" in said


def test_a_step_takes_up_the_movement_of_both_sides() -> None:
    """The bracket before a column lies on the free leg of either side."""
    design = example("machinery_shed")
    ends = [end for movement in movements(design) for end in movement.ends if end.takes_m > end.moves_m >= TAKEN_UP_M]
    assert ends
    assert {b.gives_m for b in design.brackets if b.on_column and b.gives_m} == {end.takes_m for end in ends}


def test_an_upright_on_a_tee_that_moves_is_let_go() -> None:
    """The upright to the crossing stands on the north main 3.9 m from its fixed point, and moves 1.3 mm with it.

    Steel, 28 K: 11.7e-6 x 28 x 4 m = 1.3 mm, for which 3/4 in pipe needs 69.3 sqrt(0.0267 x 0.0013) = 0.41 m.
    """
    design = example("machinery_shed")
    (tee,) = (end for movement in movements(design) for end in movement.tees if end.moves_m >= TAKEN_UP_M)
    assert tee.needed_m == pytest.approx(0.41, abs=0.01)
    at = design.network.layout.nodes[tee.node].at
    near = [b for b in design.brackets if b.at.plan == at.plan and b.at.minus(at).length < tee.needed_m]
    assert [b.gives_m for b in near] == [tee.moves_m]


def test_without_a_constant_nothing_is_loose_and_the_report_says_so() -> None:
    for name in ("bicycle_coop", "boat_shed"):
        design = example(name)
        assert not any(bracket.gives_m for bracket in design.brackets)
        assert "no bracket on them is loose" in expansion_lines(design)[-1]


def test_as_few_kinds_as_millimetres() -> None:
    design = example("bus_depot")
    units = design.network.layout.site.units
    kinds = {units.room_to_move(bracket.gives_m) for bracket in design.brackets if bracket.gives_m}
    assert kinds == {"2 mm", "3 mm", "5 mm", "6 mm"}


def test_placing_them_again_changes_nothing() -> None:
    design = example("bus_depot")
    bare = replace(design, brackets=tuple(replace(bracket, gives_m=0.0) for bracket in design.brackets))
    assert with_free_legs(bare, pipe_lines(design.network)) == design
