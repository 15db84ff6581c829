import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from drafter.backends.poses import Pose, text_start
from drafter.backends.strokes import Frame, hatch_lines, on_paper
from drafter.drawing import Arc, Area, Circle, Drawing, Insert, Line, Symbol, Text
from drafter.geometry import Point
from drafter.lettering import text_width_mm

SQUARE = (Point(0, 0), Point(100, 0), Point(100, 100), Point(0, 100))
HOLE = (Point(30, 30), Point(70, 30), Point(70, 70), Point(30, 70))


def symbol(*shapes: Line | Arc | Circle | Text | Area) -> Symbol:
    return Symbol("S", "", "", "", (10.0, 10.0), (), shapes)


def test_frame_sets_a_view_on_paper_at_its_scale() -> None:
    frame = Frame(50.0, Point(1000, 2000), Point(70, 90))
    assert frame.point(Point(1000, 2000)) == Point(70, 90)
    assert frame.point(Point(6000, 2500)) == Point(170, 100)


@given(
    st.lists(st.floats(5, 100), min_size=3, max_size=12),
    st.floats(1.5, 9.0),
    st.floats(-200, 200),
)
def test_hatch_stays_inside_at_45_degrees_and_fills_evenly(radii: list[float], spacing: float, aside: float) -> None:
    step = 2 * math.pi / len(radii)
    star = tuple(Point(aside + r * math.cos(i * step), r * math.sin(i * step)) for i, r in enumerate(radii))
    outline = Polygon(star)
    lines = list(hatch_lines(Area("H", star, fill="hatch"), spacing))
    for line in lines:
        way = line.end.minus(line.start)
        assert way.x == pytest.approx(way.y, abs=1e-6)
        assert outline.buffer(1e-6).covers(LineString([line.start, line.end]))
    inked = sum(line.end.minus(line.start).length for line in lines) * spacing
    assert inked == pytest.approx(outline.area, abs=outline.length * spacing)


def test_hatch_leaves_holes_out() -> None:
    lines = list(hatch_lines(Area("H", SQUARE, (HOLE,), "hatch"), 5.0))
    hole = Polygon(HOLE).buffer(-1e-6)
    assert not any(hole.intersects(LineString([line.start, line.end])) for line in lines)
    inked = sum(line.end.minus(line.start).length for line in lines) * 5.0
    assert inked == pytest.approx(100**2 - 40**2, rel=0.05)


def test_mirroring_comes_before_turning() -> None:
    pose = Pose(Point(10, 10), 2.0, 90.0, mirrored=True)
    moved = pose.point(Point(3, 1))
    assert moved.x == pytest.approx(8)
    assert moved.y == pytest.approx(4)


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("angle", [0.0, 90.0, 200.0])
def test_posed_arc_keeps_its_points(angle: float, mirrored: bool) -> None:
    arc = Arc("", Point(2, 1), 3.0, 20.0, 100.0)
    pose = Pose(Point(50, 60), 2.0, angle, mirrored)
    posed = pose.shape(arc, "L", 1.0)
    assert isinstance(posed, Arc)
    assert (posed.end_deg - posed.start_deg) % 360 == pytest.approx(80)
    ends = [posed.centre.plus(Point(posed.radius, 0).turned(a)) for a in (posed.start_deg, posed.end_deg)]
    wanted = [pose.point(arc.centre.plus(Point(3, 0).turned(a))) for a in (20.0, 100.0)]
    for point in wanted:
        assert min(point.minus(end).length for end in ends) < 1e-9


@pytest.mark.parametrize(
    ("angle", "mirrored", "side", "anchor"),
    [
        (0.0, False, Point(8, 0), "left"),
        (90.0, False, Point(0, 8), "bottom"),
        (180.0, False, Point(-8, 0), "right"),
        (0.0, True, Point(-8, 0), "right"),
        (90.0, True, Point(0, -8), "top"),
    ],
)
def test_texts_of_a_turned_symbol_stay_upright_on_their_side(
    angle: float, mirrored: bool, side: Point, anchor: str
) -> None:
    named = symbol(Text("", Point(8, 0), "3~", 2.5, "left"))
    insert = Insert("L", "S", Point(0, 0), angle, mirrored)
    (text,) = on_paper([insert], {"S": named}, Frame())
    assert isinstance(text, Text)
    assert (text.layer, text.angle_deg, text.anchor) == ("L", 0.0, anchor)
    assert text.at.minus(side).length < 1e-9


def test_symbols_keep_their_size_on_paper() -> None:
    drawn = symbol(Circle("", Point(0, 0), 4.0), Text("", Point(0, 0), "M", 5.0, "centre"))
    insert = Insert("L", "S", Point(5000, 0), scale=0.5)
    circle, text = on_paper([insert], {"S": drawn}, Frame(50.0))
    assert isinstance(circle, Circle)
    assert isinstance(text, Text)
    assert (circle.centre, circle.radius, text.height_mm) == (Point(100, 0), 2.0, 2.5)


@pytest.mark.parametrize("angle", [0.0, 90.0, 30.0])
def test_every_anchor_lies_where_it_says(angle: float) -> None:
    width = text_width_mm("DN 25", 2.5)
    corners = {
        "bottom left": (0, 0),
        "bottom": (width / 2, 0),
        "right": (width, 1.25),
        "top right": (width, 2.5),
        "centre": (width / 2, 1.25),
    }
    for anchor, corner in corners.items():
        start = text_start(Text("L", Point(7, 9), "DN 25", 2.5, anchor, angle))  # type: ignore[arg-type]
        assert start.plus(Point(*corner).turned(angle)).minus(Point(7, 9)).length < 1e-9


def test_everything_on_paper_is_simple_and_named(metric: Drawing) -> None:
    plan = metric.view("plan")
    shapes = list(on_paper(plan.items, metric.symbols, Frame(plan.scale)))
    layers = {layer.name for layer in metric.layers}
    assert {shape.layer for shape in shapes} <= layers
    assert all(shape.fill == "solid" for shape in shapes if isinstance(shape, Area))
    texts = {shape.text for shape in shapes if isinstance(shape, Text)}
    assert {"2400", "150", "7320", "4880", "2000", "V-01", "M"} <= texts


def test_signs_without_a_glyph_are_replaced_and_empty_texts_left_out() -> None:
    texts = [Text("L", Point(0, 0), "⌀ 25\n漢"), Text("L", Point(0, 0), " \x07 ")]
    (shown,) = on_paper(texts, {}, Frame())
    assert isinstance(shown, Text)
    assert shown.text == "Ø 25?"
