"""The neutral drawing as a PDF: one page a sheet, views drawn at true scale, vectors only.

One transform takes millimetres on paper to points. Texts go through drawing calls that know no
markup, so that what a user wrote is shown as written. The same drawing always gives the same bytes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from functools import cache
from hashlib import md5
from io import BytesIO
from typing import Any

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import FILL_EVEN_ODD, Canvas

from drafter.backends.poses import Shape, text_start
from drafter.backends.strokes import Frame, on_paper
from drafter.backends.windows import seen
from drafter.drawing import Arc, Area, Circle, Drawing, Item, Layer, Line, LineKind, Link, Polyline, Sheet, Text
from drafter.geometry import Box, Point
from drafter.lettering import Weight, face, font_size_mm

POINTS_PER_MM = 72 / 25.4

_FONT_NAMES: dict[Weight, str] = {"regular": "Lettering", "bold": "Lettering-Bold"}
_NO_DATE = date(2000, 1, 1)


def to_pdf(drawing: Drawing) -> bytes:
    """Return a PDF with the drawing's sheets in order.

    Raises:
        ValueError: the drawing has no sheet.
    """
    if not drawing.sheets:
        raise ValueError("a PDF needs at least one sheet")
    _register_fonts()
    buffer = BytesIO()
    font = _FONT_NAMES["regular"]
    canvas = Canvas(buffer, pageCompression=1, invariant=1, pdfVersion=(1, 7), initialFontName=font, lang="en")
    canvas._doc.signature = md5(usedforsecurity=False)  # the library's own begins with the environment's date
    _describe(canvas, drawing)
    pages = _pages_led_to(drawing)
    for page, sheet in enumerate(drawing.sheets):
        _start_page(canvas, drawing, sheet, page)
        _draw_sheet(Pen(canvas, drawing), drawing, sheet)
        _lead(canvas, drawing, sheet, pages)
        canvas.showPage()
    canvas.showOutline()
    canvas.save()
    return buffer.getvalue()


@cache
def _register_fonts() -> None:
    for weight, name in _FONT_NAMES.items():
        pdfmetrics.registerFont(TTFont(name, str(face(weight).file)))


def _plain(text: str) -> str:
    return "".join(sign for sign in text if sign.isprintable())


def _describe(canvas: Any, drawing: Drawing) -> None:
    day = _day(drawing.date)
    canvas.setDateFormatter(lambda *_: f"D:{day:%Y%m%d}000000+00'00'")
    canvas.setTitle(_plain(drawing.title))
    canvas.setSubject(_plain(drawing.subject))
    canvas.setAuthor(_plain(drawing.author))
    canvas.setCreator("drafter")
    canvas.setProducer("drafter")
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setViewerPreference("DisplayDocTitle", "true")


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text[:10])
    except ValueError:
        return _NO_DATE


def _start_page(canvas: Any, drawing: Drawing, sheet: Sheet, page: int) -> None:
    """Begin a page of a sheet's size and enter it in the outline, below it the views on it where it shows several."""
    size = (sheet.width_mm * POINTS_PER_MM, sheet.height_mm * POINTS_PER_MM)
    canvas.setPageSize(size)
    canvas.setCropBox((0, 0, *size))
    canvas.setTrimBox((0, 0, *size))
    number = _plain(sheet.number)
    canvas.addPageLabel(page, prefix=number)
    canvas.bookmarkPage(f"sheet-{page + 1}")
    canvas.addOutlineEntry(f"{number} {_plain(sheet.title)}", f"sheet-{page + 1}")
    titles = list(dict.fromkeys(drawing.view(placement.view).title for placement in sheet.placements))
    for view, title in enumerate(titles if len(titles) > 1 else (), 1):
        canvas.bookmarkPage(f"sheet-{page + 1}-{view}")
        canvas.addOutlineEntry(_plain(title), f"sheet-{page + 1}-{view}", level=1)
    canvas.scale(POINTS_PER_MM, POINTS_PER_MM)
    canvas.setLineJoin(1)


def _draw_sheet(pen: Pen, drawing: Drawing, sheet: Sheet) -> None:
    views = {view.name: view for view in drawing.views}
    for placement in sheet.placements:
        view = views[placement.view]
        with pen.window(placement.window):
            pen.draw(seen(on_paper(view.items, drawing.symbols, Frame.of(placement, view)), placement.window))
    pen.draw(on_paper(sheet.items, drawing.symbols, Frame()))


