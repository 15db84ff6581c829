"""The enlarged plan: drawn where the treatment stands too close, whole, true, on a sheet that the plan names."""

from __future__ import annotations

from functools import cache
from io import BytesIO
from pathlib import Path

import ezdxf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from drafter.backends.dimension_lines import OVERSHOOT_MM
from drafter.backends.dxf import to_dxf
from drafter.backends.pdf import to_pdf
from drafter.drawing import Arc, Drawing, Insert, Item, Line, Link, Ordinate, Polyline, Text, View
from drafter.geometry import Box, Point
from drafter.layout.graph import NodeKind
from drafter.pipeline import Designed, compose_drawing, design
from drafter.sheets.clipping import clipped
from drafter.sheets.enlarged_page import with_enlarged
from drafter.sheets.enlarged_region import LEAST_UNIT_MM, crowded_region
from drafter.sheets.layers import Layers
from drafter.sheets.page import Page
from drafter.sheets.plan import plan_view
from drafter.sheets.scene import Scene
from drafter.symbol_library import load_all

EXAMPLES = Path(__file__).parents[2] / "example_sites"
ENLARGED = ("bus_depot", "cabinet_shop")
WINDOW = Box(0.0, 0.0, 1000.0, 800.0)


@cache
def made(name: str) -> tuple[Designed, Drawing]:
    designed = design((EXAMPLES / f"{name}.yaml").read_bytes(), name)
    return designed, compose_drawing(designed)


@cache
def scene_of(name: str) -> Scene:
    designed = made(name)[0]
    assert designed.design is not None
    assert designed.takeoff is not None
    return Scene(designed.design, designed.takeoff, load_all(), Layers("M"), {})


def texts(view: View) -> set[str]:
    return {item.text for item in view.items if isinstance(item, Text)}


@pytest.mark.parametrize("name", sorted(path.stem for path in EXAMPLES.glob("*.yaml")))
def test_it_is_drawn_just_where_the_plan_is_too_small(name: str) -> None:
    assert ("enlarged-plan" in {view.name for view in made(name)[1].views}) == (name in ENLARGED)


def test_two_units_as_far_apart_on_paper_as_is_asked_for_need_none() -> None:
    scene = scene_of("bus_depot")
    region = crowded_region(scene, 100.0)
    assert region is not None
    enough = region.unit_m * 1000.0 / LEAST_UNIT_MM
    assert crowded_region(scene, enough * 0.999) is None
    assert crowded_region(scene, enough * 1.001) == region


@pytest.mark.parametrize("name", ENLARGED)
def test_tags_of_the_region_stand_there_and_not_on_the_plan(name: str) -> None:
    scene, drawing = scene_of(name), made(name)[1]
    plan, enlarged = drawing.view("plan"), drawing.view("enlarged-plan")
    region = crowded_region(scene, plan.scale)
    assert region is not None
    kinds = (NodeKind.TREATMENT, NodeKind.VALVE, NodeKind.DRAIN)
    here = [
        node.tag
        for node in scene.layout.nodes.values()
        if node.kind in kinds
        and not scene.layout.outlet_at(node)
        and region.holds(Point(node.at.x * 1000.0, node.at.y * 1000.0))
    ]
    assert len(here) >= 6
    assert set(here) <= texts(enlarged)
    assert not set(here) & texts(plan)
    assert "C-01" in texts(plan) & texts(enlarged)
    assert enlarged.scale < plan.scale


@pytest.mark.parametrize("name", ENLARGED)
def test_the_plan_names_the_sheet_and_leads_there(name: str) -> None:
    drawing = made(name)[1]
    plan = drawing.view("plan")
    (sheet,) = (s for s in drawing.sheets if any(p.view == "enlarged-plan" for p in s.placements))
    assert f"sheet {sheet.number}" in texts(plan)
    assert any(isinstance(item, Link) and item.to == "enlarged-plan" for item in plan.items)
    index = [i.text.lower() for s in drawing.sheets for i in s.items if isinstance(i, Text)]
    assert any("enlarged plan" in text for text in index)
    reader = PdfReader(BytesIO(to_pdf(drawing)))
    flat = [e for each in reader.outline for e in (each if isinstance(each, list) else [each])]
    pages = {reader.get_destination_page_number(e) for e in flat if "enlarged plan" in str(e.title).lower()}
    assert pages == {drawing.sheets.index(sheet)}


