import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafter.backends.dimension_lines import (
    dimension_lines,
    dimension_text,
    feet,
    leader_line,
    leader_tip,
    measured_length,
    ordinate_length,
    ordinate_line,
    ordinate_text,
    reading_angle,
    ticks,
)
from drafter.drawing import Area, Dimension, Leader, Ordinate
from drafter.geometry import Box, Point

SCALE = 50.0


def horizontal(shift: float = 0.0) -> Dimension:
    return Dimension("D", Point(0, 0), Point(1000, 40), Point(300, -500), 0.0, "1000", shift)


def test_dimension_line_runs_abreast_of_the_points() -> None:
    line, *_ = dimension_lines(horizontal(), SCALE)
    assert (line.start, line.end) == (Point(0, -500), Point(1000, -500)) == feet(horizontal())
    assert measured_length(horizontal()) == 1000


def test_extension_lines_leave_a_gap_of_1_mm_and_go_2_mm_beyond() -> None:
    _, first, second = dimension_lines(horizontal(), SCALE)
    assert (first.start, first.end) == (Point(0, -50), Point(0, -600))
    assert (second.start, second.end) == (Point(1000, -10), Point(1000, -600))


def test_point_on_the_dimension_line_needs_no_extension() -> None:
    flat = Dimension("D", Point(0, 0), Point(1000, 0), Point(0, 0), 0.0, "1000")
    assert len(dimension_lines(flat, SCALE)) == 1


def test_number_stands_above_the_middle_and_reads_from_the_bottom() -> None:
    text = dimension_text(horizontal(), SCALE)
    assert text.at == Point(500, -460)
    assert (text.anchor, text.angle_deg, text.height_mm) == ("bottom", 0.0, 2.5)


def test_number_of_an_upright_dimension_reads_from_the_right() -> None:
    upright = Dimension("D", Point(0, 900), Point(0, 0), Point(-600, 0), 90.0, "900")
    text = dimension_text(upright, SCALE)
    assert text.angle_deg == 90.0
    assert text.at.x == pytest.approx(-640)
    assert text.at.y == pytest.approx(450)


@given(st.floats(-720, 720))
def test_texts_never_stand_on_their_heads(angle: float) -> None:
    read = reading_angle(angle)
    assert -90.0 < read <= 90.0 + 1e-6
    assert math.isclose(math.sin(math.radians(read - angle) * 2), 0.0, abs_tol=1e-9)


@pytest.mark.parametrize("shift", [12.0, -12.0])
def test_dimension_line_is_drawn_out_under_a_shifted_number(shift: float) -> None:
    short = Dimension("D", Point(0, 0), Point(100, 0), Point(0, -500), 0.0, "100", shift)
    line = dimension_lines(short, SCALE)[0]
    ends = sorted((line.start.x, line.end.x))
    middle = dimension_text(short, SCALE).at.x
    assert middle == 50 + shift * SCALE
    assert ends[0] < middle < ends[1]
    assert (ends[0] == 0) != (ends[1] == 100), "one side only"


def test_number_shifted_inside_its_gap_leaves_the_line_alone() -> None:
    line = dimension_lines(horizontal(shift=2.0), SCALE)[0]
    assert (line.start.x, line.end.x) == (0, 1000)


def test_ticks_are_oblique_strokes_2_5_mm_long_on_the_feet() -> None:
    for tick, foot in zip(ticks(horizontal(), SCALE), feet(horizontal()), strict=True):
        box = Box.around(tick.boundary)
        assert box.centre.minus(foot).length < 1e-9
        longest = max(a.minus(b).length for a in tick.boundary for b in tick.boundary)
        assert longest == pytest.approx(2.5 * SCALE, rel=0.01)
        assert box.width == pytest.approx(box.height)


@pytest.mark.parametrize(
    ("end", "axis", "anchor", "angle"),
    [
        (Point(800, 900), "x", "left", 90.0),
        (Point(800, -900), "x", "right", 90.0),
        (Point(2000, 0), "y", "left", 0.0),
        (Point(-2000, 0), "y", "right", 0.0),
    ],
)
def test_running_number_stands_beyond_its_line(end: Point, axis: str, anchor: str, angle: float) -> None:
    ordinate = Ordinate("D", Point(0, 0), Point(800, 0), end, axis, "800")  # type: ignore[arg-type]
    text = ordinate_text(ordinate, SCALE)
    assert (text.anchor, text.angle_deg) == (anchor, angle)
    assert text.at.minus(end).length == pytest.approx(0.8 * SCALE)
    assert text.at.minus(ordinate.feature).length > end.minus(ordinate.feature).length


def test_running_line_jogs_to_an_end_at_one_side() -> None:
    straight = ordinate_line(Ordinate("D", Point(0, 0), Point(800, 0), Point(800, 900), "x", "800"), SCALE)
    jogged = ordinate_line(Ordinate("D", Point(0, 0), Point(800, 0), Point(860, 900), "x", "800"), SCALE)
    assert straight.points == (Point(800, 50), Point(800, 900))
    assert [point.x for point in jogged.points] == [800, 800, 860, 860]
    assert sorted(point.y for point in jogged.points) == [point.y for point in jogged.points]


def test_running_length_has_a_side() -> None:
    assert ordinate_length(Ordinate("D", Point(100, 0), Point(40, 9), Point(40, 99), "x", "-60")) == -60
    assert ordinate_length(Ordinate("D", Point(0, 100), Point(40, 350), Point(99, 350), "y", "250")) == 250


def test_arrow_points_at_the_thing_and_lies_along_the_leader() -> None:
    leader = Leader("D", (Point(10, 10), Point(10, 500), Point(200, 500)))
    tip = leader_tip(leader, SCALE)
    assert isinstance(tip, Area)
    box = Box.around(tip.boundary)
    assert tip.boundary[0] == leader.points[0]
    assert (box.bottom, box.top) == (pytest.approx(10), pytest.approx(10 + 2.5 * SCALE))
    start = leader_line(leader, SCALE).points[0]
    assert 10 < start.y < box.top, "the line begins inside the arrowhead"


def test_plain_leader_begins_at_the_thing() -> None:
    leader = Leader("D", (Point(10, 10), Point(10, 500)), "none")
    assert leader_tip(leader, SCALE) is None
    assert leader_line(leader, SCALE).points == leader.points
