"""Dimensions as real DIMENSION entities, each with its own block of lines, ticks and number.

A CAD program redraws a dimension from its points and its style; viewers show the block. Both must
read the same, so the number is always left to the program: what it would not write just so, such as a length in
a detail that is not to scale, is no dimension but lines and a text.
"""

from __future__ import annotations

import re
from typing import Any

from drafter.backends.dimension_lines import (
    TICK_LENGTH_MM,
    dimension_lines,
    dimension_text,
    feet,
    measured_length,
    ordinate_length,
    ordinate_line,
    ordinate_text,
    reading_angle,
    ticks,
)
from drafter.backends.dxf_document import TEXT_STYLES
from drafter.backends.dxf_shapes import Pen
from drafter.backends.dxf_strings import shown_text
from drafter.backends.poses import Shape, text_start
from drafter.drawing import Dimension, Line, Ordinate, Polyline, Text
from drafter.geometry import Point
from drafter.lettering import drawable, text_width_mm

_ROTATED, _OWN_BLOCK, _TEXT_MOVED = 0, 32, 128
_TICK = "_ARCHTICK"
_FEET_INCHES = re.compile(r"""(-?)(\d+)'-(\d+)(?: (\d+)/(\d+))?\"""")


def draw_dimension(pen: Pen, dimension: Dimension) -> None:
    """Write a linear dimension, or what looks like one where it does not measure what it says."""
    text = dimension_text(dimension, pen.scale)
    if not reads_as_measured(dimension.text, measured_length(dimension), pen.document.drawing.imperial):
        shapes: tuple[Shape, ...] = (*dimension_lines(dimension, pen.scale), *ticks(dimension, pen.scale), text)
        for shape in shapes:
            pen.draw(shape)
        return
    angle = reading_angle(dimension.angle_deg)
    block = _new_block(pen)
    _draw_lines(pen, block, dimension_lines(dimension, pen.scale))
    size = pen.size(TICK_LENGTH_MM / 2**0.5)
    for foot in feet(dimension):
        look = pen.attributes(dimension.layer) | {"xscale": size, "yscale": size, "rotation": round(angle, 9)}
        block.add_blockref(_TICK, pen.point(foot), dxfattribs=look)
    length = measured_length(dimension)
    moved = _TEXT_MOVED if dimension.text_shift_mm else 0
    _add(pen, block, text, length, False, {
        "dimtype": _ROTATED | _OWN_BLOCK | moved,
        "defpoint": pen.point(feet(dimension)[1]),
        "defpoint2": pen.point(dimension.start),
        "defpoint3": pen.point(dimension.end),
        "angle": round(dimension.angle_deg, 9),
    })  # fmt: skip


def draw_ordinate(pen: Pen, ordinate: Ordinate) -> None:
    """Write a running dimension, as a linear one from the origin of which the second extension line alone is seen.

    So its number is the same whichever way it runs, and programs show it that know no ordinate dimensions. A program
    that redraws it draws its line straight, past a jog.
    """
    length = abs(ordinate_length(ordinate))
    if not reads_as_measured(ordinate.text, length, pen.document.drawing.imperial):
        draw_plain_ordinate(pen, ordinate)
        return
    block = _new_block(pen)
    _draw_lines(pen, block, _pieces(ordinate_line(ordinate, pen.scale)))
    along_x = ordinate.axis == "x"
    feature, end = ordinate.feature, ordinate.end
    _add(pen, block, ordinate_text(ordinate, pen.scale), length, True, {
        "dimtype": _ROTATED | _OWN_BLOCK | _TEXT_MOVED,
        "defpoint": pen.point(Point(feature.x, end.y) if along_x else Point(end.x, feature.y)),
        "defpoint2": pen.point(ordinate.origin),
        "defpoint3": pen.point(feature),
        "angle": 0.0 if along_x else 90.0,
    } | ({"text_rotation": 90.0} if along_x else {}))  # fmt: skip


def draw_plain_ordinate(pen: Pen, ordinate: Ordinate) -> None:
    """Write a running dimension as a line and a text."""
    pen.draw(ordinate_line(ordinate, pen.scale))
    pen.draw(ordinate_text(ordinate, pen.scale))


def _new_block(pen: Pen) -> Any:
    return pen.document.dxf.blocks.new_anonymous_block(type_char="D")


def _draw_lines(pen: Pen, block: Any, lines: tuple[Line, ...]) -> None:
    inside = Pen(pen.document, block, pen.scale, pen.offset)
    for line in lines:
        inside.draw(line)


def _pieces(polyline: Polyline) -> tuple[Line, ...]:
    ends = zip(polyline.points, polyline.points[1:], strict=False)
    return tuple(Line(polyline.layer, start, end) for start, end in ends)


def _add(pen: Pen, block: Any, text: Text, length_mm: float, running: bool, attributes: dict[str, Any]) -> None:
    middle = pen.point(_middle(text, pen.scale))
    layer = pen.document.layer(text.layer)
    look = {
        "layer": layer,
        "style": TEXT_STYLES[text.weight],
        "char_height": pen.size(text.height_mm),
        "insert": middle,
        "attachment_point": 5,
        "rotation": round(text.angle_deg, 9),
    }
    block.add_mtext(shown_text(text.text), dxfattribs=look)
    attributes |= {
        "layer": layer,
        "dimstyle": pen.document.dimension_style(pen.scale, running),
        "geometry": block.name,
        "text": "<>",
        "text_midpoint": middle,
        "actual_measurement": pen.document.length(length_mm),
    }
    pen.space.new_entity("DIMENSION", attributes)


def _middle(text: Text, scale: float) -> Point:
    """Return the middle of a text's box, the height of its capitals."""
    width = text_width_mm(drawable(text.text), text.height_mm, text.weight)
    half = Point(width * scale / 2, text.height_mm * scale / 2)
    return text_start(text, scale).plus(half.turned(text.angle_deg))


def reads_as_measured(text: str, length_mm: float, imperial: bool) -> bool:
    """Whether a CAD program in the drawing's units writes this very text for the length.

    It writes whole millimetres, or feet, inches and a reduced fraction down to 1/16 in.
    """
    if not imperial:
        return bool(re.fullmatch(r"0|-?[1-9]\d*", text)) and abs(int(text) - length_mm) <= 0.5 + 1e-6
    inches = _inches(text)
    return inches is not None and abs(inches - length_mm / 25.4) <= 1 / 32 + 1e-6


def _inches(text: str) -> float | None:
    """Return what feet, inches and a fraction come to; nothing if they are not written in full order."""
    found = _FEET_INCHES.fullmatch(text)
    if not found:
        return None
    sign, feet_text, whole, over, under = found.groups(default="")
    if int(whole) > 11 or (over and not _is_reduced(int(over), int(under))):
        return None
    value = int(feet_text) * 12 + int(whole) + (int(over) / int(under) if over else 0.0)
    return -value if sign else value


def _is_reduced(over: int, under: int) -> bool:
    return under in (2, 4, 8, 16) and over % 2 == 1 and over < under
