"""What a window lets through: lines end at its edge, measured with shapely; what lies past it is not written."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, box

from drafter.backends.windows import seen
from drafter.drawing import Arc, Circle, Line, Polyline, Text
from drafter.geometry import Box, Point

WINDOW = Box(10.0, 20.0, 60.0, 50.0)
FRAME = box(WINDOW.left, WINDOW.bottom, WINDOW.right, WINDOW.top)
SPOT = st.builds(Point, st.integers(-20, 100).map(float), st.integers(-20, 100).map(float))


def length(shapes: list[Line]) -> float:
    return sum(shape.end.minus(shape.start).length for shape in shapes)


@given(SPOT, SPOT)
def test_of_a_line_just_what_lies_inside_is_seen(start: Point, end: Point) -> None:
    found = [shape for shape in seen([Line("L", start, end)], WINDOW) if isinstance(shape, Line)]
    assert length(found) == pytest.approx(LineString([start, end]).intersection(FRAME).length, abs=1e-6)
    for line in found:
        assert FRAME.buffer(1e-6).contains(LineString([line.start, line.end]))


@given(st.lists(SPOT, min_size=2, max_size=8), st.booleans())
def test_of_an_outline_just_what_lies_inside_is_seen(points: list[Point], closed: bool) -> None:
    outline = Polyline("L", tuple(points), closed)
    ring = [*points, *(points[:1] if closed else ())]
    wanted = sum(LineString(pair).intersection(FRAME).length for pair in pairwise(ring))
    found = list(seen([outline], WINDOW))
    if found == [outline]:
        assert all(FRAME.covers(LineString(pair)) for pair in pairwise(ring))
    else:
        assert length([shape for shape in found if isinstance(shape, Line)]) == pytest.approx(wanted, abs=1e-6)


def test_a_circle_over_the_edge_is_seen_as_strokes_inside() -> None:
    found = list(seen([Circle("L", Point(10.0, 35.0), 5.0)], WINDOW))
    assert all(isinstance(shape, Line) for shape in found)
    lines = [shape for shape in found if isinstance(shape, Line)]
    assert length(lines) == pytest.approx(5.0 * 3.14159, rel=0.01)
    assert all(min(line.start.x, line.end.x) >= 10.0 - 1e-9 for line in lines)


def test_a_quarter_over_the_edge_ends_there() -> None:
    lines = list(seen([Arc("L", Point(55.0, 45.0), 10.0, 0.0, 90.0)], WINDOW))
    assert lines == []
    lines = list(seen([Arc("L", Point(55.0, 35.0), 10.0, 0.0, 90.0)], WINDOW))
    assert lines
    assert all(isinstance(shape, Line) and max(shape.start.x, shape.end.x) <= 60.0 + 1e-9 for shape in lines)


def test_texts_past_the_edge_are_not_written_and_those_over_it_stay_whole() -> None:
    past, over = Text("T", Point(70.0, 30.0), "past", 2.5), Text("T", Point(58.0, 30.0), "over", 2.5)
    inside = Text("T", Point(20.0, 30.0), "inside", 2.5)
    assert list(seen([past, over, inside], WINDOW)) == [over, inside]
