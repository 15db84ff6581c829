"""Simple shapes mirrored, turned, grown and set down; and where a text begins from its anchor."""

from __future__ import annotations

from dataclasses import dataclass, replace

from drafter.drawing import Anchor, Arc, Area, Circle, Insert, Line, Polyline, Text
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm

Shape = Line | Polyline | Circle | Arc | Area | Text

SIDES: dict[Anchor, tuple[int, int]] = {
    "bottom left": (-1, -1),
    "bottom": (0, -1),
    "bottom right": (1, -1),
    "left": (-1, 0),
    "centre": (0, 0),
    "right": (1, 0),
    "top left": (-1, 1),
    "top": (0, 1),
    "top right": (1, 1),
}
"""Side of a text's box that each anchor names: -1 left or bottom, 0 middle, 1 right or top."""

_ANCHORS: dict[tuple[int, int], Anchor] = {side: anchor for anchor, side in SIDES.items()}


def text_start(text: Text, scale: float = 1.0) -> Point:
    """Return the left end of a text's base line, where millimetres on paper count ``scale`` times."""
    across, up = SIDES[text.anchor]
    width = text_width_mm(text.text, text.height_mm, text.weight)
    way = Point(-(across + 1) / 2 * width * scale, -(up + 1) / 2 * text.height_mm * scale)
    return text.at.plus(way.turned(text.angle_deg))


def shape_box(shape: Shape, scale: float = 1.0, descent: float = 0.0) -> Box:
    """Return the room of a shape, where millimetres on paper count ``scale`` times; of an arc that of its circle.

    Letters reach below the base line by ``descent`` heights of capitals.
    """
    match shape:
        case Line():
            return Box.around((shape.start, shape.end))
        case Polyline():
            return Box.around(shape.points)
        case Area():
            return Box.around(shape.boundary)
        case Circle() | Arc():
            return Box(shape.centre.x, shape.centre.y, shape.centre.x, shape.centre.y).grown(shape.radius)
        case Text():
            width = text_width_mm(shape.text, shape.height_mm, shape.weight)
            size = Box(0.0, -descent * shape.height_mm, width, shape.height_mm)
            start = text_start(shape, scale)
            turned = [corner.turned(shape.angle_deg) for corner in size.corners]
            return Box.around([start.plus(corner, scale) for corner in turned])


@dataclass(frozen=True, slots=True)
class Pose:
    """Where a symbol stands: mirrored about its y axis first, then grown, turned and moved."""

    at: Point
    size: float
    angle_deg: float
    mirrored: bool

    def point(self, point: Point) -> Point:
        return self.at.plus(self._turned(point), self.size)

    def _turned(self, point: Point) -> Point:
        return (Point(-point.x, point.y) if self.mirrored else point).turned(self.angle_deg)

    @classmethod
    def of(cls, insert: Insert, scale: float = 1.0) -> Pose:
        """Return how a symbol stands where millimetres on paper count ``scale`` times."""
        size = insert.scale * scale
        return cls(insert.at, size, insert.angle_deg, insert.mirrored).moved(insert.shift)

    def moved(self, shift: Point) -> Pose:
        """Return the pose so far off, in the symbol's own millimetres."""
        return replace(self, at=self.point(shift))

    def anchor(self, anchor: Anchor) -> Anchor:
        """Return the anchor that keeps an upright text on the same side of a posed symbol."""
        across, up = SIDES[anchor]
        side = self._turned(Point(across, up))
        return _ANCHORS[_third(side.x), _third(side.y)]

    def shape(self, shape: Shape, layer: str, text_size: float) -> Shape:
        """Return the shape on a layer in this pose; texts stay upright and grow by ``text_size``."""
        match shape:
            case Line():
                return Line(layer, self.point(shape.start), self.point(shape.end), shape.id)
            case Polyline():
                return Polyline(layer, tuple(map(self.point, shape.points)), shape.closed)
            case Circle():
                return Circle(layer, self.point(shape.centre), shape.radius * self.size, shape.filled)
            case Arc():
                begin, end = shape.start_deg, shape.end_deg
                if self.mirrored:
                    begin, end = 180.0 - end, 180.0 - begin
                centre, radius = self.point(shape.centre), shape.radius * self.size
                return Arc(layer, centre, radius, begin + self.angle_deg, end + self.angle_deg)
            case Area():
                holes = tuple(tuple(map(self.point, hole)) for hole in shape.holes)
                boundary = tuple(map(self.point, shape.boundary))
                return Area(layer, boundary, holes, shape.fill, shape.spacing_mm)
            case Text():
                return self.text(shape, layer, text_size)

    def text(self, text: Text, layer: str, text_size: float) -> Text:
        """Return the text upright at its place in this pose."""
        at, height = self.point(text.at), text.height_mm * text_size
        return Text(layer, at, text.text, height, self.anchor(text.anchor), text.angle_deg, text.weight)


def _third(value: float) -> int:
    """Return which third of -1 to 1 a value lies in; half turns between two sides take the nearer."""
    return 1 if value > 0.5 else -1 if value < -0.5 else 0