@pytest.mark.parametrize("name", ENLARGED)
def test_running_dimensions_read_what_they_measure_and_reach_units_and_compressor(name: str) -> None:
    scene, view = scene_of(name), made(name)[1].view("enlarged-plan")
    units, plant = scene.units, scene.site.compressor
    found = [item for item in view.items if isinstance(item, Ordinate)]
    for item in found:
        way = item.feature.minus(item.origin)
        assert item.text == units.length(abs(way.x if item.axis == "x" else way.y) / 1000.0)
    written = {item.text for item in found}
    assert units.length(plant.from_left_m) in written
    assert units.length(plant.from_left_m + plant.width_m) in written
    for node in scene.layout.nodes.values():
        if node.kind is NodeKind.TREATMENT:
            along_m = scene.wall_of(node).measure(node.at.plan)[0]
            assert units.length(units.snapped_m(along_m)) in written, node.tag


@pytest.mark.parametrize("name", ENLARGED)
def test_its_window_holds_the_ends_of_its_dimension_lines(name: str) -> None:
    """They reach past the box of a view by the overshoot of extension lines."""
    drawing = made(name)[1]
    view = drawing.view("enlarged-plan")
    (window,) = (p.window for sheet in drawing.sheets for p in sheet.placements if p.view == view.name)
    assert window.width >= view.box.width / view.scale + 2 * OVERSHOOT_MM
    assert window.height >= view.box.height / view.scale + 2 * OVERSHOOT_MM


@pytest.mark.parametrize("name", ENLARGED)
def test_the_data_of_things_are_in_the_plan_alone(name: str) -> None:
    """A parts schedule that is extracted from the file counts each thing once."""
    items = made(name)[1].view("enlarged-plan").items
    assert any(isinstance(item, Insert) for item in items)
    assert not any(isinstance(item, Insert) and item.attributes for item in items)


@pytest.mark.parametrize("name", ENLARGED)
def test_the_layout_shows_it_through_a_viewport_of_its_scale(name: str, tmp_path: Path) -> None:
    drawing = made(name)[1]
    (sheet,) = (s for s in drawing.sheets if any(p.view == "enlarged-plan" for p in s.placements))
    file = tmp_path / "plan.dxf"
    file.write_bytes(to_dxf(drawing, ["plan"], [sheet.number]))
    document = ezdxf.readfile(file)
    shown = {
        round(port.dxf.view_height / port.dxf.height): port
        for port in document.layout(sheet.number).query("VIEWPORT")
        if port.dxf.id > 1
    }
    port = shown[round(drawing.view("enlarged-plan").scale)]
    middle, half = port.dxf.view_center_point, port.dxf.view_height / 2
    seen = [
        text.dxf.text
        for text in document.modelspace().query("TEXT")
        if abs(text.dxf.insert.y - middle.y) < half and abs(text.dxf.insert.x - middle.x) < 2 * half
    ]
    assert {"T-01", "V-01", "D-01"} <= set(seen)


def test_without_room_it_gets_a_sheet_of_its_own_and_what_is_left_there_is_free() -> None:
    scene, drawing = scene_of("bus_depot"), made("bus_depot")[1]
    view, area = drawing.view("enlarged-plan"), Box(20.0, 50.0, 420.0, 280.0)
    full = Page(1, "Plan", (Polyline("M-ANNO-DIMS", area.corners, True), *lattice(area)), (), 100.0, "1:100")
    pages = with_enlarged(scene, [full], [view], {}, area)
    assert [page.series for page in pages] == [1, 4]
    (placement,) = pages[1].placements
    assert pages[1].free
    assert not any(free.overlaps(placement.window) for free in pages[1].free)


