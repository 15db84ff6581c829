"""Items of the drawing taken apart into simple shapes in millimetres on paper.

Dimensions, leaders, symbols and hatches become lines, circles, arcs, filled areas and texts, placed
where the sheet shows them. The PDF and the SVG are drawn from these shapes alone.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from drafter.backends.dimension_lines import (
    dimension_lines,
    dimension_text,
    leader_line,
    leader_tip,
    ordinate_line,
    ordinate_text,
    ticks,
)
from drafter.backends.poses import Pose, Shape
from drafter.drawing import (
    Arc,
    Area,
    Circle,
    Dimension,
    Insert,
    Item,
    Leader,
    Line,
    Link,
    Ordinate,
    Placement,
    Polyline,
    Record,
    Symbol,
    Text,
    View,
)
from drafter.geometry import Point
from drafter.lettering import drawable


@dataclass(frozen=True, slots=True)
class Frame:
    """Where items fall on paper: the point ``origin`` on the point ``at`` [mm], at 1:``scale``."""

    scale: float = 1.0
    origin: Point = Point(0.0, 0.0)
    at: Point = Point(0.0, 0.0)

    @classmethod
    def of(cls, placement: Placement, view: View) -> Frame:
        return cls(view.scale, placement.origin, placement.at)

    def point(self, point: Point) -> Point:
        return Point(
            self.at.x + (point.x - self.origin.x) / self.scale,
            self.at.y + (point.y - self.origin.y) / self.scale,
        )

    def points(self, points: Iterable[Point]) -> tuple[Point, ...]:
        return tuple(self.point(point) for point in points)


def on_paper(items: Iterable[Item], symbols: Mapping[str, Symbol], frame: Frame) -> Iterator[Shape]:
    """Yield the shapes of the items in millimetres on paper, in drawing order.

    Areas that remain are solid, texts hold only signs that the face can show, and no text is empty.
    """
    for shape in shapes_of(items, symbols, frame.scale):
        placed = _placed(shape, frame)
        if not isinstance(placed, Text) or placed.text.strip():
            yield placed


def shapes_of(items: Iterable[Item], symbols: Mapping[str, Symbol], scale: float) -> Iterator[Shape]:
    """Yield the shapes of the items where the items are, sizes on paper grown by the scale but those of texts."""
    for item in items:
        yield from _shapes(item, symbols, scale)


def _shapes(item: Item, symbols: Mapping[str, Symbol], scale: float) -> Iterable[Shape]:
    match item:
        case Dimension():
            return (*dimension_lines(item, scale), *ticks(item, scale), dimension_text(item, scale))
        case Ordinate():
            return (ordinate_line(item, scale), ordinate_text(item, scale))
        case Leader():
            tip = leader_tip(item, scale)
            return (leader_line(item, scale), tip) if tip else (leader_line(item, scale),)
        case Insert():
            return _symbol_shapes(item, symbols[item.symbol], scale)
        case Record() | Link():
            return ()
        case Area(fill="hatch"):
            return hatch_lines(item, item.spacing_mm * scale)
        case _:
            return (item,)


def _placed(shape: Shape, frame: Frame) -> Shape:
    match shape:
        case Line(layer, start, end, name):
            return Line(layer, frame.point(start), frame.point(end), name)
        case Polyline(layer, points, closed):
            return Polyline(layer, frame.points(points), closed)
        case Circle(layer, centre, radius, filled):
            return Circle(layer, frame.point(centre), radius / frame.scale, filled)
        case Arc(layer, centre, radius, start_deg, end_deg):
            return Arc(layer, frame.point(centre), radius / frame.scale, start_deg, end_deg)
        case Area(layer, boundary, holes):
            return Area(layer, frame.points(boundary), tuple(frame.points(hole) for hole in holes))
        case Text(layer, at, text, height, anchor, angle, weight):
            return Text(layer, frame.point(at), drawable(text), height, anchor, angle, weight)


def hatch_lines(area: Area, spacing: float) -> Iterator[Line]:
    """Yield lines rising at 45 degrees, ``spacing`` apart, inside the boundary and outside its holes.

    They are counted from the origin, so that the hatches of neighbouring areas meet.
    """
    root = math.sqrt(0.5)
    rings = [[((p.x + p.y) * root, (p.y - p.x) * root) for p in ring] for ring in (area.boundary, *area.holes)]
    edges = [edge for ring in rings for edge in zip(ring, ring[1:] + ring[:1], strict=True)]
    heights = [height for ring in rings for _, height in ring]
    for count in range(math.ceil(min(heights) / spacing), math.floor(max(heights) / spacing) + 1):
        v = count * spacing
        crossings = sorted(
            u1 + (v - v1) / (v2 - v1) * (u2 - u1) for (u1, v1), (u2, v2) in edges if (v1 <= v) != (v2 <= v)
        )
        for begin, end in zip(crossings[::2], crossings[1::2], strict=True):
            yield Line(
                area.layer,
                Point((begin - v) * root, (begin + v) * root),
                Point((end - v) * root, (end + v) * root),
            )


def _symbol_shapes(insert: Insert, symbol: Symbol, scale: float) -> Iterator[Shape]:
    pose = Pose.of(insert, scale)
    for shape in symbol.shapes:
        posed = pose.shape(shape, insert.layer, insert.scale)
        if isinstance(posed, Area) and posed.fill == "hatch":
            yield from hatch_lines(posed, posed.spacing_mm * scale)
        else:
            yield posed
