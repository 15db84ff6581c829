"""The sheets of every example: true to scale, complete, legible; measured on the PDF by another library."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from pathlib import Path

import pypdfium2
import pytest

from drafter.backends.dimension_lines import dimension_lines
from drafter.backends.pdf import to_pdf
from drafter.drawing import Dimension, Drawing, Insert, Text
from drafter.finding import Finding, Place, Severity
from drafter.pipeline import Designed, compose_drawing, design
from drafter.sheets.legend import SELF_TOLD
from drafter.sheets.paper import paper, scales
from drafter.sheets.ruled_table import TITLE_TEXT_MM

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))
POINT_MM = 25.4 / 72


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def made(request: pytest.FixtureRequest) -> tuple[Designed, Drawing]:
    designed = design(request.param.read_bytes(), request.param.name)
    return designed, compose_drawing(designed)


def text_boxes(page: pypdfium2.PdfPage) -> Iterator[tuple[str, tuple[float, ...], bool]]:
    """Texts of a page with the boxes of their signs [mm]: left, bottom, right, top; and whether they are slanted."""
    words = page.get_textpage()
    for item in page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_TEXT], textpage=words):
        a, b, *_ = item.get_matrix().get()
        yield item.extract(), tuple(side * POINT_MM for side in item.get_bounds()), min(abs(a), abs(b)) > 0.01


def test_each_view_has_a_standard_scale_and_fits_its_window(made: tuple[Designed, Drawing]) -> None:
    designed, drawing = made
    assert designed.site is not None
    allowed = scales(designed.site.imperial)
    for sheet in drawing.sheets:
        frame = paper(designed.site.drawing.paper).frame
        for placement in sheet.placements:
            view = drawing.view(placement.view)
            assert view.scale_text == (allowed[int(view.scale)] if view.to_scale else "not to scale")
            window = placement.window
            assert view.box.width / view.scale <= window.width + 0.01
            assert frame.left <= window.left
            assert window.right <= frame.right
            assert window.top <= frame.top


def test_dimensions_read_what_they_measure(made: tuple[Designed, Drawing]) -> None:
    designed, drawing = made
    assert designed.site is not None
    units = designed.site.units
    for view in drawing.views:
        for item in view.items:
            if isinstance(item, Dimension):
                run = abs(item.end.x - item.start.x) if item.angle_deg == 0 else abs(item.end.y - item.start.y)
                assert item.text == units.length(run / 1000)


def test_every_tag_stands_on_plan_or_elevation(made: tuple[Designed, Drawing]) -> None:
    designed, drawing = made
    assert designed.layout is not None
    assert designed.design is not None
    shown = " ".join(item.text for view in drawing.views for item in view.items if isinstance(item, Text))
    tags = {node.tag for node in designed.layout.nodes.values() if node.tag}
    tags |= {bracket.tag for bracket in designed.design.brackets}
    assert [tag for tag in sorted(tags) if tag not in shown] == []


def test_the_legend_shows_just_the_symbols_used(made: tuple[Designed, Drawing]) -> None:
    _, drawing = made
    in_views = {i.symbol for view in drawing.views for i in view.items if isinstance(i, Insert)}
    on_sheets = [i for sheet in drawing.sheets for i in sheet.items if isinstance(i, Insert)]
    in_legends = {i.symbol for i in on_sheets if i.layer.endswith("-LEGN")}
    used = in_views | {i.symbol for i in on_sheets if not i.layer.endswith("-LEGN")}
    assert in_legends == used - SELF_TOLD
    assert used == set(drawing.symbols)


def test_texts_lie_on_the_sheet_and_do_not_cover_each_other(made: tuple[Designed, Drawing]) -> None:
    """Slanted texts, which stand on the isometric alone, are held against each other there."""
    _, drawing = made
    for page in pypdfium2.PdfDocument(to_pdf(drawing)):
        width, height = (side * POINT_MM for side in page.get_size())
        all_boxes = list(text_boxes(page))
        for text, (left, bottom, right, top), _ in all_boxes:
            assert left > 4, text
            assert bottom > 4, text
            assert right < width - 4, text
            assert top < height - 4, text
        boxes = [(text, box) for text, box, slanted in all_boxes if not slanted]
        for number, (text, a) in enumerate(boxes):
            for other, b in boxes[number + 1 :]:
                across = min(a[2], b[2]) - max(a[0], b[0])
                up = min(a[3], b[3]) - max(a[1], b[1])
                smaller = min((c[2] - c[0]) * (c[3] - c[1]) for c in (a, b))
                assert across <= 0 or up <= 0 or across * up < 0.1 * smaller, (text, other)


def test_a_design_with_errors_is_stamped_on_every_sheet(made: tuple[Designed, Drawing]) -> None:
    designed, _ = made
    bad = Finding("TEST001", Severity.ERROR, Place("x", 1, 1), "something is wrong")
    drawing = compose_drawing(dataclasses.replace(designed, findings=(*designed.findings, bad)))
    for sheet in drawing.sheets:
        assert any(isinstance(i, Text) and i.text == "NOT FOR CONSTRUCTION - 1 ERROR" for i in sheet.items)


def test_composing_is_repeatable(made: tuple[Designed, Drawing]) -> None:
    designed, drawing = made
    assert to_pdf(compose_drawing(designed)) == to_pdf(drawing)


def test_walls_of_rooms_that_differ_in_accents_have_views_of_their_own() -> None:
    text = """site: Two Accents (invented)
