"""Running dimensions of the plan: each outlet is set out beside its own wall, and none runs through another room."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from shapely import LineString, Polygon

from drafter.drawing import Circle, Ordinate, Text
from drafter.geometry import Point
from drafter.pipeline import Designed, compose_drawing, design
from drafter.sheets.elevation import used_walls
from drafter.sheets.item_boxes import boxes_of
from drafter.sheets.layers import Layers
from drafter.sheets.plan import plan_view
from drafter.sheets.scene import Scene
from drafter.symbol_library import load_all

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))
SET_OUT_MM = 0.6
"""On the grid of dimensions."""


@cache
def drawn(path: Path) -> tuple[Designed, float, list[Ordinate]]:
    designed = design(path.read_bytes(), path.name)
    plan = compose_drawing(designed).view("plan")
    return designed, plan.scale, [item for item in plan.items if isinstance(item, Ordinate)]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_outlet_is_set_out_from_the_corner_of_its_own_wall(path: Path) -> None:
    designed, _, ordinates = drawn(path)
    assert designed.layout is not None
    site, layout = designed.layout.site, designed.layout
    for node in layout.couplings:
        wall = site.wall(node.room, node.wall)
        along_m = site.units.snapped_m(wall.measure(layout.outlet_foot(node).at.plan)[0])
        words = site.units.length(along_m)
        mine = [
            item
            for item in ordinates
            if item.text == words
            and abs(wall.measure(Point(item.origin.x / 1000.0, item.origin.y / 1000.0))[0]) < 1e-6
            and abs(wall.measure(Point(item.feature.x / 1000.0, item.feature.y / 1000.0))[0] - along_m) < SET_OUT_MM
        ]
        assert mine, node.tag


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_no_running_dimension_stands_in_more_than_one_room(path: Path) -> None:
    designed, scale, ordinates = drawn(path)
    assert designed.site is not None
    floors = [
        Polygon([(w.left.x * 1000.0, w.left.y * 1000.0) for w in walls]) for walls in designed.site.walls.values()
    ]
    for item in ordinates:
        box = boxes_of(item, scale, {})[-1]
        number = Polygon([(corner.x * scale, corner.y * scale) for corner in box.corners])
        line = LineString([item.feature, item.end])
        within = [floor for floor in floors if floor.intersects(line) or floor.intersects(number)]
        assert len(within) <= 1, item.text
        assert all(floor.covers(line) and floor.covers(number) for floor in within), item.text


def test_what_stands_behind_a_room_is_set_out_before_its_wall_in_its_own_room() -> None:
    designed, _, ordinates = drawn(next(path for path in EXAMPLES if path.stem == "bus_depot"))
    assert designed.site is not None
    for room, texts in (("workshop", {"10500", "9600"}), ("store", {"3000", "2700", "3400"})):
        floor = Polygon([(w.left.x * 1000.0, w.left.y * 1000.0) for w in designed.site.walls[room]])
        assert {item.text for item in ordinates if floor.covers(LineString([item.feature, item.end]))} == texts


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_rings_that_walls_are_measured_from_stand_in_corners_or_clear_of_walls(path: Path) -> None:
    designed = drawn(path)[0]
    assert designed.site is not None
    walls = [wall for each in designed.site.walls.values() for wall in each]
    corners = [Point(wall.left.x * 1000.0, wall.left.y * 1000.0) for wall in walls]
    views = [view for view in compose_drawing(designed).views if view.name in ("plan", "enlarged-plan")]
    rings = [
        item.centre for view in views for item in view.items if isinstance(item, Circle) and item.layer == "M-ANNO-DIMS"
    ]
    assert rings
    for ring in rings:
        if min(ring.minus(corner).length for corner in corners) < 1.0:
            continue
        for wall in walls:
            along_m, off_m = wall.measure(Point(ring.x / 1000.0, ring.y / 1000.0))
            assert not (0.0 <= along_m <= wall.length_m and -wall.thickness_m <= off_m <= 0.0), wall.name


def test_numbers_within_a_room_cover_no_text() -> None:
    for path in EXAMPLES:
        designed = design(path.read_bytes(), path.name)
        assert designed.design is not None
        assert designed.takeoff is not None
        walls = used_walls(designed.design.network.layout)
        marks = {(wall.room, wall.name): str(number) for number, wall in enumerate(walls, 1)}
        scene = Scene(designed.design, designed.takeoff, load_all(), Layers("M"), marks)
        scale = 100
        view, _ = plan_view(scene, scale, "1:100")
        texts = [boxes_of(item, scale, {})[0] for item in view.items if isinstance(item, Text)]
        for item in view.items:
            if isinstance(item, Ordinate):
                number = boxes_of(item, scale, {})[-1].grown(-0.3)
                assert not any(number.overlaps(box) for box in texts), (path.stem, item.text)
