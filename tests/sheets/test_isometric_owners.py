"""A text of the isometric belongs to the lines of its outlet, node or run, and the nearest line is found."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from isometric_scenes import NAMES, scene_of
from shapely import LineString, Polygon

from drafter.geometry import Box, Point
from drafter.layout.graph import NodeKind, RunKind
from drafter.sheets.isometric_owners import IsometricOwners, Whose, nearest_mm
from drafter.sheets.isometric_parts import whole
from drafter.sheets.isometric_space import IsometricSpacing, Shape

PLACES = st.integers(-60, 60).map(float)
LINES = st.lists(st.tuples(PLACES, PLACES, PLACES, PLACES), max_size=12)


@given(LINES, PLACES, PLACES, st.integers(1, 30), st.integers(1, 30), st.floats(0.0, 180.0), st.floats(0.5, 50.0))
def test_the_nearest_line_is_as_far_as_a_plain_search_says(
    lines: list[tuple[float, float, float, float]],
    x: float,
    y: float,
    width: int,
    height: int,
    angle: float,
    within: float,
) -> None:
    corners = [Point(*corner).turned(angle) for corner in Box(x, y, x + width, y + height).corners]
    shape = Polygon(corners)
    kept = [each for each in lines if not shape.contains(LineString([each[:2], each[2:]]))]
    expected = min((shape.distance(LineString([each[:2], each[2:]])) for each in kept), default=within)
    found = nearest_mm(corners, np.array(kept).reshape(-1, 2, 2), within)
    assert found == pytest.approx(min(expected, within), abs=1e-6)


def owners_of(name: str) -> IsometricOwners:
    scene = scene_of(name)
    space = IsometricSpacing(scene, whole(scene.layout)).fitted(500.0, 300.0, Shape(0, 0.3, 0.6, 1.0))
    return IsometricOwners(scene, whole(scene.layout), space)


@pytest.mark.parametrize("name", NAMES)
def test_every_line_is_an_own_one_or_anothers_but_where_the_pipe_goes_on(name: str) -> None:
    scene, owners = scene_of(name), owners_of(name)
    layout = scene.layout
    drops = sum(len(owners.of_outlet(node.tag).own) for node in layout.couplings)
    for node in layout.couplings:
        whose = owners.of_outlet(node.tag)
        assert len(whose.own) >= sum(run.outlet == node.tag for run in layout.runs) + 1
        total = len(whose.own) + len(whose.others)
        assert drops < total
    for run in (run for run in layout.runs if run.kind is RunKind.MAIN):
        whose = owners.of_runs((run.id,))
        assert len(whose.own) == 1
        goes_on = [
            other
            for other in layout.runs
            if other is not run and not other.outlet and {other.start, other.end} & {run.start, run.end}
        ]
        assert len(whose.others) == total - 1 - len(goes_on)
    for node in (node for node in layout.nodes.values() if node.kind is NodeKind.DRAIN and layout.outlet_at(node)):
        assert np.array_equal(owners.of_node(node).own, owners.of_outlet(layout.outlet_at(node)).own)


def test_a_text_is_told_beside_its_own_line_and_not_beside_anothers() -> None:
    whose = Whose(np.array([[[0.0, 0.0], [0.0, 40.0]]]), np.array([[[10.0, 0.0], [10.0, 40.0]]]))
    near_own, near_other = Box(1.0, 10.0, 4.0, 14.0), Box(6.0, 10.0, 9.0, 14.0)
    assert whose.is_told(near_own, is_led=False)
    assert not whose.is_told(near_other, is_led=False)
    assert not whose.is_told(near_other, is_led=True)
    assert whose.is_told(Box(4.0, 10.0, 7.0, 14.0), is_led=True)
    assert whose.clear_mm(Point(4.0, 20.0)) == pytest.approx(6.0)