rooms:
  büro: {size: [8 m, 6 m], ceiling: 3 m}
  bäro: {size: [5 m, 6 m], ceiling: 3 m, behind: {room: büro, wall: east, from left: 0 m}}
compressor:
  {room: büro, wall: north, from left: 0.6 m, power: 4 kW, free air: 8 l/s, cut in: 7.5 bar, cut out: 8.5 bar,
   tank: 80 l, rated: 11 bar, relief: 10 bar}
main: {material: copper tube, height: 2.6 m, fall: 1 %}
outlets:
  - {tag: A1, room: bäro, wall: north, from left: 2 m, tools: [blow gun]}
  - {tag: A2, room: büro, wall: south, from left: 3 m, tools: [blow gun]}
"""
    drawing = compose_drawing(design(text, "accents.yaml"))
    names = [view.name for view in drawing.views]
    assert len(set(names)) == len(names)
    titles = {view.title for view in drawing.views}
    shown = {drawing.view(placement.view).title for sheet in drawing.sheets for placement in sheet.placements}
    assert {title for title in titles if "ELEVATION" in title} <= shown


def test_schedules_stand_on_the_sheets_of_records_last() -> None:
    """On large paper the record leaves half its sheet free, which the schedules before it do not need."""
    text = (EXAMPLES[0].parent / "cabinet_shop.yaml").read_text(encoding="utf-8")
    drawing = compose_drawing(design(text.replace("drawing:\n", "drawing:\n  paper: ARCH D\n", 1), "site.yaml"))
    sheets = {sheet.title: [item.text for item in sheet.items if isinstance(item, Text)] for sheet in drawing.sheets}
    record = next(words for words in sheets.values() if "TEST AND HAND-OVER RECORD" in words)
    assert not [word for word in record if word.startswith(("CUTTING LIST", "MARK-OUT", "PARTS"))]


@pytest.mark.parametrize("name", ["bicycle_coop", "cabinet_shop"])
def test_the_maintenance_card_is_alone_where_the_records_take_several_sheets(name: str) -> None:
    drawing = compose_drawing(design((EXAMPLES[0].parent / f"{name}.yaml").read_bytes(), "site.yaml"))
    (card,) = [sheet for sheet in drawing.sheets if sheet.title == "Maintenance card"]
    schedules = [item for item in card.items if isinstance(item, Text) and item.layer.endswith("SCHD")]
    titles = {item.text for item in schedules if item.height_mm == TITLE_TEXT_MM}
    assert titles == {"MAINTENANCE CARD", "MAINTENANCE LOG"}


def test_a_view_holds_its_dimensions_with_their_ticks(made: tuple[Designed, Drawing]) -> None:
    for view in made[1].views:
        held = view.box.grown(0.1)
        for dimension in (item for item in view.items if isinstance(item, Dimension)):
            for line in dimension_lines(dimension, view.scale):
                assert held.contains(line.start), (view.name, dimension.text)
                assert held.contains(line.end), (view.name, dimension.text)


def test_what_the_latest_revision_concerns_is_marked_on_every_kind_of_drawing() -> None:
    site = EXAMPLES[0].with_name("bus_depot.yaml")
    drawing = compose_drawing(design(site.read_bytes(), site.name))
    marked = {
        view.name for view in drawing.views if any(getattr(i, "symbol", "") == "revision_mark" for i in view.items)
    }
    assert {"plan", "isometric", "elevation-workshop-west", "elevation-store-east"} <= marked
    diagram = next(sheet for sheet in drawing.sheets if sheet.title == "Flow diagram")
    marks = [item for item in diagram.items if getattr(item, "symbol", "") == "revision_mark"]
    assert len(marks) == 3, "W2, P1 and the title block"
    words = {item.text for sheet in drawing.sheets for item in sheet.items if isinstance(item, Text)}
    assert {"W2 rev B", "P1 rev B"} <= words
