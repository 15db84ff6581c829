"""The PDF of the sample drawing, measured on its pages."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from typing import Any

import pypdfium2
import pytest
from pypdf import PdfReader

from drafter.backends.pdf import to_pdf
from drafter.backends.strokes import Frame, on_paper
from drafter.drawing import Area, Drawing, Layer, Line, LineKind, Placement, Sheet, Text, View
from drafter.geometry import Box, Point
from drafter.lettering import drawable

POINTS_PER_MM = 72 / 25.4


@pytest.fixture(scope="module")
def pdf(drawing: Drawing) -> bytes:
    return to_pdf(drawing)


@pytest.fixture(scope="module")
def reader(pdf: bytes) -> PdfReader:
    return PdfReader(BytesIO(pdf), strict=True)


def strokes(page: Any) -> list[tuple[Point, Point]]:
    """The straight strokes of a page in millimetres from its lower left corner."""
    found: list[tuple[Point, Point]] = []
    last = Point(0, 0)

    def visit(operator: bytes, operands: Any, matrix: Any, _: Any) -> None:
        nonlocal last
        if operator in (b"m", b"l"):
            x, y = map(float, operands)
            a, b, c, d, e, f = map(float, matrix)
            here = Point((a * x + c * y + e) / POINTS_PER_MM, (b * x + d * y + f) / POINTS_PER_MM)
            if operator == b"l":
                found.append((last, here))
            last = here

    page.extract_text(visitor_operand_before=visit)
    return found


def texts(pdf: bytes, page: int = 0) -> str:
    with pypdfium2.PdfDocument(pdf) as document:
        return str(document[page].get_textpage().get_text_range())


def one_sheet(view: View, layers: tuple[Layer, ...] = (Layer("L", "", 0.5),)) -> Drawing:
    window = Box(50, 50, 150, 150)
    sheet = Sheet("1", "", 210, 297, (), (Placement("v", Point(0, 0), Point(100, 100), window),))
    return Drawing("t", "", "", "", False, layers, {}, (view,), (sheet,))


def test_every_page_is_exactly_its_sheet(reader: PdfReader, drawing: Drawing) -> None:
    assert len(reader.pages) == len(drawing.sheets)
    for page, sheet in zip(reader.pages, drawing.sheets, strict=True):
        wanted = [0, 0, sheet.width_mm * POINTS_PER_MM, sheet.height_mm * POINTS_PER_MM]
        for box in (page.mediabox, page.cropbox, page.trimbox):
            assert [float(edge) for edge in box] == pytest.approx(wanted, abs=0.01)
        assert page.rotation == 0
        assert "/UserUnit" not in page


def test_document_describes_itself(reader: PdfReader, drawing: Drawing) -> None:
    about = reader.metadata
    assert about is not None
    assert (about.title, about.subject, about.author) == (drawing.title, drawing.subject, drawing.author)
    assert about.creator == "drafter"
    assert str(about["/CreationDate"]).startswith("D:20260302")
    root: Any = reader.trailer["/Root"]
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"] == True  # noqa: E712
    assert not {"/OpenAction", "/AA", "/AcroForm"} & set(root)
    assert "/JavaScript" not in root.get("/Names", {})


def test_sheets_are_found_by_number(reader: PdfReader, drawing: Drawing) -> None:
    numbers = [sheet.number for sheet in drawing.sheets]
    assert reader.page_labels == numbers
    entries: list[Any] = [entry for entry in reader.outline if not isinstance(entry, list)]
    assert [entry.title.split()[0] for entry in entries] == numbers
    assert [reader.get_destination_page_number(entry) for entry in entries] == list(range(len(numbers)))


def test_all_fonts_are_embedded_subsets(reader: PdfReader) -> None:
    names = set()
    for page in reader.pages:
        for reference in page["/Resources"]["/Font"].values():  # type: ignore[index]
            font = reference.get_object()
            names.add(font["/BaseFont"].split("+")[-1])
            assert "+" in font["/BaseFont"]
            assert font["/Subtype"] == "/TrueType"
            assert "/FontFile2" in font["/FontDescriptor"]
    assert names == {"FiraSansCondensed-Regular", "FiraSansCondensed-SemiBold"}


def test_nothing_is_a_picture(reader: PdfReader) -> None:
    for page in reader.pages:
        assert not page["/Resources"].get("/XObject")  # type: ignore[index]


def test_check_bar_and_pipe_are_true_to_scale(reader: PdfReader, drawing: Drawing) -> None:
    drawn = strokes(reader.pages[0])
    bar = 101.6 if drawing.imperial else 100.0
    assert any(abs(b.minus(a).length - bar) < 0.01 and abs(a.y - 20) < 1e-3 for a, b in drawn)
    plan = drawing.view("plan")
    place = drawing.sheets[0].placements[0]
    (run,) = [item for item in plan.items if isinstance(item, Line) and item.id == "run-1"]
    start, end = (place.at.plus(point, 1 / plan.scale) for point in (run.start, run.end))
    nearest = min(a.minus(start).length + b.minus(end).length for a, b in drawn)
    assert nearest < 0.05 / plan.scale


def test_all_texts_are_there(pdf: bytes, drawing: Drawing) -> None:
    views = {view.name: view for view in drawing.views}
    for page, sheet in enumerate(drawing.sheets):
        found = "".join(texts(pdf, page).split())
        shapes = list(on_paper(sheet.items, drawing.symbols, Frame()))
        for placement in sheet.placements:
            shapes += on_paper(views[placement.view].items, drawing.symbols, Frame.of(placement, views[placement.view]))
        for shape in shapes:
            if isinstance(shape, Text):
                assert "".join(shape.text.split()) in found


def test_views_are_cut_off_at_their_window() -> None:
    view = View("v", "", 10.0, "", (Area("L", Box(-5000, -5000, 5000, 5000).corners),), Box(0, 0, 1, 1))
    with pypdfium2.PdfDocument(to_pdf(one_sheet(view))) as document:
        picture = document[0].render(scale=1.0).to_numpy()
    ink = (picture[..., 0] < 128).sum() / POINTS_PER_MM**2
    assert ink == pytest.approx(100 * 100, rel=0.02)


def test_solid_areas_have_holes_and_the_shade_of_their_layer() -> None:
    area = Area("L", Box(-400, -400, 400, 400).corners, (Box(-200, -200, 200, 200).corners,))
    view = View("v", "", 10.0, "", (area,), Box(0, 0, 1, 1))
    with pypdfium2.PdfDocument(to_pdf(one_sheet(view, (Layer("L", "", 0.5, grey=0.8),)))) as document:
        picture = document[0].render(scale=1.0).to_numpy()[..., 0]
    middle = round((297 - 100) * POINTS_PER_MM), round(100 * POINTS_PER_MM)
    assert picture[middle] == 255
    assert picture[middle[0], middle[1] - round(30 * POINTS_PER_MM)] == pytest.approx(204, abs=1)


def test_construction_lines_are_not_printed(metric: Drawing) -> None:
    silent = replace(metric, layers=tuple(replace(layer, plots=False) for layer in metric.layers))
    assert strokes(PdfReader(BytesIO(to_pdf(silent))).pages[0]) == []


def test_lines_have_the_width_and_dashes_of_their_layer() -> None:
    layers = (Layer("L", "", 0.35, LineKind.CENTER),)
    view = View("v", "", 10.0, "", (Line("L", Point(0, 0), Point(300, 0)),), Box(0, 0, 1, 1))
    page: Any = PdfReader(BytesIO(to_pdf(one_sheet(view, layers)))).pages[0]
    content = page.get_contents().get_data().decode()
    assert ".35 w" in content
    assert "[6 1 .5 1] 0 d" in content


def test_hostile_words_are_shown_as_written(hostile: str, spoil: Callable[[str], Drawing]) -> None:
    data = to_pdf(spoil(hostile))
    reader = PdfReader(BytesIO(data))
    assert len(reader.pages) == 2
    assert not reader.attachments
    wanted = "".join(drawable(hostile).split())
    found = "".join(texts(data).split())
    assert wanted[:200] in found
    assert "\x00" not in found
    assert reader.metadata is not None
    assert (reader.metadata.title or "").strip() == "".join(s for s in hostile if s.isprintable()).strip()


def test_drawing_without_sheets_is_refused(metric: Drawing) -> None:
    with pytest.raises(ValueError, match="sheet"):
        to_pdf(replace(metric, sheets=()))
