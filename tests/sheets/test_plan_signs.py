"""The plan says what hangs below the main, and its dimensions keep off the doors."""

from __future__ import annotations

from functools import cache
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString
from shapely import Point as Spot
from shapely import box as rectangle

from drafter.backends.dimension_lines import feet
from drafter.drawing import Arc, Dimension, Drawing, Insert, Leader, Line, Text, View
from drafter.geometry import Box, Point
from drafter.pipeline import compose_drawing, design
from drafter.sheets.item_boxes import boxes_of

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))
ENLARGED = ("bus_depot", "cabinet_shop")
PLANS = [
    pytest.param(path, name, id=f"{path.stem}-{name}")
    for path in EXAMPLES
    for name in (("plan", "enlarged-plan") if path.stem in ENLARGED else ("plan",))
]
OVERLAP_MM2 = 1.0


@cache
def drawn(path: Path) -> Drawing:
    return compose_drawing(design(path.read_bytes(), path.name))


def view_of(path: Path, name: str) -> View:
    return drawn(path).view(name)


def devices(view: View) -> list[Insert]:
    """Units, valves and outlets; on a plan with an enlarged one beside it outlets alone."""
    layers = ("M-CMPA-EQPM", "M-CMPA-VALV", "M-CMPA-OUTL")
    framed = any(item.layer == "M-ANNO-REFR" for item in view.items)
    return [i for i in view.items if isinstance(i, Insert) and i.layer in (layers[2:] if framed else layers)]


@pytest.mark.parametrize(("path", "name"), PLANS)
def test_no_sign_hides_another(path: Path, name: str) -> None:
    """But for what truly hangs below another, which the plan says."""
    view = view_of(path, name)
    symbols = dict(drawn(path).symbols)
    says_below = any(isinstance(item, Text) and "below the main" in item.text for item in view.items)
    boxes = [(boxes_of(item, view.scale, symbols)[0], item.layer) for item in devices(view)]
    for (a, layer), (b, other) in combinations(boxes, 2):
        if says_below and {layer, other} == {"M-CMPA-EQPM", "M-CMPA-VALV"}:
            continue
        across, up = min(a.right, b.right) - max(a.left, b.left), min(a.top, b.top) - max(a.bottom, b.bottom)
        assert across <= 0 or up <= 0 or across * up < OVERLAP_MM2


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_no_outlet_is_drawn_on_the_main(path: Path) -> None:
    view = view_of(path, "plan")
    mains = [LineString([i.start, i.end]) for i in view.items if isinstance(i, Line) and i.layer == "M-CMPA-PIPE-MAIN"]
    outlets = [item for item in view.items if isinstance(item, Insert) and item.symbol == "outlet"]
    assert outlets
    for outlet in outlets:
        assert min(main.distance(Spot(outlet.at)) for main in mains) > 2.0 * view.scale


def test_units_are_drawn_where_they_are_and_the_plan_says_which_hang_below_the_main() -> None:
    for path in EXAMPLES:
        layout = design(path.read_bytes(), path.name).layout
        assert layout is not None
        view = view_of(path, "plan")
        says = [i.text for i in view.items if isinstance(i, Text) and "below the main" in i.text]
        assert says == (["T-01 to T-03 below the main"] if path.stem == "boat_shed" else [])
        tagged = {dict(i.attributes).get("TAG"): i for i in view.items if isinstance(i, Insert)}
        for node in layout.nodes.values():
            if node.tag.startswith("T-") and node.tag in tagged:
                wall = layout.site.wall(node.room, node.wall)
                at = tagged[node.tag].at
                (s, off), (true_s, true_off) = wall.measure(Point(at.x / 1000, at.y / 1000)), wall.measure(node.at.plan)
                assert s == pytest.approx(true_s)
                assert off == pytest.approx(true_off)


@pytest.mark.parametrize(("path", "name"), PLANS)
def test_no_dimension_line_crosses_the_swing_of_a_door(path: Path, name: str) -> None:
    view = view_of(path, name)
    swings = [
        LineString([i.centre.plus(Point(i.radius, 0.0).turned(i.start_deg + share * 9.0)) for share in range(11)])
        for i in view.items
        if isinstance(i, Arc) and i.layer == "A-DOOR"
    ]
    lines = [LineString(feet(item)) for item in view.items if isinstance(item, Dimension)]
    assert lines
    assert not any(swing.intersects(line) for swing in swings for line in lines)


def test_leaders_to_units_cross_no_sign_of_another_where_they_need_not() -> None:
    path = next(path for path in EXAMPLES if path.stem == "boat_shed")
    view = view_of(path, "plan")
    symbols = dict(drawn(path).symbols)
    signs = [boxes_of(item, view.scale, symbols)[0].grown(-0.3) for item in devices(view)]
    for leader in (item for item in view.items if isinstance(item, Leader) and item.tip == "arrow"):
        start, end = (Point(at.x / view.scale, at.y / view.scale) for at in (leader.points[0], leader.points[-1]))
        others = (sign for sign in signs if not sign.grown(1.0).contains(start))
        assert not any(sign.is_crossed(start, end.minus(start)) for sign in others)


coordinate = st.integers(-30, 30).map(float)
spot = st.builds(Point, coordinate, coordinate)


@given(spot, spot)
def test_a_line_crosses_a_box_where_it_passes_its_inside(start: Point, end: Point) -> None:
    box = Box(-10.0, -5.0, 10.0, 15.0)
    inside = rectangle(box.left, box.bottom, box.right, box.top).intersection(LineString([start, end]))
    edge = rectangle(box.left, box.bottom, box.right, box.top).exterior
    passes = inside.length > 1e-9 and not edge.buffer(1e-9).covers(inside)
    if start != end:
        assert box.is_crossed(start, end.minus(start)) == passes