def test_on_a_sheet_with_room_it_takes_what_no_table_may_take_first() -> None:
    scene, drawing = scene_of("bus_depot"), made("bus_depot")[1]
    view, area = drawing.view("enlarged-plan"), Box(20.0, 50.0, 420.0, 400.0)
    left, right = Box(20.0, 50.0, 200.0, 400.0), Box(206.0, 50.0, 420.0, 400.0)
    for free in (left, right):
        page = Page(1, "Plan", (), (), 100.0, "1:100", (free,))
        (found,) = with_enlarged(scene, [page], [view], {}, area)
        (placement,) = found.placements
        assert found.free == (free,)
        assert not placement.window.overlaps(free)
    (found,) = with_enlarged(scene, [Page(1, "Plan", (), (), 100.0, "1:100", (area,))], [view], {}, area)
    assert found.free
    assert not any(each.overlaps(found.placements[0].window) for each in found.free)


def lattice(area: Box) -> list[Item]:
    return [
        Line("M-ANNO-DIMS", Point(area.left, y), Point(area.right, y))
        for y in range(int(area.bottom), int(area.top), 20)
    ]


coordinate = st.integers(-2000, 2000).map(float)
spot = st.builds(Point, coordinate, coordinate)


@given(st.lists(st.tuples(spot, spot), min_size=1, max_size=6))
def test_clipped_lines_lie_in_the_box_and_lose_nothing_inside(ends: list[tuple[Point, Point]]) -> None:
    lines = [Line("L", a, b) for a, b in ends]
    for line in lines:
        found = list(clipped([line], WINDOW))
        edge = WINDOW.grown(1e-6)
        assert all(
            isinstance(piece, Line) and edge.contains(piece.start) and edge.contains(piece.end) for piece in found
        )
        middle = Point((line.start.x + line.end.x) / 2, (line.start.y + line.end.y) / 2)
        inside = WINDOW.grown(-1.0).contains(middle) and line.start != line.end
        assert not inside or found


def test_the_swing_of_a_door_stays_whole_on_its_layer_and_is_cut_on_others() -> None:
    arc = Arc("DOOR", Point(500.0, 790.0), 400.0, 0.0, 90.0)
    assert list(clipped([arc], WINDOW, "DOOR")) == [arc]
    cut = list(clipped([arc], WINDOW))
    assert cut != [arc]
    assert all(isinstance(piece, Polyline) for piece in cut)


def test_on_paper_too_small_for_it_the_plan_keeps_its_tags() -> None:
    designed = design((EXAMPLES / "cabinet_shop.yaml").read_bytes(), "cabinet_shop.yaml", paper="Letter")
    assert designed.design is not None
    assert designed.takeoff is not None
    scene = Scene(designed.design, designed.takeoff, load_all(), Layers("M"), {})
    assert crowded_region(scene, 96.0) is None
    assert crowded_region(scene_of("cabinet_shop"), 96.0) is not None
    view, _ = plan_view(scene, 96, '1/8" = 1\'-0"')
    assert "C-01" in texts(view)
    assert not any("ENLARGED PLAN" in text for text in texts(view))


def test_in_a_large_room_it_shows_the_plant_alone_and_keeps_units_off_the_main() -> None:
    text = (EXAMPLES / "bus_depot.yaml").read_text(encoding="utf-8")
    text = text.replace("room: plant, wall: south, from left: 0.4 m", "room: workshop, wall: north, from left: 9 m")
    text = text.replace(
        "connection: {from left: 1.8 m, height: 0.9 m}", "connection: {from left: 10.4 m, height: 0.9 m}"
    )
    drawing = compose_drawing(design(text.encode(), "bus_depot.yaml"))
    view = drawing.view("enlarged-plan")
    assert view.title == "ENLARGED PLAN, WORKSHOP"
    assert view.box.width < 8000.0
    assert any("below the main" in words for words in texts(view))
    assert {"T-01", "T-02", "T-03", "V-01", "V-02", "D-01"} <= texts(view)
