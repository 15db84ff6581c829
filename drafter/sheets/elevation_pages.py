"""Pages of elevations in rows, with the mark-out of their walls below them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import takewhile

from drafter.drawing import Item, Placement
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm
from drafter.sheets.elevation import elevation_title
from drafter.sheets.page import Page
from drafter.sheets.pages import TITLE_MM, VIEW_TITLE_MM, view_title
from drafter.sheets.part_pages import KEY_GAP_MM, KEY_STRIP_MM, KEY_WIDE_MM, MATCH_MM, Pointer, round_window
from drafter.sheets.ruled_table import fitted
from drafter.sheets.scene import Scene
from drafter.sheets.tables import Placed, Table, fit, flow
from drafter.sheets.view_parts import Part

ROW_GAP_MM = 5.0
COLUMN_GAP_MM = 12.0
LEAST_TABLE_MM, LEAST_BESIDE_MM = 40.0, 90.0


def elevation_pages(scene: Scene, elevations: Sequence[Part], tables: list[Table], area: Box) -> list[Page]:
    """Stack rows of elevations or parts of them on sheets, with the mark-out of their walls below, or beside the last.

    Tables that found a place are taken out of ``tables``.
    """
    pages: list[Page] = []
    waiting = _rows_of(elevations, area.width)
    while waiting:
        rows, low = [waiting.pop(0)], area.top
        low -= _row_height(rows[0])
        while waiting and low - ROW_GAP_MM - _row_height(waiting[0]) >= area.bottom - 0.01:
            low -= ROW_GAP_MM + _row_height(waiting[0])
            rows.append(waiting.pop(0))
        numbers = dict.fromkeys(_number(part) for row in rows for part in row)
        mine = [t for t in tables if any(t.title.startswith(f"MARK-OUT {number} ") for number in numbers)]
        room, of_last = _room_for_tables(rows[-1], mine, area, low)
        pages.append(_page(scene, rows, area, of_last, _set_in(scene, tables, mine, room)))
    return pages


def _page(scene: Scene, rows: Sequence[list[Part]], area: Box, of_last: Box, placed: Placed) -> Page:
    """A sheet of rows; the last has its own width where tables stand beside it."""
    walls = {elevation_title(scene, wall): wall for wall in scene.site.faces if (wall.room, wall.name) in scene.marks}
    items, placements, pointers = list[Item](), list[Placement](), list[Pointer]()
    top, parts = area.top, [part for row in rows for part in row]
    for number, row in enumerate(rows, 1):
        base = top - _row_height(row)
        for part, room, at in _row_rooms(row, of_last if number == len(rows) else area, top):
            placements.append(Placement(part.view.name, Point(part.box.centre.x, 0.0), at, room))
            items += view_title(scene.layers, part.view, room.left, base, part.words)
            more, pointing = round_window(scene, part, room, _strip(part, room, base), walls[part.view.title])
            items += more
            pointers += pointing
        top = base - ROW_GAP_MM
    numbers = list(dict.fromkeys(map(_number, parts)))
    title = ("Elevation " if len(numbers) == 1 else "Elevations ") + ", ".join(numbers)
    if len(numbers) == 1 and len(parts) < parts[0].count:
        title += f", part {' and '.join(str(part.number) for part in parts)} of {parts[0].count}"
    words = {part.view.scale_text for part in parts}
    scale = parts[0].view.scale if len(words) == 1 else 1.0
    scale_text = words.pop() if len(words) == 1 else "as shown"
    keys = tuple(part.key for part in parts)
    page = Page(2, title, tuple(items), tuple(placements), scale, scale_text, placed.free, keys, tuple(pointers))
    return page.with_tables(placed)


def _number(part: Part) -> str:
    """The number of an elevation, as its title says it."""
    return part.view.title.split(" ")[1]


def _room_for_tables(last: list[Part], tables: list[Table], area: Box, low: float) -> tuple[Box, Box]:
    """The room for tables below the rows, or beside the last one where more of them find room; and what that row has.

    Args:
        low: where the last row ends.
    """
    below = Box(area.left, area.bottom, area.right, low - ROW_GAP_MM)
    right = area.left + sum(map(_width, last)) + COLUMN_GAP_MM * (len(last) + 1)
    beside = Box(right, area.bottom, area.right, low + _row_height(last))
    if beside.width < LEAST_BESIDE_MM or _count(tables, beside) <= _count(tables, below):
        return below, area
    return beside, Box(area.left, area.bottom, right, area.top)


def _count(tables: Sequence[Table], room: Box) -> int:
    """How many tables, from the first, a room holds."""
    if room.height < LEAST_TABLE_MM:
        return 0
    wide_enough = list(takewhile(lambda table: fitted(table, room.width) is not None, tables))
    return next((count for count in range(len(wide_enough), 0, -1) if fit(wide_enough[:count], room)), 0)


def _rows_of(elevations: Sequence[Part], width: float) -> list[list[Part]]:
    rows: list[list[Part]] = []
    used = 0.0
    for part in elevations:
        need = _width(part) + COLUMN_GAP_MM
        if not rows or used + need > width + COLUMN_GAP_MM or part.is_cut_across or rows[-1][-1].is_cut_across:
            rows.append([])
            used = 0.0
        rows[-1].append(part)
        used += need
    return rows


def _width(part: Part) -> float:
    """Width of a part on paper with the words at its match lines, or of its title and key plan where that is more."""
    beside, key = (2 * MATCH_MM, KEY_WIDE_MM + KEY_GAP_MM) if part.count > 1 else (0.0, 0.0)
    return max(part.box.width / part.view.scale + beside, text_width_mm(part.title, VIEW_TITLE_MM, "bold") + key)


def _row_height(row: list[Part]) -> float:
    """Height of a row of views with floors on one line, their titles, and the key plans of parts."""
    above = max(part.box.top / part.view.scale for part in row)
    below = max(-part.box.bottom / part.view.scale for part in row)
    return above + below + (KEY_STRIP_MM if any(part.count > 1 for part in row) else TITLE_MM)


def _row_rooms(row: list[Part], area: Box, top: float) -> Iterator[tuple[Part, Box, Point]]:
    """Yield each part of a row with its window and the place of its floor line's middle."""
    widths = [_width(part) for part in row]
    gap = (area.width - sum(widths)) / (len(row) + 1)
    floor = top - max(part.box.top / part.view.scale for part in row)
    left = area.left
    for part, width in zip(row, widths, strict=True):
        left += gap
        scale = part.view.scale
        half = (part.box.width / scale if part.count > 1 else width) / 2
        middle = left + (MATCH_MM + half if part.count > 1 else width / 2)
        room = Box(middle - half, floor + part.box.bottom / scale, middle + half, floor + part.box.top / scale)
        yield part, room, Point(middle, floor)
        left += width


def _strip(part: Part, window: Box, base: float) -> Box:
    """The strip below a window that has room for its title, and for a key plan beside that."""
    titled = window.left + text_width_mm(part.title, VIEW_TITLE_MM, "bold") + KEY_WIDE_MM + KEY_GAP_MM
    right = max(window.right, titled) if part.count > 1 else window.right
    return Box(window.left, base, right, base + TITLE_MM)


def _set_in(scene: Scene, tables: list[Table], mine: Sequence[Table], room: Box) -> Placed:
    """Set as many of some tables, from the first, as a room holds; take them out of ``tables``."""
    chosen = mine[: _count(mine, room)]
    for table in chosen:
        tables.remove(table)
    if chosen:
        return flow(chosen, room, scene.layers)[0]
    return Placed((), (), (room,) if room.height > 0.0 else ())
