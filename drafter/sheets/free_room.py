"""Room left free on a sheet: how wide a table is set in it, and what then is left."""

from __future__ import annotations

from drafter.geometry import Box
from drafter.sheets.ruled_table import HEAD_MM, TITLE_MM, Table, best_width_mm, fitted, row_heights_mm

GAP_MM = 6.0
NARROWEST_MM = 76.0
MOST_ACROSS = 4
LOWEST_MM = 24.0
"""Rooms lower than this hold no table."""


def table_height_mm(table: Table, widths: tuple[float, ...], first: int = 0, last: int | None = None) -> float:
    """Height of a table of some of its rows, with its title and head."""
    return TITLE_MM + HEAD_MM + sum(row_heights_mm(table, widths)[first:last])


def set_in_room(table: Table, room: Box, narrowed: float, most_mm2: float) -> tuple[float, ...] | None:
    """Widths of the columns at which a whole table takes the least of a room, shared evenly; None where none will do.

    Args:
        narrowed: share of its best width that the table is not set narrower than.
        most_mm2: the most that it may take.
    """
    found = []
    for width in widths_shared(room):
        narrow = width < min(NARROWEST_MM, narrowed * best_width_mm(table)) - 0.01
        if narrow or width < narrowed * best_width_mm(table) - 0.01 or (widths := fitted(table, width)) is None:
            continue
        height = table_height_mm(table, widths)
        if height <= room.height + 0.01 and width * height <= most_mm2:
            found.append((width * height, widths))
    return min(found)[1] if found else None


def widths_shared(room: Box) -> list[float]:
    """How wide a table may be that shares a room evenly with none, one, two or three beside it [mm]."""
    return [(room.width + GAP_MM) / across - GAP_MM for across in range(1, MOST_ACROSS + 1)]


def rest_of(room: Box, width: float, height: float) -> list[Box]:
    """What is left beside and below what was set in the top left corner of a room, one piece as large as can be."""
    right, bottom = room.left + width + GAP_MM, room.top - height - GAP_MM
    tall = Box(right, room.bottom, room.right, room.top), Box(room.left, room.bottom, right - GAP_MM, bottom)
    wide = Box(right, bottom + GAP_MM, room.right, room.top), Box(room.left, room.bottom, room.right, bottom)
    largest = max(tall, wide, key=lambda boxes: max(_area(box) for box in boxes))
    return [box for box in largest if holds_a_table(box)]


def holds_a_table(room: Box) -> bool:
    return room.width >= NARROWEST_MM - 0.01 and room.height >= LOWEST_MM


def _area(box: Box) -> float:
    return max(box.width, 0.0) * max(box.height, 0.0)
