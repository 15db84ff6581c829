"""Pages of elevations in rows, with the mark-out of their walls below them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drafter.drawing import Item, Placement, View
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm
from drafter.sheets.page import Page
from drafter.sheets.pages import TITLE_MM, VIEW_TITLE_MM, view_title
from drafter.sheets.scene import Scene
from drafter.sheets.tables import Placed, Table, fit, flow

ROW_GAP_MM = 8.0
COLUMN_GAP_MM = 12.0
LEAST_TABLE_MM = 40.0


def elevation_pages(scene: Scene, elevations: Sequence[View], tables: list[Table], area: Box) -> list[Page]:
    """Stack rows of elevations on sheets; below them goes the mark-out of their walls where it fits.

    Tables that found a place are taken out of ``tables``.
    """
    pages: list[Page] = []
    waiting = _rows_of(elevations, area.width)
    while waiting:
        top, views = area.top, list[View]()
        items, placements = list[Item](), list[Placement]()
        while waiting and (not views or top - _row_height(waiting[0]) >= area.bottom - 0.01):
            row = waiting.pop(0)
            for view, room, at in _row_rooms(row, area, top):
                placements.append(Placement(view.name, Point(view.box.centre.x, 0.0), at, room))
                items += view_title(scene.layers, view, room.left, top - _row_height(row))
            views += row
            top -= _row_height(row) + ROW_GAP_MM
        numbers = [view.title.split(" ")[1] for view in views]
        mine = [t for t in tables if any(t.title.startswith(f"MARK-OUT {number} ") for number in numbers)]
        placed = _tables_below(scene, tables, mine, Box(area.left, area.bottom, area.right, top))
        words = {view.scale_text for view in views}
        title = ("Elevation " if len(views) == 1 else "Elevations ") + ", ".join(numbers)
        scale = views[0].scale if len(words) == 1 else 1.0
        scale_text = words.pop() if len(words) == 1 else "as shown"
        items += placed.items
        pages.append(Page(2, title, tuple(items), tuple(placements), scale, scale_text, placed.free))
    return pages


def _rows_of(elevations: Sequence[View], width: float) -> list[list[View]]:
    rows: list[list[View]] = []
    used = 0.0
    for view in elevations:
        need = _width(view) + COLUMN_GAP_MM
        if not rows or used + need > width + COLUMN_GAP_MM:
            rows.append([])
            used = 0.0
        rows[-1].append(view)
        used += need
    return rows


def _width(view: View) -> float:
    """Width of a view on paper, or of its title where that is wider."""
    return max(view.box.width / view.scale, text_width_mm(view.title, VIEW_TITLE_MM, "bold"))


def _row_height(row: list[View]) -> float:
    """Height of a row of views with floors on one line, and their titles."""
    above = max(view.box.top / view.scale for view in row)
    below = max(-view.box.bottom / view.scale for view in row)
    return above + below + TITLE_MM


def _row_rooms(row: list[View], area: Box, top: float) -> Iterator[tuple[View, Box, Point]]:
    """Yield each view of a row with its window and the place of its floor line's middle."""
    widths = [_width(view) for view in row]
    gap = (area.width - sum(widths)) / (len(row) + 1)
    floor = top - max(view.box.top / view.scale for view in row)
    left = area.left
    for view, width in zip(row, widths, strict=True):
        left += gap
        bottom, top_edge = view.box.bottom / view.scale, view.box.top / view.scale
        room = Box(left, floor + bottom, left + width, floor + top_edge)
        yield view, room, Point(left + width / 2, floor)
        left += width


def _tables_below(scene: Scene, tables: list[Table], chosen: list[Table], room: Box) -> Placed:
    """Set as many of the chosen tables, from the first, as a room holds; take them out of ``tables``."""
    if room.height < LEAST_TABLE_MM:
        return Placed((), (), (room,) if room.height > 0.0 else ())
    while chosen and not fit(chosen, room):
        chosen.pop()
    for table in chosen:
        tables.remove(table)
    return flow(chosen, room, scene.layers)[0] if chosen else Placed((), (), (room,))
