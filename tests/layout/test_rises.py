"""Mains that rise again short of a lowest level, and mains that fall back to the riser."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.finding import Finding
from drafter.layout import Layout, lay_out
from drafter.layout.graph import NodeKind, RunKind
from drafter.layout.levels import lowest_main_m
from drafter.pipeline import design
from drafter.site import read

SITE = """
site: Long hall (invented)
rooms:
  hall: {{size: [{length} m, 8 m], ceiling: 3.4 m{room}}}
compressor: {{wall: north, from left: 0.6 m, power: 4 kW, free air: 8 l/s, cut in: 7.5 bar, cut out: 9 bar,
  tank: 200 l, rated: 11 bar, relief: 10 bar}}
{treatment}main: {{material: copper tube type L, height: 2.7 m, fall: 1 %, off wall: 180 mm{main}}}
outlets:
  - {{tag: A1, wall: north, from left: {near} m, tools: [blow gun]}}
  - {{tag: A2, wall: east, from left: 6 m, tools: [blow gun]}}
"""


def text(main: str, length: float = 40.0, room: str = "", treatment: str = "") -> str:
    return SITE.format(main=main, length=length, near=length / 2, room=room, treatment=treatment)


def laid_out(main: str, length: float = 40.0, room: str = "") -> tuple[Layout | None, tuple[Finding, ...]]:
    site, findings = read(text(main, length, room), "hall.yaml")
    assert site is not None, findings
    return lay_out(site)


def rises_of(layout: Layout) -> list[tuple[float, float]]:
    """Level of the foot and of the top of each rise."""
    runs = [run for run in layout.runs if run.kind is RunKind.RISE]
    return [(layout.nodes[run.start].at.z, layout.nodes[run.end].at.z) for run in runs]


def holds_for(layout: Layout, lowest_m: float) -> None:
    assert lowest_main_m(layout) >= lowest_m - 1e-9
    for run in layout.runs:
        if run.kind is RunKind.MAIN:
            assert layout.fall(run) == pytest.approx(0.01, abs=1e-9)
        if run.kind is RunKind.RISE:
            foot = [other.kind for other in layout.runs_at[run.start]]
            assert {RunKind.DRIP_LEG, RunKind.MAIN} <= set(foot)
            assert layout.nodes[run.end].at.z == pytest.approx(layout.site.main.height_m)


def test_a_rise_stands_as_late_as_it_can() -> None:
    """The main falls 10 mm a metre from 2.7 m: 30 m on it would come to 2.4 m, so it rises 5 cm or less before."""
    layout, findings = laid_out(", lowest: 2.4 m")
    assert layout is not None, findings
    ((foot_m, top_m),) = rises_of(layout)
    assert 2.4 <= foot_m < 2.4 + 0.01 * 0.06
    assert top_m == pytest.approx(2.7)
    holds_for(layout, 2.4)
    assert any("rises again" in reason for reason in layout.reasons)


def test_where_the_main_stays_high_enough_nothing_rises() -> None:
    layout, _ = laid_out(", lowest: 2.2 m")
    plain, _ = laid_out("")
    assert layout is not None
    assert plain is not None
    assert rises_of(layout) == []
    assert [(r.start, r.end) for r in layout.runs] == [(r.start, r.end) for r in plain.runs]


def test_a_rise_goes_past_what_leaves_its_leg_no_room() -> None:
    """Racks stand where the rise would: it comes before them."""
    rack = ", equipment: [{kind: cabinet, wall: north, from left: 28 m, width: 6 m, depth: 0.5 m, height: 2.3 m}]"
    layout, findings = laid_out(", lowest: 2.4 m", room=rack)
    assert layout is not None, findings
    (rise,) = [run for run in layout.runs if run.kind is RunKind.RISE]
    assert layout.from_left_m(layout.nodes[rise.start]) < 28.0
    holds_for(layout, 2.4)


def test_where_no_rise_finds_room_it_is_said() -> None:
    racks = ", ".join(
        f"{{kind: cabinet, wall: north, from left: {low} m, width: {high - low} m, depth: 0.5 m, height: 2.0 m}}"
        for low, high in ((2.5, 19.5), (20.5, 40.0))
    )
    layout, findings = laid_out(", lowest: 2.4 m", room=f", equipment: [{racks}]")
    assert layout is None
    assert [finding.rule for finding in findings] == ["LEVEL005"]


@settings(max_examples=25, deadline=None)
@given(st.floats(12.0, 120.0), st.sampled_from((2.2, 2.3, 2.4)))
def test_there_are_as_few_rises_as_can_be(length: float, lowest_m: float) -> None:
    """Each falls through nearly the whole height there is: no fewer rises bring the main to its end."""
    layout, findings = laid_out(f", lowest: {lowest_m} m", round(length, 1))
    assert layout is not None, findings
    holds_for(layout, lowest_m)
    run_m = sum(layout.length_m(run) for run in layout.runs if run.kind is RunKind.MAIN)
    least = math.ceil(run_m * 0.01 / (2.7 - lowest_m)) - 1
    assert least <= len(rises_of(layout)) <= least + 1


def test_rises_go_together_and_are_held() -> None:
    done = design(text(", lowest: 2.4 m"), "hall.yaml")
    assert done.takeoff is not None, done.findings
    assert not [finding for finding in done.findings if finding.rule in ("JOIN001", "CLIP002")]
    assert done.design is not None
    water = done.design.network.water
    assert water is not None


def test_falling_back_everything_runs_to_the_riser() -> None:
    layout, findings = laid_out(", falls to: riser")
    assert layout is not None, findings
    assert {round(layout.fall(run), 9) for run in layout.runs if run.kind is RunKind.MAIN} == {-0.01}
    drains = [node for node in layout.nodes.values() if node.kind is NodeKind.DRAIN]
    assert sum(not layout.outlet_at(node) for node in drains) == 1
    highest = max(node.at.z for node in layout.nodes.values() if node.kind is NodeKind.TAKE_OFF)
    assert highest == pytest.approx(2.7)


@pytest.mark.parametrize("treatment, legs", [("", 1), ("treatment: [filter]\n", 2)])
def test_what_runs_back_does_not_run_into_the_treatment(treatment: str, legs: int) -> None:
    done = design(text(", falls to: riser", treatment=treatment), "hall.yaml")
    assert done.takeoff is not None, done.findings
    layout = done.layout
    assert layout is not None
    of_riser = [run for run in layout.runs if run.kind is RunKind.DRIP_LEG and not run.outlet]
    assert len(of_riser) == legs


def test_the_last_take_off_of_a_main_that_falls_back_is_an_elbow() -> None:
    layout, _ = laid_out(", falls to: riser")
    assert layout is not None
    assert [run.kind for run in layout.runs_at[layout.take_offs["A2"].id]] == [RunKind.MAIN, RunKind.SWAN_NECK]


@pytest.mark.parametrize(
    "main, rule",
    [
        (", lowest: 2.5 m", "LEVEL006"),
        (", falls to: riser, lowest: 2.2 m", "FALL002"),
        (", falls to: riser, arrangement: ring", "FALL002"),
    ],
)
def test_what_does_not_go_together_is_said(main: str, rule: str) -> None:
    site, findings = read(text(main), "hall.yaml")
    assert site is None
    assert [finding.rule for finding in findings] == [rule]


def test_a_riser_that_becomes_too_short_is_said() -> None:
    """Some 200 m away the main is 2 m higher than at the riser, which would end no 0.2 m above the connection."""
    layout, findings = laid_out(", falls to: riser", 200.0)
    assert layout is None
    (finding,) = findings
    assert finding.rule == "LEVEL004"
    assert "raise it to" in finding.fix


@pytest.mark.parametrize("lacks_mm, more_mm", [(12, 15), (48, 50), (62, None)])
def test_a_height_a_little_above_that_spares_the_rise_is_named(lacks_mm: int, more_mm: int | None) -> None:
    """The least of the steps of 5 mm at which the main, without a rise, stays above its lowest; none beyond 50 mm."""
    plain, _ = laid_out("", 34.0)
    assert plain is not None
    lowest_mm = math.floor(lowest_main_m(plain) * 1000) + lacks_mm
    layout, _ = laid_out(f", lowest: {lowest_mm} mm", 34.0)
    assert layout is not None
    assert len(rises_of(layout)) == 1
    said = [reason for reason in layout.reasons if "away" in reason]
    if more_mm is None:
        assert said == []
        return
    wall = next(run.wall for run in layout.runs if run.kind is RunKind.RISE)
    assert said == [f"At {2700 + more_mm} mm instead of 2700 mm the rise on the {wall} wall falls away."]
    for height_mm, rises in ((2700 + more_mm, 0), (2700 + more_mm - 5, 1)):
        again, _ = lay_out(layout.site.with_main(height_m=height_mm / 1000))
        assert again is not None
        assert len(rises_of(again)) == rises
