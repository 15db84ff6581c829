"""A label without a leader is read with the thing nearest to its middle, one with a leader off all others."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from drafter.geometry import Box, Point
from drafter.sheets.reading import LOOKED_MM, OFF_OTHERS_MM, SAME_MM, read_with

POINTS = st.builds(Point, st.floats(-60.0, 60.0), st.floats(-60.0, 60.0))


@given(POINTS, st.lists(POINTS, max_size=6), POINTS)
def test_a_label_is_told_by_its_nearest_thing(own: Point, others: list[Point], at: Point) -> None:
    box = Box(at.x, at.y, at.x + 18.0, at.y + 2.5)
    told = read_with([own], [own, *others])
    rest = [each for each in others if SAME_MM < each.minus(own).length < LOOKED_MM]
    middle = box.centre
    assert told(box, False) == all(middle.minus(own).length <= middle.minus(each).length for each in rest)
    assert told(box, True) == all(box.distance(each) >= OFF_OTHERS_MM for each in rest)


def test_a_level_above_the_next_valve_is_not_told() -> None:
    tee, valve = Point(0.0, 0.0), Point(8.0, 0.0)
    told = read_with([tee], [tee, valve])
    assert not told(Box(1.0, 1.5, 14.0, 4.0), False)
    assert told(Box(-6.0, 1.5, 6.0, 4.0), False)
