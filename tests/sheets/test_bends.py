"""Bent tube on plan and elevations: lines end where the arc begins, one line a run, and the files show the same."""

from __future__ import annotations

import math
from functools import cache
from io import StringIO
from pathlib import Path

import ezdxf
import pytest

from drafter.backends.dxf import to_dxf
from drafter.drawing import Arc, Drawing, Line, Text, View
from drafter.geometry import Point
from drafter.pipeline import Designed, compose_drawing, design

COOP = Path(__file__).parents[2] / "example_sites" / "bicycle_coop.yaml"
PIPES = ("M-CMPA-PIPE-MAIN", "M-CMPA-PIPE-DROP")
RADIUS_MM = 8 * 18.0


@cache
def made() -> tuple[Designed, Drawing]:
    designed = design(COOP.read_text(encoding="utf-8").replace("main: {", "main: {turns: bent, "), "coop.yaml")
    return designed, compose_drawing(designed)


def arcs(view: View) -> list[Arc]:
    return [item for item in view.items if isinstance(item, Arc) and item.layer in PIPES]


def ends(arc: Arc) -> tuple[Point, Point]:
    first, last = (arc.centre.plus(Point(arc.radius, 0.0).turned(angle)) for angle in (arc.start_deg, arc.end_deg))
    return first, last


@pytest.mark.parametrize("name, count", [("plan", 2), ("elevation-workshop-north", 1), ("elevation-workshop-south", 1)])
def test_an_arc_touches_the_two_lines_it_joins(name: str, count: int) -> None:
    _, drawing = made()
    view = drawing.view(name)
    lines = [item for item in view.items if isinstance(item, Line) and item.id]
    assert len(arcs(view)) == count
    for arc in arcs(view):
        assert arc.radius == pytest.approx(RADIUS_MM, rel=0.01)
        assert (arc.end_deg - arc.start_deg) % 360.0 == pytest.approx(90.0, abs=0.7)
        for end in ends(arc):
            (line,) = [each for each in lines if min(end.minus(p).length for p in (each.start, each.end)) < 0.5]
            radius = end.minus(arc.centre)
            assert abs(radius.unit.dot(line.end.minus(line.start).unit)) < 0.001


def test_each_run_still_has_one_line_with_its_id_and_its_length_less_the_bends() -> None:
    designed, drawing = made()
    layout, network = designed.layout, designed.network
    assert layout is not None
    assert network is not None
    lines = [item for item in drawing.view("plan").items if isinstance(item, Line) and item.id]
    assert len({line.id for line in lines}) == len(lines)
    in_plan = [
        bend for bend in network.bends.values() if not any(layout.is_upright(layout.run_by_id[r]) for r in bend.runs)
    ]
    assert len(in_plan) == 2
    for line in lines:
        run = layout.run_by_id[line.id]
        start, end = (layout.nodes[id].at.plan for id in (run.start, run.end))
        bent_m = sum(bend.tangent_m for bend in in_plan if run.id in bend.runs)
        assert line.end.minus(line.start).length == pytest.approx((end.minus(start).length - bent_m) * 1000.0, abs=0.05)


def test_bends_seen_from_their_edge_leave_lines_to_the_corner() -> None:
    """The east wall sees the bends of its two corners edge on: its main is drawn whole, without an arc."""
    designed, drawing = made()
    layout = designed.layout
    assert layout is not None
    view = drawing.view("elevation-workshop-east")
    assert arcs(view) == []
    east = {run.id: run for run in layout.runs if run.wall == "east" and run.kind.value == "main"}
    for line in (item for item in view.items if isinstance(item, Line) and item.id in east):
        assert math.isclose(line.end.minus(line.start).length, layout.length_m(east[line.id]) * 1000.0, abs_tol=0.1)


def test_the_dxf_has_the_same_arcs_and_lines() -> None:
    _, drawing = made()
    document = ezdxf.read(StringIO(to_dxf(drawing, [view.name for view in drawing.views]).decode("utf-8")))
    drawn = [arc for arc in document.modelspace().query("ARC") if arc.dxf.layer in PIPES]
    assert len(drawn) == sum(len(arcs(view)) for view in drawing.views)
    assert all(arc.dxf.radius == pytest.approx(RADIUS_MM, rel=0.01) for arc in drawn)


def test_a_bent_piece_is_numbered_once_a_view_and_its_bends_stand_in_the_cutting_list() -> None:
    designed, drawing = made()
    assert designed.takeoff is not None
    bent = [piece for piece in designed.takeoff.pieces if piece.bends]
    for view in drawing.views:
        shown = [item.text for item in view.items if isinstance(item, Text) and item.text.startswith("pc ")]
        assert len(shown) == len(set(shown))
    words = {item.text for sheet in drawing.sheets for item in sheet.items if isinstance(item, Text)}
    assert "the tube itself bent, no fitting" in words
    assert sum(word.startswith("90° R 144, ") for word in words) == len(bent)
