"""On the drawn isometric of each example every sign and bend is told from the pipes that it does not belong to."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import pytest
from isometric_scenes import EXAMPLES, NAMES
from shapely import LineString
from shapely import Point as ShapelyPoint

from drafter.drawing import Line, View
from drafter.geometry import Point
from drafter.layout.graph import Layout, Node, NodeKind, RunKind
from drafter.pipeline import Designed, compose_drawing, design

HALF_MM = {
    NodeKind.VALVE: 3.3, NodeKind.TREATMENT: 3.3, NodeKind.SERVICE: 3.3, NodeKind.DRAIN: 2.5, NodeKind.COUPLING: 2.5,
}  # fmt: skip
BEND_MM = 2.5
"""Half of what a sign takes, and of what a bend or an end does."""

DRAIN_MM = 3.75
"""From the end of a drip leg to the middle of its drain."""


@cache
def drawn(name: str) -> tuple[Designed, View]:
    designed = design(EXAMPLES[name].read_bytes(), f"{name}.yaml")
    (view,) = [view for view in compose_drawing(designed).views if view.name.startswith("isometric")]
    return designed, view


def pieces(view: View) -> dict[str, list[Line]]:
    """The pieces of each run in the way of the run [view]."""
    found: dict[str, list[Line]] = {}
    for item in view.items:
        if isinstance(item, Line) and item.id:
            found.setdefault(item.id, []).append(item)
    return found


def place_of(node: Node, layout: Layout, drawn: dict[str, list[Line]]) -> Point:
    """Where a node is drawn: midway between the ends of the lines of its runs, which a sign keeps apart alike."""
    ends = [
        drawn[run.id][0].start if run.start == node.id else drawn[run.id][-1].end
        for run in layout.runs_at[node.id]
        if run.kind is not RunKind.FLEXIBLE
    ]
    if len(ends) == 3 and any(a.minus(b).length < 1e-6 for a, b in pairwise(ends)):
        return max(ends, key=ends.count)
    return Point(sum(end.x for end in ends) / len(ends), sum(end.y for end in ends) / len(ends))


@pytest.mark.parametrize("name", NAMES)
def test_no_sign_or_bend_lies_on_a_line_that_it_does_not_belong_to(name: str) -> None:
    designed, view = drawn(name)
    assert designed.layout is not None
    layout, lines = designed.layout, pieces(view)
    strokes = {id: [LineString([line.start, line.end]) for line in each] for id, each in lines.items()}
    looked_at, found = 0, list[str]()
    for node in layout.nodes.values():
        if node.kind is NodeKind.TANK or all(run.kind is RunKind.FLEXIBLE for run in layout.runs_at[node.id]):
            continue
        joined = layout.runs_at[node.id]
        ends = {id for run in joined for id in (run.start, run.end)}
        outlets = {run.outlet for run in joined if run.outlet}
        at = place_of(node, layout, lines)
        middle = ShapelyPoint(at.x, at.y - (DRAIN_MM * view.scale if node.kind is NodeKind.DRAIN else 0.0))
        for run in layout.runs:
            if run.kind is RunKind.FLEXIBLE or {run.start, run.end} & ends or run.outlet in outlets:
                continue
            looked_at += 1
            off_mm = min(stroke.distance(middle) for stroke in strokes[run.id]) / view.scale
            if off_mm < HALF_MM.get(node.kind, BEND_MM):
                found.append(
                    f"{node.kind.name} {node.tag or node.id} on {run.kind.name} {run.outlet or run.id} {off_mm}"
                )
    assert looked_at > 500
    assert found == []
