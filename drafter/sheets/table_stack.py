"""Tables that stand one below the other at one width: that of the sheets, that of the revisions."""

from __future__ import annotations

from dataclasses import dataclass

from drafter.drawing import Item
from drafter.geometry import Box, Point
from drafter.sheets.free_room import GAP_MM, table_height_mm, widths_shared
from drafter.sheets.layers import Layers
from drafter.sheets.ruled_table import Table, best_width_mm, fitted, set_table


@dataclass(frozen=True)
class Stack:
    """Tables set at the same width."""

    tables: tuple[Table, ...]

    @property
    def best_width_mm(self) -> float:
        return max(best_width_mm(table) for table in self.tables)

    def height_mm(self, width_mm: float) -> float | None:
        """Height at a width; None where a table would have to break words."""
        widths = [fitted(table, width_mm) for table in self.tables]
        if any(each is None for each in widths):
            return None
        heights = [table_height_mm(table, each) for table, each in zip(self.tables, widths, strict=True) if each]
        return sum(heights) + GAP_MM * (len(heights) - 1)

    def width_in_room_mm(self, room: Box) -> float | None:
        """The width at which they take the least of a room, shared evenly; None where they do not fit."""
        found = []
        for width in widths_shared(room):
            height = self.height_mm(width) if width >= self.best_width_mm - 0.01 else None
            if height is not None and height <= room.height + 0.01:
                found.append((width * height, width))
        return min(found)[1] if found else None

    def set(self, at: Point, width_mm: float, layers: Layers) -> list[Item]:
        """Draw them below a corner at a width at which they fit."""
        items, top = list[Item](), at.y
        for table in self.tables:
            top = set_table(items, table, fitted(table, width_mm) or (), at.x, top, layers) - GAP_MM
        return items