def _pages_led_to(drawing: Drawing) -> dict[str, int]:
    """The page of each sheet by its number, and the first that shows a view by the view's name."""
    shown = [(placement.view, page) for page, sheet in enumerate(drawing.sheets) for placement in sheet.placements]
    return dict(reversed(shown)) | {sheet.number: page for page, sheet in enumerate(drawing.sheets)}


def _lead(canvas: Any, drawing: Drawing, sheet: Sheet, pages: Mapping[str, int]) -> None:
    """Lay the sheet's links over it; one whose sheet the set does not have leads nowhere and is left out."""
    for frame, items in _framed(drawing, sheet):
        for item in items:
            if isinstance(item, Link) and item.to in pages:
                page = pages[item.to]
                corners = (*frame.point(item.box.corners[0]), *frame.point(item.box.corners[2]))
                number = f"Sheet {_plain(drawing.sheets[page].number)}"
                canvas.linkRect(number, f"sheet-{page + 1}", corners, relative=1, Border="[0 0 0]")


def _framed(drawing: Drawing, sheet: Sheet) -> Iterator[tuple[Frame, Iterable[Item]]]:
    views = {view.name: view for view in drawing.views}
    for placement in sheet.placements:
        view = views[placement.view]
        yield Frame.of(placement, view), view.items
    yield Frame(), sheet.items


class Pen:
    """Draws shapes given in millimetres on paper; each looks as its layer says."""

    def __init__(self, canvas: Any, drawing: Drawing) -> None:
        self._canvas = canvas
        self._layers = {layer.name: layer for layer in drawing.layers}
        self._layer: Layer | None = None

    @contextmanager
    def window(self, box: Box) -> Iterator[None]:
        """Show only what falls inside the box."""
        self._canvas.saveState()
        path = self._canvas.beginPath()
        path.rect(box.left, box.bottom, box.width, box.height)
        self._canvas.clipPath(path, stroke=0)
        self._layer = None
        yield
        self._canvas.restoreState()
        self._layer = None

    def draw(self, shapes: Iterable[Shape]) -> None:
        for shape in shapes:
            layer = self._layers[shape.layer]
            if layer.plots:
                self._take(layer)
                self._draw(shape)

    def _take(self, layer: Layer) -> None:
        if layer is self._layer:
            return
        self._layer = layer
        self._canvas.setLineWidth(layer.width_mm)
        self._canvas.setDash(list(layer.line_kind.value))
        self._canvas.setLineCap(1 if layer.line_kind is LineKind.CONTINUOUS else 0)
        self._canvas.setStrokeGray(layer.grey)
        self._canvas.setFillGray(layer.grey)

    def _draw(self, shape: Shape) -> None:
        match shape:
            case Line():
                self._canvas.line(*shape.start, *shape.end)
            case Polyline():
                self._path([shape.points], stroke=1, fill=0, close=shape.closed)
            case Circle():
                self._canvas.circle(*shape.centre, shape.radius, stroke=not shape.filled, fill=shape.filled)
            case Arc():
                (x, y), r = shape.centre, shape.radius
                sweep = (shape.end_deg - shape.start_deg) % 360.0
                self._canvas.arc(x - r, y - r, x + r, y + r, shape.start_deg, sweep)
            case Area():
                self._path([shape.boundary, *shape.holes], stroke=0, fill=1, close=True)
            case Text():
                self._write(shape)

    def _path(self, rings: list[tuple[Point, ...]], stroke: int, fill: int, close: bool) -> None:
        path = self._canvas.beginPath()
        for ring in rings:
            path.moveTo(*ring[0])
            for point in ring[1:]:
                path.lineTo(*point)
            if close:
                path.close()
        self._canvas.drawPath(path, stroke=stroke, fill=fill, fillMode=FILL_EVEN_ODD)

    def _write(self, text: Text) -> None:
        along = Point(1.0, 0.0).turned(text.angle_deg)
        lettering = self._canvas.beginText()
        lettering.setFont(_FONT_NAMES[text.weight], font_size_mm(text.height_mm, text.weight))
        lettering.setTextTransform(along.x, along.y, -along.y, along.x, *text_start(text))
        lettering.textOut(text.text)
        self._canvas.drawText(lettering)
