"""On the drawn isometric of each example every sign, bend and tag is told from the pipes that it does not belong to."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from itertools import pairwise

import pytest
from isometric_scenes import EXAMPLES, NAMES
from shapely import LineString, Polygon, unary_union
from shapely import Point as ShapelyPoint
from shapely.geometry.base import BaseGeometry

from drafter.drawing import Leader, Line, Text, View
from drafter.geometry import Box, Point
from drafter.layout.graph import Layout, Node, NodeKind, RunKind
from drafter.lettering import text_width_mm
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


def room_of(text: Text, scale: float) -> Polygon:
    """The box of a text's capitals in the view."""
    width, height = text_width_mm(text.text, text.height_mm, text.weight) * scale, text.height_mm * scale
    corners = Box(0.0, 0.0, width, height).corners
    return Polygon([corner.turned(text.angle_deg).plus(text.at) for corner in corners])


def label_of(tag: Text, view: View) -> BaseGeometry:
    """The room of a tag with the lines of text below it."""
    here, rooms = tag, [room_of(tag, view.scale)]
    texts = [item for item in view.items if isinstance(item, Text) and not item.angle_deg]
    while below := [text for text in texts if is_next(text, here, view.scale)]:
        here = below[0]
        rooms.append(room_of(here, view.scale))
    return unary_union(rooms).envelope


LED_MM = 1.2
"""A leader begins so near to its text: off its box, which is as wide as the text would be in bold."""


def is_next(text: Text, above: Text, scale: float) -> bool:
    pitch = above.at.y - text.at.y
    return abs(text.at.x - above.at.x) < 1e-6 and 0.0 < pitch < 1.6 * above.height_mm * scale


def belongings(designed: Designed) -> dict[str, set[str]]:
    """The runs that each tag and each piece number belongs to."""
    layout, takeoff = designed.layout, designed.takeoff
    assert layout is not None
    assert takeoff is not None
    found = {f"pc {piece.number}": set(piece.runs) for piece in takeoff.pieces}
    for node in layout.nodes.values():
        outlet = layout.outlet_at(node)
        own = [run for run in layout.runs if run.outlet == outlet] if outlet else layout.runs_at[node.id]
        if node.tag and node.kind is not NodeKind.TANK:
            found[node.tag] = {run.id for run in own}
    return found


@pytest.mark.parametrize("name", NAMES)
def test_tags_and_piece_numbers_stand_nearest_to_their_own_pipe_or_have_a_leader_to_it(name: str) -> None:
    designed, view = drawn(name)
    layout, lines, said = designed.layout, pieces(view), belongings(designed)
    assert layout is not None
    strokes = {id: [LineString([line.start, line.end]) for line in each] for id, each in lines.items()}
    for node in (node for node in layout.nodes.values() if node.kind is NodeKind.DRAIN):
        (run,) = layout.runs_at[node.id]
        end = lines[run.id][-1].end
        strokes[run.id].append(LineString([end, (end.x, end.y - 2 * DRAIN_MM * view.scale)]))
    leaders = [item for item in view.items if isinstance(item, Leader)]
    found, beside, led = list[str](), 0, 0
    for text in (item for item in view.items if isinstance(item, Text) and item.text in said):
        own = said[text.text]
        mine = [run for run in layout.runs if run.id in own]
        ends, outlets = {id for run in mine for id in (run.start, run.end)}, {run.outlet for run in mine}
        others = [
            run.id
            for run in layout.runs
            if run.id not in own and not (run.outlet in outlets and {run.start, run.end} & ends)
        ]

        def off_mm(shape: BaseGeometry, runs: Iterable[str]) -> float:
            return min(each.distance(shape) for id in runs for each in strokes.get(id, ())) / view.scale

        room = room_of(text, view.scale) if text.angle_deg else label_of(text, view)
        pointing = [each for each in leaders if room.distance(ShapelyPoint(each.points[-1])) < LED_MM * view.scale]
        tips = [ShapelyPoint(each.points[0]) for each in pointing if not text.angle_deg]
        if any(off_mm(tip, own) < min(5.0, off_mm(tip, others)) for tip in tips):
            led += 1
        elif off_mm(room, own) < off_mm(room, others):
            beside += 1
        else:
            found.append(f"{text.text}: own {off_mm(room, own):.1f}, other {off_mm(room, others):.1f}")
    assert found == []
    assert led
    assert beside > 20
