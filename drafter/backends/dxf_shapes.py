"""Simple shapes written as entities into one space of a DXF: the model, a sheet or a block."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Any

from drafter.backends.dxf_document import APPID, TEXT_STYLES, TEXT_WIDTH, Document
from drafter.backends.dxf_strings import dxf_value, shown_text
from drafter.backends.long_texts import short_texts
from drafter.backends.poses import SIDES, Shape, text_start
from drafter.drawing import Arc, Area, Circle, Line, Polyline, Text
from drafter.geometry import Point
from drafter.lettering import drawable, text_width_mm

_BY_LAYER = 256
_ANSI31_SPACING_MM = 3.175
_PATTERN_RUNS_ON = 128
"""Dashes run on over the corners of a polyline, instead of beginning anew at each."""

_TOP = {-1: 1, 0: 2, 1: 3}
"""Where a paragraph is held: at its top, at the left, in the middle, at the right."""

_EXACT, _SINGLE_SPACING = 2, 5.0 / 3.0
"""Lines stand as far apart as said; single spacing is so much of the letters' height."""

_ROOM = 1.3
"""Width of a paragraph as a share of its widest line, so that another face does not break lines anew."""

_HALIGN = {-1: 0, 0: 1, 1: 2}
_VALIGN = {-1: 0, 0: 2, 1: 3}


@dataclass(frozen=True, slots=True)
class Pen:
    """Writes into ``space``; points are moved by ``offset`` [mm], sizes on paper grow by ``scale``.

    Lines of pipe bear its name where ``names_pipes``, so that nobody measures one on a picture that is not to scale.
    """

    document: Document
    space: Any
    scale: float = 1.0
    offset: Point = Point(0.0, 0.0)
    names_pipes: bool = True

    def point(self, point: Point) -> tuple[float, float]:
        return self.document.point(point.plus(self.offset))

    def points(self, points: Sequence[Point]) -> list[tuple[float, float]]:
        return [self.point(point) for point in points]

    def size(self, paper_mm: float) -> float:
        """Return a size on paper in drawing units."""
        return self.document.length(paper_mm * self.scale)

    def attributes(self, layer: str) -> dict[str, Any]:
        """Return what every entity gets: its layer, and a line type scale where this space needs one."""
        attributes: dict[str, Any] = {"layer": self.document.layer(layer)}
        if self.scale != self.document.scale and self.document.is_dashed(layer):
            attributes["ltscale"] = round(self.scale / self.document.scale, 9)
        return attributes

    def draw(self, shape: Shape) -> None:
        match shape:
            case Line():
                self._line(shape)
            case Polyline():
                points = self.points(shape.points)
                attributes = self.attributes(shape.layer) | {"flags": _PATTERN_RUNS_ON}
                self.space.add_lwpolyline(points, close=shape.closed, dxfattribs=attributes)
            case Circle():
                self._circle(shape)
            case Arc():
                begin, end = round(shape.start_deg % 360.0, 9), round(shape.end_deg % 360.0, 9)
                radius, attributes = self.document.length(shape.radius), self.attributes(shape.layer)
                self.space.add_arc(self.point(shape.centre), radius, begin, end, dxfattribs=attributes)
            case Area():
                self._area(shape)
            case Text():
                self._text(shape)

    def _line(self, line: Line) -> None:
        start, end = self.point(line.start), self.point(line.end)
        if start == end:
            return
        entity = self.space.add_line(start, end, dxfattribs=self.attributes(line.layer))
        if line.id and self.names_pipes:
            entity.set_xdata(APPID, [(1000, dxf_value(line.id).encode("ascii", "replace").decode())])

    def _circle(self, circle: Circle) -> None:
        (x, y), radius = self.point(circle.centre), self.document.length(circle.radius)
        attributes = self.attributes(circle.layer)
        self.space.add_circle((x, y), radius, dxfattribs=attributes)
        if circle.filled:
            halves = [(x - radius, y, 1.0), (x + radius, y, 1.0)]
            self._hatch(circle.layer).paths.add_polyline_path(halves, is_closed=True, flags=1)

    def _area(self, area: Area) -> None:
        hatch = self._hatch(area.layer)
        if area.fill == "hatch":
            spacing = area.spacing_mm * self.scale
            aside = self.document.length(spacing) * sqrt(0.5)
            lines = [[45.0, (0.0, 0.0), (-aside, aside), []]]
            hatch.set_pattern_fill("ANSI31", _BY_LAYER, scale=spacing / _ANSI31_SPACING_MM, style=0)
            hatch.set_pattern_definition(lines)
        hatch.paths.add_polyline_path(self.points(area.boundary), is_closed=True, flags=1)
        for hole in area.holes:
            hatch.paths.add_polyline_path(self.points(hole), is_closed=True, flags=16)

    def _hatch(self, layer: str) -> Any:
        hatch = self.space.add_hatch(
            color=_BY_LAYER, dxfattribs={"layer": self.document.layer(layer), "hatch_style": 0}
        )
        hatch.dxf.associative = 0
        return hatch

    def _text(self, text: Text) -> None:
        for part in short_texts(text, self.scale):
            shown = shown_text(part.text)
            if shown.strip():
                self.space.add_text(shown, dxfattribs=self.lettering(part))

    def paragraph(self, lines: Sequence[Text]) -> None:
        """Write lines below each other, all set alike and level, as one text that a CAD user edits as a whole."""
        first, second = lines[0], lines[1]
        across, up = SIDES[first.anchor]
        shown = [shown_text(line.text) for line in lines]
        widest_mm = max(text_width_mm(drawable(line.text), line.height_mm, line.weight) for line in lines)
        top = first.at.plus(Point(0.0, (1 - up) / 2 * first.height_mm * self.scale))
        pitch_mm = (first.at.y - second.at.y) / self.scale
        attributes = {
            "layer": self.document.layer(first.layer),
            "style": TEXT_STYLES[first.weight],
            "char_height": self.size(first.height_mm),
            "insert": self.point(top),
            "attachment_point": _TOP[across],
            "width": self.size(widest_mm * _ROOM),
            "line_spacing_style": _EXACT,
            "line_spacing_factor": round(pitch_mm / (first.height_mm * _SINGLE_SPACING), 6),
        }
        self.space.add_mtext("\\P".join(shown), dxfattribs=attributes)

    def lettering(self, text: Text) -> dict[str, Any]:
        """Return where and how a text stands."""
        across, up = SIDES[text.anchor]
        attributes: dict[str, Any] = {
            "layer": self.document.layer(text.layer),
            "style": TEXT_STYLES[text.weight],
            "height": self.size(text.height_mm),
            "width": TEXT_WIDTH,
            "rotation": round(text.angle_deg, 9),
            "insert": self.point(text_start(text, self.scale)),
        }
        if (across, up) != (-1, -1):
            placed = {"halign": _HALIGN[across], "valign": _VALIGN[up], "align_point": self.point(text.at)}
            attributes |= placed
        return attributes
