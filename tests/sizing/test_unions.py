"""Where a threaded main comes apart: no take-off is shut in behind corners."""

from __future__ import annotations

from pathlib import Path

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from drafter.layout import lay_out
from drafter.layout.graph import Layout, NodeKind, Run, RunKind
from drafter.pipeline import design
from drafter.site import read
from drafter.sizing.unions import union_reason
from drafter.standards.materials import material

STEEL = material("steel pipe schedule 40")
SHED = (Path(__file__).parents[2] / "example_sites" / "machinery_shed.yaml").read_text(encoding="utf-8")
HALL = """
site: Hall (invented)
rooms:
  hall:
    size: [{length} m, 8 m]
    ceiling: 4 m
    columns:
      - {{wall: north, from left: {first} m, width: 0.4 m, depth: 0.3 m}}
      - {{wall: east, from left: {second} m, width: 0.3 m, depth: {deep} m}}
compressor: {{wall: north, from left: 1 m, power: 4 kW, free air: 8 l/s, cut in: 8 bar, cut out: 9 bar,
  tank: 200 l, rated: 11 bar, relief: 10.5 bar}}
main: {{material: steel pipe schedule 40, height: 3.2 m, fall: 0.5 %}}
outlets:
  - {{tag: A1, wall: north, from left: {near} m, tools: [blow gun]}}
  - {{tag: A2, wall: east, from left: {east} m, tools: [blow gun]}}
  - {{tag: A3, wall: south, from left: {south} m, tools: [blow gun]}}
"""


def comes_apart(layout: Layout, run: Run) -> bool:
    return bool(union_reason(layout, STEEL, layout.nodes[run.start], run))


def passed_going_back(layout: Layout, run: Run) -> list[Run]:
    """The runs of main from one that ends in a take-off back to where it comes apart."""
    passed = [run]
    while not comes_apart(layout, run) and layout.nodes[run.start].kind is not NodeKind.VALVE:
        run = layout.runs_at[run.start][0]
        if run.kind not in (RunKind.MAIN, RunKind.RISE):
            break
        passed.append(run)
    return passed


def shut_in(layout: Layout) -> list[Run]:
    """What lies behind a bend, is as long as a union needs, ends in no other bend and does not come apart."""
    return [
        run
        for last in layout.runs
        if last.kind is RunKind.MAIN and layout.nodes[last.end].kind is NodeKind.TAKE_OFF
        for run in passed_going_back(layout, last)
        if layout.nodes[run.start].kind is NodeKind.BEND
        and layout.nodes[run.end].kind is not NodeKind.BEND
        and layout.length_m(run) >= 0.4
        and run.kind is RunKind.MAIN
        and not comes_apart(layout, run)
    ]


def test_a_jog_before_a_take_off_comes_apart_between_them() -> None:
    done = design(SHED, "shed.yaml")
    assert done.takeoff is not None
    layout = done.takeoff.unions and done.network and done.network.layout
    assert layout
    (before,) = [run for run in layout.runs if run.kind is RunKind.MAIN and run.end == layout.take_offs["S1"].id]
    assert before.id in {union.run for union in done.takeoff.unions}
    assert shut_in(layout) == []


@settings(max_examples=60, deadline=None)
@given(
    st.integers(70, 110), st.floats(0.35, 0.8), st.floats(2.0, 6.0), st.sampled_from([0.15, 0.3, 0.6]),
    st.floats(0.3, 0.9), st.floats(0.1, 0.9), st.floats(0.1, 0.9),
)  # fmt: skip
def test_no_take_off_is_shut_in_behind_corners(
    length: int, first: float, second: float, deep: float, near: float, east: float, south: float
) -> None:
    length_m = length / 10
    text = HALL.format(
        length=length_m, first=round(first * length_m, 2), second=round(second, 2), deep=deep,
        near=round(near * length_m, 2), east=round(east * 8, 2), south=round(south * length_m, 2),
    )  # fmt: skip
    site, _ = read(text, "hall.yaml")
    layout = lay_out(site)[0] if site else None
    assume(layout is not None)
    assert layout is not None
    assert shut_in(layout) == []
    for run in layout.runs:
        if run.kind is RunKind.MAIN and layout.nodes[run.start].kind is NodeKind.BEND:
            assert comes_apart(layout, run) or layout.length_m(run) < 1.0
            assert not comes_apart(layout, run) or layout.length_m(run) >= 0.4
