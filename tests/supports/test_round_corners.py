"""Holds along the pipe, round corners, through tees and walls: never farther apart than the span, or it is said."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from drafter.layout import lay_out
from drafter.layout.graph import NodeKind, RunKind
from drafter.report.results import results_text
from drafter.site import read
from drafter.sizing import size
from drafter.supports import Design, place_supports

SITES = Path(__file__).parents[2] / "example_sites"
EXAMPLES = sorted(path.stem for path in SITES.glob("*.yaml"))
MAIN = (RunKind.MAIN, RunKind.RISE, RunKind.SLEEVE)
OFF_M = 0.006


def placed(text: str) -> Design | None:
    site, _ = read(text, "site.yaml")
    layout = lay_out(site)[0] if site else None
    return place_supports(size(layout)[0]) if layout else None


@cache
def example(name: str) -> Design:
    design = placed((SITES / f"{name}.yaml").read_text(encoding="utf-8"))
    assert design is not None
    return design


class Chain:
    """The pipe as a chain of points, nodes and brackets, walked without any of the program's own measures."""

    def __init__(self, design: Design) -> None:
        network, layout = design.network, design.network.layout
        self.held = {bracket.tag for bracket in design.brackets} | {console.node for console in design.consoles}
        self.held |= {id for id, node in layout.nodes.items() if node.kind is NodeKind.TANK}
        self.links: dict[str, list[tuple[str, float, str]]] = {}
        self.spans: dict[str, float] = {}
        for run in layout.runs:
            if run.kind is RunKind.FLEXIBLE:
                continue
            start, end = layout.nodes[run.start].at, layout.nodes[run.end].at
            plan_m = end.plan.minus(start.plan).length
            tube = network.sizes[run.id]
            self.spans[run.id] = tube.vertical_span_m if abs(end.z - start.z) > plan_m else tube.bracket_span_m
            points = [(b.at.minus(start).length, b.tag) for b in design.brackets if b.run == run.id]
            points = [(0.0, run.start), *sorted(points), (end.minus(start).length, run.end)]
            for (low, one), (high, other) in pairwise(points):
                self.links.setdefault(one, []).append((other, high - low, run.id))
                self.links.setdefault(other, []).append((one, high - low, run.id))

    def nearest(self, point: str, barred: set[str]) -> tuple[float, tuple[str, ...]] | None:
        """How far the nearest hold is from a point, and by what runs, with no way through some points."""
        if point in self.held:
            return 0.0, ()
        ways = [
            (length + beyond[0], (run, *beyond[1]))
            for other, length, run in self.links[point]
            if other not in barred and (beyond := self.nearest(other, barred | {point})) is not None
        ]
        return min(ways, default=None)

    def gaps(self) -> Iterator[tuple[float, float, set[str]]]:
        """Yield the pipe between holds over each link, the least span there, and the runs it is on."""
        for one, links in self.links.items():
            for other, length, run in links:
                ends = [end for end in (self.nearest(one, {other}), self.nearest(other, {one})) if end is not None]
                runs = {run, *(each for _, way in ends for each in way)}
                yield length + sum(m for m, _ in ends), min(self.spans[each] for each in runs), runs


def too_wide(design: Design) -> list[set[str]]:
    """The runs of each gap that is too wide, but for those at swan necks; a unit holds from its face on."""
    layout, found = design.network.layout, []
    for gap_m, span_m, runs in Chain(design).gaps():
        kinds = {layout.run_by_id[run].kind for run in runs}
        carried = kinds & {RunKind.TREATMENT, RunKind.BRANCH}
        if gap_m > span_m + OFF_M and RunKind.SWAN_NECK not in kinds and not carried:
            found.append(runs)
    return found


def unheld(design: Design) -> Iterator[str]:
    """The bends and tees of the main with no hold within 300 mm of their faces on any side."""
    layout, chain = design.network.layout, Chain(design)
    for node in layout.nodes.values():
        runs = layout.runs_at[node.id]
        if node.kind in (NodeKind.BEND, NodeKind.TEE, NodeKind.TAKE_OFF) and any(run.kind in MAIN for run in runs):
            tube = max((design.network.sizes[run.id] for run in runs), key=lambda each: each.outside_m)
            union_m = tube.union_length_m if design.network.material.joins_by == "thread" else 0.0
            near = chain.nearest(node.id, set())
            stud_m = 0.06 if design.network.layout.site.rooms[node.room].studs_of(node.wall) else 0.0
            if near is None or near[0] > 0.3 + tube.centre_to_face_m + union_m + stud_m + OFF_M:
                yield node.id


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_gap_is_wider_than_its_span(name: str) -> None:
    assert too_wide(example(name)) == []


