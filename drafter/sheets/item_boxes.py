"""The room that drawn items take on paper, as boxes."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

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
    Polyline,
    Record,
    Symbol,
    Text,
)
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm

NUMBER_MM, PAST_LINE_MM = 3.5, 2.2
"""Room of the number above a dimension line; how far extension lines and ticks reach past its ends."""


def line_boxes(start: Point, end: Point, step: float = 1.0, half: float = 0.1) -> list[Box]:
    """Cover a line with small boxes; an upright or level one with a single box."""
    if abs(start.x - end.x) < 1e-6 or abs(start.y - end.y) < 1e-6:
        left, right = sorted((start.x, end.x))
        bottom, top = sorted((start.y, end.y))
        return [Box(left - half, bottom - half, right + half, top + half)]
    count = max(1, int(end.minus(start).length / step))
    spots = [start.plus(end.minus(start), i / count) for i in range(count + 1)]
    return [
        Box(min(a.x, b.x) - half, min(a.y, b.y) - half, max(a.x, b.x) + half, max(a.y, b.y) + half)
        for a, b in pairwise(spots)
    ]


def text_box(item: Text, scale: float) -> Box:
    """The room of a text on paper [mm]; a turned one's outer box."""
    width, height = text_width_mm(item.text, item.height_mm, item.weight), item.height_mm
    words = item.anchor.split()
    x = 0.0 if "left" in words else -width if "right" in words else -width / 2
    y = 0.0 if "bottom" in words else -height if "top" in words else -height / 2
    at = Point(item.at.x / scale, item.at.y / scale)
    corners = [corner.turned(item.angle_deg).plus(at) for corner in Box(x, y, x + width, y + height).corners]
    return Box.around(corners)


def boxes_of(item: Item, scale: float, symbols: dict[str, Symbol]) -> list[Box]:
    """The room an item takes on paper, in boxes [mm]; areas and hatching take none."""

    def small(point: Point) -> Point:
        return Point(point.x / scale, point.y / scale)

    match item:
        case Line():
            return line_boxes(small(item.start), small(item.end))
        case Polyline():
            points = [small(p) for p in item.points]
            ends = [*points[1:], *([points[0]] if item.closed else [])]
            return [piece for a, b in zip(points, ends, strict=False) for piece in line_boxes(a, b)]
        case Leader():
            points = [small(p) for p in item.points]
            return [piece for a, b in pairwise(points) for piece in line_boxes(a, b)]
        case Circle() | Arc():
            centre, radius = small(item.centre), item.radius / scale
            first, last = (0.0, 360.0) if isinstance(item, Circle) else (item.start_deg, item.end_deg)
            last += 360.0 if last <= first else 0.0
            spots = [centre.plus(Point(radius, 0).turned(first + (last - first) * i / 24)) for i in range(25)]
            return [piece for a, b in pairwise(spots) for piece in line_boxes(a, b, radius + 1)]
        case Text():
            return [text_box(item, scale)]
        case Insert():
            size = symbols[item.symbol].size
            half = Point(size[0] / 2 * item.scale, size[1] / 2 * item.scale)
            aside = Point(-item.shift.x if item.mirrored else item.shift.x, item.shift.y)
            at = small(item.at).plus(aside.turned(item.angle_deg), item.scale)
            corners = [c.turned(item.angle_deg).plus(at) for c in Box(-half.x, -half.y, half.x, half.y).corners]
            return [Box.around(corners)]
        case Ordinate():
            feature, end = small(item.feature), small(item.end)
            width = text_width_mm(item.text, 2.5) + 1.5
            way = end.minus(feature).unit
            if item.axis == "x":
                up = 1 if way.y > 0 else -1
                text = Box(end.x - 1.5, min(end.y, end.y + up * width), end.x + 1.5, max(end.y, end.y + up * width))
            else:
                right = 1 if way.x > 0 else -1
                text = Box(
                    min(end.x, end.x + right * width), end.y - 1.5, max(end.x, end.x + right * width), end.y + 1.5
                )
            return [*line_boxes(feature, end), text]
        case Dimension():
            start, end, line = small(item.start), small(item.end), small(item.line_at)
            if item.angle_deg == 0:
                a, b = Point(start.x, line.y), Point(end.x, line.y)
                across = Box(min(a.x, b.x), line.y, max(a.x, b.x), line.y + NUMBER_MM)
            else:
                a, b = Point(line.x, start.y), Point(line.x, end.y)
                across = Box(line.x - NUMBER_MM, min(a.y, b.y), line.x, max(a.y, b.y))
            ticks = [Box(at.x, at.y, at.x, at.y).grown(PAST_LINE_MM) for at in (a, b)]
            return [across, *line_boxes(start, a), *line_boxes(end, b), *ticks]
        case Area() | Record() | Link():
            return []


def box_of_view(items: Iterable[Item], scale: float, symbols: dict[str, Symbol]) -> Box:
    """The box of everything drawn in a view, in the view's own millimetres."""
    boxes = [box for item in items for box in boxes_of(item, scale, symbols)]
    whole = boxes[0]
    for box in boxes[1:]:
        whole = whole.joined(box)
    return Box(whole.left * scale, whole.bottom * scale, whole.right * scale, whole.top * scale)
