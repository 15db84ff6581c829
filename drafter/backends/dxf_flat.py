"""Views as a flat DXF of release 12: lines, arcs, circles, fills and texts in the model, for the simplest readers."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ezdxf

from drafter.backends.dxf_document import FONT_FILES, OWN_LAYERS, TEXT_WIDTH
from drafter.backends.dxf_strings import dxf_name, shown_text
from drafter.backends.dxf_written import fixed_metadata
from drafter.backends.fills import pieces_of, round_ring
from drafter.backends.long_texts import short_texts
from drafter.backends.poses import SIDES, Shape, text_start
from drafter.backends.strokes import shapes_of
from drafter.backends.view_places import drawn_box, lines_below, offsets_of, room_of, title_of, whole_of
from drafter.drawing import PLAIN, Arc, Area, Circle, Drawing, Line, LineKind, Polyline, Scheme, Text
from drafter.geometry import Box, Point

_STYLE = "Standard"
_HALIGN = {-1: 0, 0: 1, 1: 2}
_VALIGN = {-1: 0, 0: 2, 1: 3}


def to_flat_dxf(drawing: Drawing, views: Sequence[str], scheme: Scheme = PLAIN) -> bytes:
    """Return a release 12 DXF of some views: no dimensions, blocks or layouts, just strokes, fills and texts.

    The views stand as in the other files. One drawing unit is a millimetre, or an inch in an imperial drawing.

    Raises:
        StopIteration: the drawing has no view of that name.
    """
    shown = [drawing.view(name) for name in views]
    with fixed_metadata():
        flat = _Flat(drawing, scheme, shown[0].scale)
        offsets = offsets_of({view.name: room_of(view, ()) for view in shown}, flat.unit_mm)
        boxes: list[Box] = []
        for view in shown:
            words = [
                *title_of(view, drawing.imperial),
                *(lines_below(view, drawing.below) if view is shown[0] else ()),
            ]
            for shape in shapes_of((*view.items, *words), drawing.symbols, view.scale):
                flat.draw(shape, offsets[view.name], view.scale)
            boxes.append(drawn_box(view, words, drawing.symbols, offsets[view.name]))
        flat.tell_extents(whole_of(boxes))
        return flat.written()


class _Flat:
    def __init__(self, drawing: Drawing, scheme: Scheme, scale: float) -> None:
        self.dxf: Any = ezdxf.new("R12", setup=False)
        self.unit_mm = 25.4 if drawing.imperial else 1.0
        self.paper = Point(drawing.sheets[0].width_mm, drawing.sheets[0].height_mm) if drawing.sheets else None
        self.model = self.dxf.modelspace()
        layers = [scheme.of(layer) for layer in (*OWN_LAYERS, *drawing.layers)]
        self.names = {
            own.name: dxf_name(layer.name) for own, layer in zip((*OWN_LAYERS, *drawing.layers), layers, strict=True)
        }
        self.dxf.header["$LTSCALE"] = scale
        self.dxf.header["$PSLTSCALE"] = 0
        for kind in LineKind:
            if kind is not LineKind.CONTINUOUS:
                signed = [part if index % 2 == 0 else -part for index, part in enumerate(kind.value)]
                pattern = [round(part / self.unit_mm, 6) for part in (sum(kind.value), *signed)]
                self.dxf.linetypes.add(kind.name, pattern, description=kind.name.capitalize())
        for layer in layers:
            name = dxf_name(layer.name)
            if name not in self.dxf.layers:
                self.dxf.layers.add(name, color=layer.flat_colour or layer.colour, linetype=layer.line_kind.name)
        style = self.dxf.styles.get(_STYLE).dxf
        style.font, style.width = FONT_FILES["regular"], TEXT_WIDTH

    def point(self, point: Point) -> tuple[float, float]:
        return round(point.x / self.unit_mm, 6), round(point.y / self.unit_mm, 6)

    def tell_extents(self, whole: Box) -> None:
        low, high = (self.point(Point(*corner)) for corner in ((whole.left, whole.bottom), (whole.right, whole.top)))
        self.model.reset_extents((*low, 0.0), (*high, 0.0))
        self.model.reset_limits(low, high)
        if self.paper:
            self.dxf.layouts.get("Layout1").reset_limits((0.0, 0.0), self.point(self.paper))

    def draw(self, shape: Shape, offset: Point, scale: float) -> None:
        look = {"layer": self.names.get(shape.layer, shape.layer)}

        def at(point: Point) -> tuple[float, float]:
            return self.point(point.plus(offset))

        match shape:
            case Line():
                if at(shape.start) != at(shape.end):
                    self.model.add_line(at(shape.start), at(shape.end), dxfattribs=look)
            case Polyline():
                self.model.add_polyline2d([at(p) for p in shape.points], close=shape.closed, dxfattribs=look)
            case Circle():
                self.model.add_circle(at(shape.centre), round(shape.radius / self.unit_mm, 6), dxfattribs=look)
                if shape.filled:
                    self._fill(pieces_of(round_ring(shape)), look, at)
            case Arc():
                radius = round(shape.radius / self.unit_mm, 6)
                ends = round(shape.start_deg % 360.0, 9), round(shape.end_deg % 360.0, 9)
                self.model.add_arc(at(shape.centre), radius, *ends, dxfattribs=look)
            case Area():
                self._fill(pieces_of(shape.boundary, shape.holes), look, at)
            case Text():
                for part in short_texts(shape, scale):
                    self._text(part, dict(look), at, scale)

    def _fill(self, pieces: Sequence[Sequence[Point]], look: dict[str, Any], at: Any) -> None:
        for piece in pieces:
            corners = list(dict.fromkeys(map(at, piece)))
            if len(corners) == 4:
                first, second, third, fourth = corners
                self.model.add_solid([first, second, fourth, third], dxfattribs=look)
            elif len(corners) == 3:
                self.model.add_solid([*corners, corners[-1]], dxfattribs=look)

    def _text(self, text: Text, look: dict[str, Any], at: Any, scale: float) -> None:
        words = shown_text(text.text)
        if not words.strip():
            return
        across, up = SIDES[text.anchor]
        height = round(text.height_mm * scale / self.unit_mm, 6)
        look |= {"height": height, "rotation": round(text.angle_deg, 9), "style": _STYLE, "width": TEXT_WIDTH}
        entity = self.model.add_text(words, dxfattribs=look)
        entity.dxf.insert = at(text_start(text, scale))
        if (across, up) != (-1, -1):
            entity.dxf.halign, entity.dxf.valign = _HALIGN[across], _VALIGN[up]
            entity.dxf.align_point = at(text.at)

    def written(self) -> bytes:
        from io import StringIO

        stream = StringIO(newline="\n")
        self.dxf.write(stream)
        encoded: bytes = self.dxf.encode(stream.getvalue())
        return encoded
