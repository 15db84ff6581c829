"""Texts written along slanted lines where they cover nothing."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from drafter.drawing import Text
from drafter.geometry import Box, Point
from drafter.lettering import Weight, text_width_mm
from drafter.sheets.placing import Ground

OFF_LINE_MM = 1.05
CELL_MM = 0.8
CLEAR_MM, CLEAR_END_MM = 0.4, 0.6
"""Kept free beyond a text on the side away from its line, and before and behind it."""

END_MM = 1.0
SHARES = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82)


@dataclass(frozen=True, slots=True)
class Writing:
    """What is written along a line.

    Attributes:
        before_mm: room kept before the first letter, as for a sign.
    """

    layer: str
    words: str
    height_mm: float = 2.5
    weight: Weight = "regular"
    before_mm: float = 0.0

    @property
    def width_mm(self) -> float:
        return text_width_mm(self.words, self.height_mm, self.weight) + self.before_mm


@dataclass(frozen=True, slots=True)
class Written:
    """A text with its place, and the middle of the room kept before it; the way it reads in, in the view."""

    text: Text
    sign_at: Point
    along: Point


def write_along(
    ground: Ground,
    start: Point,
    end: Point,
    writing: Writing,
    sides: Sequence[int] = (1, -1),
    past_mm: float = 0.0,
    is_told: Callable[[Sequence[Point]], bool] | None = None,
) -> Written | None:
    """Write beside a line of the view where there is room.

    Args:
        sides: 1 above a line that is read from below, left of an upright one; -1 on its other side.
        past_mm: how far the writing may reach past the line's ends.
        is_told: whether between some corners on paper it is told which line it belongs to.

    Returns:
        What was written, its room taken; None where there is no room.
    """
    a, b = ground.paper(start), ground.paper(end)
    if b.x < a.x - 1e-6 or (abs(b.x - a.x) <= 1e-6 and b.y < a.y):
        a, b = b, a
    way, length = b.minus(a).unit, b.minus(a).length
    free = length - writing.width_mm - 2 * END_MM + 2 * past_mm
    if free < 0.0:
        return None
    for side in sides:
        up = way.left
        off = OFF_LINE_MM if side > 0 else -OFF_LINE_MM - writing.height_mm
        for share in SHARES:
            begin = END_MM - past_mm + free * (share - 0.5) / 0.64 + free / 2
            corner = a.plus(way, begin).plus(up, off)
            low = corner.plus(way, -CLEAR_END_MM).plus(up, 0.0 if side > 0 else -CLEAR_MM)
            clear = slanted_boxes(low, way, writing.width_mm + 2 * CLEAR_END_MM, writing.height_mm + CLEAR_MM)
            over, on = Point(way.x * writing.width_mm, way.y * writing.width_mm), corner.plus(up, writing.height_mm)
            corners = (corner, corner.plus(over), on.plus(over), on)
            if all(ground.free(box) for box in clear) and (is_told is None or is_told(corners)):
                for box in slanted_boxes(corner, way, writing.width_mm, writing.height_mm):
                    ground.take(box, words=True)
                return _set(ground.scale, corner, way, writing)
    return None


def _set(scale: float, corner: Point, way: Point, writing: Writing) -> Written:
    at = corner.plus(way, writing.before_mm)
    sign = corner.plus(way, writing.before_mm / 2).plus(way.left, writing.height_mm / 2)
    angle = math.degrees(math.atan2(way.y, way.x))
    text = Text(
        writing.layer, Point(at.x * scale, at.y * scale), writing.words, writing.height_mm, angle_deg=angle,
        weight=writing.weight,
    )  # fmt: skip
    return Written(text, Point(sign.x * scale, sign.y * scale), way)


def slanted_boxes(corner: Point, way: Point, width: float, height: float) -> Iterator[Box]:
    """Cover a slanted rectangle with small boxes, its long sides first [mm on paper]."""
    columns, rows = max(1, math.ceil(width / CELL_MM)), max(1, math.ceil(height / CELL_MM))
    dx, dy, up = width / columns, height / rows, way.left
    half = (abs(way.x) * dx + abs(way.y) * dy) / 2, (abs(way.y) * dx + abs(way.x) * dy) / 2
    for j in sorted(range(rows), key=lambda j: j not in (0, rows - 1)):
        for i in range(columns):
            along, off = (i + 0.5) * dx, (j + 0.5) * dy
            x, y = corner.x + way.x * along + up.x * off, corner.y + way.y * along + up.y * off
            yield Box(x - half[0], y - half[1], x + half[0], y + half[1])
