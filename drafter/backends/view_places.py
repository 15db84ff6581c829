"""Where views stand in a model: the first at its own coordinates, the others to its right, each with its title."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import ceil, sqrt

from drafter.backends.poses import shape_box
from drafter.backends.strokes import shapes_of
from drafter.drawing import Area, Sheet, Symbol, Text, View
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm

GAP_MM = 2000.0
"""Least room between two views in the model."""

SCREEN = 1.6
"""Width over height of a screen."""

TITLE_LAYER = "G-ANNO-MODL"
"""What the titles of views stand on, in the model only."""

_TITLE_MM, _SUBTITLE_MM = 5.0, 3.5
_TITLE_DROP_MM, _SUBTITLE_DROP_MM = 10.0, 16.0
DESCENT = 0.34
"""How far letters reach below their base line, in heights of capitals: the most of common faces."""

_LINE_MM, _LINE_DROP_MM, _MOST_LINES = 2.5, 4.5, 4
"""Lines below the title of the first view; every view keeps room for them."""


def titled_box(view: View) -> Box:
    """Return the view's box with the title below it."""
    width = max(text_width_mm(view.title, _TITLE_MM, "bold"), text_width_mm(view.scale_text, _SUBTITLE_MM) + 60.0)
    box = view.box
    right = max(box.right, box.left + width * view.scale)
    below = _SUBTITLE_DROP_MM + _MOST_LINES * _LINE_DROP_MM + 2.0
    return Box(box.left, box.bottom - below * view.scale, right, box.top)


def title_of(view: View, imperial: bool) -> tuple[Text, Text]:
    """Return the title below a view, and below that its scale and what a unit is, if it may be measured in."""
    box = view.box
    unit = f"   1 unit = 1 {'inch' if imperial else 'mm'}" if view.to_scale else ""
    lines = (
        (view.title, _TITLE_MM, _TITLE_DROP_MM),
        (f"{view.scale_text}{unit}", _SUBTITLE_MM, _SUBTITLE_DROP_MM),
    )
    title, subtitle = (
        Text(TITLE_LAYER, Point(box.left, box.bottom - drop * view.scale), text, height) for text, height, drop in lines
    )
    return title, subtitle


def lines_below(view: View, lines: Sequence[str]) -> list[Text]:
    """Return lines below the title of a view."""
    return [
        Text(
            TITLE_LAYER,
            Point(view.box.left, view.box.bottom - (_SUBTITLE_DROP_MM + number * _LINE_DROP_MM) * view.scale),
            line,
            _LINE_MM,
        )
        for number, line in enumerate(lines[:_MOST_LINES], 1)
    ]


def drawn_box(view: View, words: Iterable[Text], symbols: Mapping[str, Symbol], offset: Point) -> Box:
    """Return the box of what is drawn of a view and the words below it, moved as the view is."""
    boxes = [
        shape_box(shape, view.scale, DESCENT)
        for item in (*view.items, *words)
        for shape in ([item] if isinstance(item, Area) else shapes_of([item], symbols, view.scale))
    ]
    return Box.around([corner.plus(offset) for box in boxes or [view.box] for corner in box.corners])


def whole_of(boxes: Sequence[Box]) -> Box:
    return Box.around([corner for box in boxes for corner in box.corners])


def room_of(view: View, sheets: Sequence[Sheet]) -> Box:
    """Return the box of a view, and all round it that windows of sheets show of the model."""
    room = titled_box(view)
    for placement in (each for sheet in sheets for each in sheet.placements if each.view == view.name):
        off = [corner.minus(placement.at) for corner in placement.window.corners]
        room = room.joined(Box.around([placement.origin.plus(each, view.scale) for each in off]))
    return room


def offsets_of(rooms: Mapping[str, Box], unit_mm: float) -> dict[str, Point]:
    """Return by their names how far views move: columns to the right of the first view, filled from below.

    Columns are as high as makes the whole about as wide as a screen is.
    Moves are whole metres or feet, so that coordinates in a moved view stay easy to read.
    """
    step = 304.8 if unit_mm > 1.0 else 1000.0
    (name, first), *others = rooms.items()
    offsets = {name: Point(0.0, 0.0)}
    left, bottom, right = first.right + GAP_MM, first.bottom, first.right
    area = sum((box.width + GAP_MM) * (box.height + GAP_MM) for box in rooms.values())
    limit = max(first.top, first.bottom + sqrt(area / SCREEN))
    for name, box in others:
        if bottom > first.bottom and bottom + box.height > limit:
            left, bottom = right + GAP_MM, first.bottom
        move = Point(ceil((left - box.left) / step) * step, ceil((bottom - box.bottom) / step) * step)
        offsets[name] = move
        bottom = box.top + move.y + GAP_MM
        right = max(right, box.right + move.x)
    return offsets