def test_each_fitting_of_the_main_is_held_on_one_side_at_least() -> None:
    """But where no bracket finds room: before a rainwater pipe, and at three bends close together."""
    loose = {(name, node) for name in EXAMPLES for node in unheld(example(name))}
    nodes = {(name, example(name).network.layout.nodes[node].wall) for name, node in loose}
    assert nodes <= {("machinery_shed", "east"), ("cabinet_shop", "east")}
    for name, node in loose:
        layout = example(name).network.layout
        lengths = [layout.length_m(run) for run in layout.runs_at[node] if run.kind is RunKind.MAIN]
        assert all(length < 0.4 for length in lengths)


def test_a_branch_through_a_wall_has_a_bracket_of_its_own() -> None:
    design = example("bus_depot")
    runs = {run.id for run in design.network.layout.runs if run.kind is RunKind.MAIN and run.room == "store"}
    held = [bracket for bracket in design.brackets if bracket.run in runs]
    assert held
    assert sum(bracket.fixed for bracket in held) == 1


def test_what_no_bracket_gets_at_is_said() -> None:
    told = {name: str(results_text(example(name))) for name in EXAMPLES}
    assert [name for name in EXAMPLES if "swan necks hang between" in told[name]] == ["bicycle_coop"]


BARN = """
site: Barn (invented)
rooms:
  barn:
    size: [{length} m, {width} m]
    ceiling: 4 m
    coldest: 5 degC
    warmest: 30 degC
    {walls}
    openings: [{{kind: door, wall: east, from left: {door} m, width: 1 m}}]
  store:
    size: [{length} m, 3 m]
    behind: {{room: barn, wall: south, from left: 0 m}}
    ceiling: 4 m
    coldest: 5 degC
    warmest: 30 degC
compressor: {{room: barn, wall: north, from left: 1 m, power: 4 kW, free air: 8 l/s, cut in: 8 bar, cut out: 9 bar,
  tank: 200 l, rated: 11 bar, relief: 10.5 bar}}
main: {{material: {material}, height: 3.2 m, fall: 0.5 %}}
outlets:
  - {{tag: A1, room: barn, wall: east, from left: {east} m, tools: [blow gun]}}
  - {{tag: A2, room: barn, wall: south, from left: {south} m, tools: [blow gun]}}
  - {{tag: B1, room: store, wall: {far}, from left: {store} m, tools: [blow gun]}}
"""
KINDS = ["copper tube", "steel pipe", "polyamide tube", "aluminium tube", "stainless press tube", "multilayer tube"]


@settings(max_examples=60, deadline=None)
@given(
    st.integers(50, 90), st.integers(40, 80), st.floats(0.1, 0.9), st.floats(0.1, 0.9), st.floats(0.1, 0.9),
    st.sampled_from(["east", "west", "south", "north"]), st.sampled_from(KINDS), st.booleans(),
)  # fmt: skip
def test_no_gap_of_any_site_is_wider_or_it_is_said(
    length: int, width: int, east: float, south: float, store: float, far: str, material: str, studs: bool
) -> None:
    far_m = length / 10 if far in ("north", "south") else 3.0
    design = placed(
        BARN.format(
            length=length / 10,
            width=width / 10,
            door=round(width / 10 - 1.3, 2),
            east=round(east * width / 10, 2),
            south=round(south * length / 10, 2),
            store=round(store * far_m, 2),
            far=far,
            material=material,
            walls="studs: {spacing: 0.6 m, first: 0.4 m}" if studs else "",
        )
    )
    assume(design is not None)
    assert design is not None
    told = {finding.rule for finding in design.findings}
    assert not too_wide(design) or told & {"CLIP001", "CLIP003"}
    near = [node for node in unheld(design) if not studs]
    layout = design.network.layout
    for node in near:
        short = [run for run in layout.runs_at[node] if run.kind in MAIN and layout.length_m(run) < 0.6]
        assert short or "CLIP002" in told
