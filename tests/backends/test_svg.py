from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from xml.etree import ElementTree

import pytest

from drafter.backends.strokes import Frame, on_paper
from drafter.backends.svg import sheet_to_svg, to_svg
from drafter.drawing import Arc, Drawing, Layer, Text, View
from drafter.geometry import Box, Point
from drafter.lettering import drawable, text_width_mm

SVG = "{http://www.w3.org/2000/svg}"


def shown_texts(data: bytes) -> list[ElementTree.Element]:
    return ElementTree.fromstring(data).findall(f".//{SVG}text")


def view_texts(drawing: Drawing, name: str) -> list[str]:
    view = drawing.view(name)
    return [shape.text for shape in on_paper(view.items, drawing.symbols, Frame(view.scale)) if isinstance(shape, Text)]


def test_view_is_as_large_as_on_paper(drawing: Drawing) -> None:
    plan = drawing.view("plan")
    root = ElementTree.fromstring(to_svg(drawing, "plan"))
    width, height = plan.box.width / plan.scale, plan.box.height / plan.scale
    assert float(root.attrib["width"].removesuffix("mm")) == pytest.approx(width, abs=1e-3)
    assert float(root.attrib["height"].removesuffix("mm")) == pytest.approx(height, abs=1e-3)
    assert [float(part) for part in root.attrib["viewBox"].split()] == pytest.approx([0, 0, width, height], abs=1e-3)


def test_view_shows_its_texts_no_wider_than_measured(drawing: Drawing) -> None:
    texts = shown_texts(to_svg(drawing, "plan"))
    assert [text.text for text in texts] == view_texts(drawing, "plan")
    for text in texts:
        assert text.text
        size = float(text.attrib["font-size"])
        bold = "font-weight" in text.attrib
        widths = [text_width_mm(text.text, height, "bold" if bold else "regular") for height in (2.5, 3.5, 5.0)]
        assert min(abs(float(text.attrib["textLength"]) - width) for width in widths) < 1e-3
        assert size > 2.5


def test_datum_lies_where_the_box_says(drawing: Drawing) -> None:
    plan = drawing.view("plan")
    root = ElementTree.fromstring(to_svg(drawing, "plan"))
    starts = {(float(line.attrib["x1"]), float(line.attrib["y1"])) for line in root.iter(f"{SVG}line")}
    foot = Point(
        -plan.box.left / plan.scale, (plan.box.top - plan.box.bottom) / plan.scale + plan.box.bottom / plan.scale
    )
    first = Point(foot.x, foot.y + 1.0)  # the extension line of the first dimension begins 1 mm below the datum
    assert min(first.minus(Point(*start)).length for start in starts) < 2e-3


def test_sheet_shows_its_views_through_windows(drawing: Drawing) -> None:
    sheet = drawing.sheets[0]
    data = sheet_to_svg(drawing, sheet.number)
    root = ElementTree.fromstring(data)
    assert root.attrib["width"] == f"{sheet.width_mm:g}mm"
    assert len(root.findall(f".//{SVG}clipPath")) == len(sheet.placements)
    found = [text.text for text in shown_texts(data)]
    for placement in sheet.placements:
        for text in view_texts(drawing, placement.view):
            assert text in found


@pytest.mark.parametrize(("start", "end", "large"), [(0.0, 90.0, "0"), (90.0, 0.0, "1"), (350.0, 10.0, "0")])
def test_arcs_go_the_right_way_round(start: float, end: float, large: str) -> None:
    view = View("v", "", 1.0, "", (Arc("L", Point(5, 5), 4.0, start, end),), Box(0, 0, 10, 10))
    drawing = Drawing("t", "", "", "", False, (Layer("L", "", 0.5),), {}, (view,))
    path = ElementTree.fromstring(to_svg(drawing, "v")).find(f".//{SVG}path")
    assert path is not None
    begin, rest = path.attrib["d"].removeprefix("M").split("A")
    first = Point(5, 5).plus(Point(4, 0).turned(start))
    assert tuple(map(float, begin.split(","))) == pytest.approx((first.x, 10 - first.y), abs=1e-3)
    assert rest.split()[2:4] == [large, "0"]


def test_layers_that_are_not_printed_are_left_out(metric: Drawing) -> None:
    silent = replace(metric, layers=tuple(replace(layer, plots=False) for layer in metric.layers))
    assert not ElementTree.fromstring(to_svg(silent, "plan")).findall(f"{SVG}g")
    assert b'class="M-ANNO-NPLT"' not in to_svg(metric, "plan")


def test_hostile_words_are_shown_as_written(hostile: str, spoil: Callable[[str], Drawing]) -> None:
    drawing = spoil(hostile)
    data = sheet_to_svg(drawing, drawing.sheets[0].number)
    root = ElementTree.fromstring(data)
    elements = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert elements <= {
        "svg",
        "title",
        "g",
        "clipPath",
        "rect",
        "line",
        "polyline",
        "polygon",
        "circle",
        "path",
        "text",
    }
    if drawable(hostile).strip():
        assert drawable(hostile) in [text.text for text in shown_texts(data)]


def test_unknown_names_are_refused(metric: Drawing) -> None:
    with pytest.raises(StopIteration):
        to_svg(metric, "attic")
    with pytest.raises(StopIteration):
        sheet_to_svg(metric, "M-999")
