"""The neutral drawing as SVG: one view, or one whole sheet, in millimetres at its scale.

Texts stay texts; ``textLength`` keeps them as wide as they were measured, whatever face shows them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby
from xml.sax.saxutils import escape, quoteattr

from drafter.backends.poses import Shape, text_start
from drafter.backends.strokes import Frame, on_paper
from drafter.backends.windows import seen
from drafter.drawing import Arc, Area, Circle, Drawing, Layer, Line, Polyline, Text
from drafter.geometry import Box, Point
from drafter.lettering import drawable, font_size_mm, text_width_mm

FACES = "'Fira Sans Condensed', 'Roboto Condensed', 'Arial Narrow', Arial, sans-serif"


def to_svg(drawing: Drawing, view: str) -> bytes:
    """Return one view as an SVG picture as large as on paper at its scale.

    Raises:
        StopIteration: the drawing has no view of that name.
    """
    shown = drawing.view(view)
    corner = Point(shown.box.left, shown.box.bottom)
    width, height = shown.box.width / shown.scale, shown.box.height / shown.scale
    frame = Frame(shown.scale, corner)
    paper = _Paper(drawing, height)
    return _picture(shown.title, width, height, paper.marks(on_paper(shown.items, drawing.symbols, frame)))


def sheet_to_svg(drawing: Drawing, number: str) -> bytes:
    """Return one sheet as an SVG picture of the size of its paper.

    Raises:
        StopIteration: the drawing has no sheet of that number.
    """
    sheet = next(sheet for sheet in drawing.sheets if sheet.number == number)
    paper = _Paper(drawing, sheet.height_mm)
    body: list[str] = []
    for count, placement in enumerate(sheet.placements, start=1):
        view = drawing.view(placement.view)
        shapes = seen(on_paper(view.items, drawing.symbols, Frame.of(placement, view)), placement.window)
        body += paper.window(f"window-{count}", placement.window, paper.marks(shapes))
    body += paper.marks(on_paper(sheet.items, drawing.symbols, Frame()))
    return _picture(f"{sheet.number} {sheet.title}", sheet.width_mm, sheet.height_mm, body)


def _picture(title: str, width: float, height: float, body: Iterable[str]) -> bytes:
    across, up = _number(width), _number(height)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{across}mm" height="{up}mm" '
        f'viewBox="0 0 {across} {up}" xml:space="preserve" fill="none" stroke-linejoin="round" '
        f"font-family={quoteattr(FACES)}>"
    )
    lines = [head, f"<title>{escape(drawable(title))}</title>", *body, "</svg>", ""]
    return "\n".join(lines).encode()


def _number(value: float) -> str:
    """Return a number of millimetres to a thousandth, without needless zeros."""
    return f"{round(value, 3) + 0.0:.3f}".rstrip("0").rstrip(".")


class _Paper:
    """Writes shapes as elements; y runs downwards from the upper edge."""

    def __init__(self, drawing: Drawing, height_mm: float) -> None:
        self._layers = {layer.name: layer for layer in drawing.layers}
        self._height_mm = height_mm

    def marks(self, shapes: Iterable[Shape]) -> Iterator[str]:
        for name, run in groupby(shapes, key=lambda shape: shape.layer):
            layer = self._layers[name]
            if layer.plots:
                yield _group(layer)
                yield from map(self._element, run)
                yield "</g>"

    def window(self, name: str, box: Box, marks: Iterable[str]) -> Iterator[str]:
        """Yield the marks cut off at the edges of a box on the paper."""
        corner = self._xy(Point(box.left, box.top))
        size = f'width="{_number(box.width)}" height="{_number(box.height)}"'
        yield f'<clipPath id="{name}"><rect x="{corner[0]}" y="{corner[1]}" {size}/></clipPath>'
        yield f'<g clip-path="url(#{name})">'
        yield from marks
        yield "</g>"

    def _xy(self, point: Point) -> tuple[str, str]:
        return _number(point.x), _number(self._height_mm - point.y)

    def _points(self, points: Iterable[Point]) -> str:
        return " ".join(",".join(self._xy(point)) for point in points)

    def _element(self, shape: Shape) -> str:
        match shape:
            case Line():
                (x1, y1), (x2, y2) = self._xy(shape.start), self._xy(shape.end)
                return f'<line x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}"/>'
            case Polyline():
                kind = "polygon" if shape.closed else "polyline"
                return f'<{kind} points="{self._points(shape.points)}"/>'
            case Circle():
                x, y = self._xy(shape.centre)
                ink = ' fill="currentColor" stroke="none"' if shape.filled else ""
                return f'<circle cx="{x}" cy="{y}" r="{_number(shape.radius)}"{ink}/>'
            case Arc():
                return self._arc(shape)
            case Area():
                rings = "".join(f"M{self._points(ring)}Z" for ring in (shape.boundary, *shape.holes))
                return f'<path d="{rings}" fill="currentColor" fill-rule="evenodd" stroke="none"/>'
            case Text():
                return self._text(shape)

    def _arc(self, arc: Arc) -> str:
        begin, end = (
            ",".join(self._xy(arc.centre.plus(Point(arc.radius, 0.0).turned(angle))))
            for angle in (arc.start_deg, arc.end_deg)
        )
        radius = _number(arc.radius)
        large = int((arc.end_deg - arc.start_deg) % 360.0 > 180.0)
        return f'<path d="M{begin}A{radius},{radius} 0 {large} 0 {end}"/>'

    def _text(self, text: Text) -> str:
        x, y = self._xy(text_start(text))
        turn = f' transform="rotate({_number(-text.angle_deg)} {x} {y})"' if text.angle_deg else ""
        width = _number(text_width_mm(text.text, text.height_mm, text.weight))
        weight = ' font-weight="600"' if text.weight == "bold" else ""
        size = _number(font_size_mm(text.height_mm, text.weight))
        return (
            f'<text x="{x}" y="{y}" font-size="{size}"{weight} textLength="{width}" '
            f'lengthAdjust="spacingAndGlyphs" fill="currentColor" stroke="none"{turn}>'
            f"{escape(text.text)}</text>"
        )


def _group(layer: Layer) -> str:
    shade = "#" + f"{round(layer.grey * 255):02x}" * 3
    dashes = ",".join(map(_number, layer.line_kind.value))
    look = f'stroke-dasharray="{dashes}"' if dashes else 'stroke-linecap="round"'
    width = _number(layer.width_mm)
    name = quoteattr(layer.name)
    return f'<g class={name} color="{shade}" stroke="{shade}" stroke-width="{width}" {look}>'
