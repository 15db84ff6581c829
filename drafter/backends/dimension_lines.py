"""Where the lines, ticks, arrows and texts of dimensions, running dimensions and leaders lie.

All back ends take them from here. Points are in the coordinates of the items; sizes on paper are
multiplied by ``scale``, the N of 1:N. The proportions follow ISO 129-1 and ISO 128-2 as commonly
practised (values from memory): the number stands above the line and reads from the bottom or from
the right of the sheet.
"""

from __future__ import annotations

from drafter.drawing import Anchor, Area, Circle, Dimension, Leader, Line, Ordinate, Polyline, Text
from drafter.geometry import Point
from drafter.lettering import drawable, text_width_mm

TEXT_HEIGHT_MM = 2.5
TEXT_GAP_MM = 0.8
EXTENSION_GAP_MM = 1.0
OVERSHOOT_MM = 2.0
TICK_LENGTH_MM = 2.5
TICK_WIDTH_MM = 0.265
ARROW_LENGTH_MM = 2.5
ARROW_WIDTH_MM = 0.8
DOT_RADIUS_MM = 0.5
JOG_MM = 2.0


def reading_angle(angle_deg: float) -> float:
    """Return the direction of a text along a line, above -90 and up to 90 degrees."""
    turned = angle_deg % 180.0
    return turned - 180.0 if turned > 90.0 + 1e-6 else turned


def feet(dimension: Dimension) -> tuple[Point, Point]:
    """Return the ends of the dimension line, abreast of the two points measured."""
    along = Point(1.0, 0.0).turned(dimension.angle_deg)
    base = dimension.line_at
    first, second = (base.plus(along, point.minus(base).dot(along)) for point in (dimension.start, dimension.end))
    return first, second


def measured_length(dimension: Dimension) -> float:
    first, second = feet(dimension)
    return second.minus(first).length


def dimension_text(dimension: Dimension, scale: float) -> Text:
    """Return the number, anchored at the middle of its base line."""
    first, second = feet(dimension)
    angle = reading_angle(dimension.angle_deg)
    along = Point(1.0, 0.0).turned(angle)
    middle = Point((first.x + second.x) / 2, (first.y + second.y) / 2)
    at = middle.plus(along, dimension.text_shift_mm * scale).plus(along.left, TEXT_GAP_MM * scale)
    return Text(dimension.layer, at, dimension.text, TEXT_HEIGHT_MM, "bottom", angle)


def dimension_lines(dimension: Dimension, scale: float) -> tuple[Line, ...]:
    """Return the dimension line, drawn out under a shifted number, and the extension lines."""
    first, second = feet(dimension)
    along = Point(1.0, 0.0).turned(reading_angle(dimension.angle_deg))
    if second.minus(first).dot(along) < 0:
        first, second = second, first
    beyond = _reach(dimension) * scale - second.minus(first).length / 2
    if dimension.text_shift_mm and beyond > 0:
        if dimension.text_shift_mm < 0:
            first = first.plus(along, -beyond)
        else:
            second = second.plus(along, beyond)
    lines = [Line(dimension.layer, first, second)]
    for point, foot in zip((dimension.start, dimension.end), feet(dimension), strict=True):
        way = foot.minus(point)
        if way.length > 1e-9:
            gap = min(EXTENSION_GAP_MM * scale, way.length)
            begin, finish = point.plus(way.unit, gap), foot.plus(way.unit, OVERSHOOT_MM * scale)
            lines.append(Line(dimension.layer, begin, finish))
    return tuple(lines)


def _reach(dimension: Dimension) -> float:
    """How far from the middle of the gap the number reaches [mm on paper]."""
    return abs(dimension.text_shift_mm) + text_width_mm(drawable(dimension.text), TEXT_HEIGHT_MM) / 2


def ticks(dimension: Dimension, scale: float) -> tuple[Area, Area]:
    """Return the oblique strokes that end the dimension line, rising as one reads along it."""
    stroke = Point(1.0, 0.0).turned(reading_angle(dimension.angle_deg) + 45.0)
    half, side = TICK_LENGTH_MM * scale / 2, TICK_WIDTH_MM * scale / 2
    first, second = (
        Area(
            dimension.layer,
            tuple(
                foot.plus(stroke, half * way).plus(stroke.left, side * aside)
                for way, aside in ((-1, -1), (1, -1), (1, 1), (-1, 1))
            ),
        )
        for foot in feet(dimension)
    )
    return first, second


def ordinate_length(ordinate: Ordinate) -> float:
    """Return the distance along the axis; negative on the near side of the origin."""
    way = ordinate.feature.minus(ordinate.origin)
    return way.x if ordinate.axis == "x" else way.y


def _outward(ordinate: Ordinate) -> Point:
    way = ordinate.end.minus(ordinate.feature)
    if ordinate.axis == "x":
        return Point(0.0, -1.0 if way.y < 0 else 1.0)
    return Point(-1.0 if way.x < 0 else 1.0, 0.0)


def ordinate_line(ordinate: Ordinate, scale: float) -> Polyline:
    """Return the line from the feature to the end, jogged where the end lies to one side."""
    out = _outward(ordinate)
    way = ordinate.end.minus(ordinate.feature)
    length = way.dot(out)
    begin = ordinate.feature.plus(out, min(EXTENSION_GAP_MM * scale, length))
    if abs(way.cross(out)) < 1e-9:
        return Polyline(ordinate.layer, (begin, ordinate.end))
    leg = min(JOG_MM * scale, length / 4)
    bend = ordinate.feature.plus(out, length - 2 * leg)
    return Polyline(ordinate.layer, (begin, bend, ordinate.end.plus(out, -leg), ordinate.end))


def ordinate_text(ordinate: Ordinate, scale: float) -> Text:
    """Return the number beyond the end of its line, written along the line."""
    out = _outward(ordinate)
    at = ordinate.end.plus(out, TEXT_GAP_MM * scale)
    anchor: Anchor = "left" if out.x + out.y > 0 else "right"
    angle = 90.0 if ordinate.axis == "x" else 0.0
    return Text(ordinate.layer, at, ordinate.text, TEXT_HEIGHT_MM, anchor, angle)


def arrow(layer: str, size: float) -> Area:
    """Return a filled arrowhead with its tip at the origin and its body along the x axis."""
    length, half = ARROW_LENGTH_MM * size, ARROW_WIDTH_MM * size / 2
    return Area(layer, (Point(0.0, 0.0), Point(length, half), Point(length, -half)))


def leader_angle(leader: Leader) -> float:
    """Return the direction [degrees] of the leader away from the thing."""
    return leader.points[1].minus(leader.points[0]).angle_deg


def leader_line(leader: Leader, scale: float) -> Polyline:
    """Return the leader's line; it begins inside the arrowhead, so that the tip stays sharp."""
    tip, second = leader.points[:2]
    way = second.minus(tip)
    short = min(ARROW_LENGTH_MM * scale / 2, way.length) if leader.tip == "arrow" else 0.0
    return Polyline(leader.layer, (tip.plus(way.unit, short), *leader.points[1:]))


def leader_tip(leader: Leader, scale: float) -> Area | Circle | None:
    tip = leader.points[0]
    if leader.tip == "dot":
        return Circle(leader.layer, tip, DOT_RADIUS_MM * scale, filled=True)
    if leader.tip == "arrow":
        angle = leader_angle(leader)
        head = arrow(leader.layer, scale)
        return Area(leader.layer, tuple(point.turned(angle).plus(tip) for point in head.boundary))
    return None
