"""Schedules as ruled tables that flow over columns and sheets, heads repeated."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drafter.drawing import Anchor, Item, Line, Text
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm, wrapped
from drafter.sheets.layers import Layers

TEXT_MM = 2.5
PITCH_MM = 3.7
CELL_MARGIN_MM = 1.4
ROW_MARGIN_MM = 1.2
HEAD_MM = 6.6
TITLE_MM = 8.0
GAP_MM = 6.0
WIDEST_CELL_MM = 60.0
KEEP_TOGETHER = 0.35
"""Tables lower than this share of a sheet are not broken over columns."""

FEWEST_ROWS = 3
"""A table is not parted before so many rows."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: its head, whether its entries are numbers, set to the right, and how wide they may be."""

    head: str
    number: bool = False
    widest_mm: float = WIDEST_CELL_MM


@dataclass(frozen=True, slots=True)
class Table:
    """A schedule: a title, columns and rows of text."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Placed:
    """Items of one sheet's worth of tables."""

    items: tuple[Item, ...]


def flow(tables: Sequence[Table], area: Box, layers: Layers) -> list[Placed]:
    """Set tables one below the other in as many columns and sheets as they need.

    Args:
        area: room on each sheet [mm on paper].

    Returns:
        The items of each sheet.
    """
    sheets: list[list[Item]] = [[]]
    x, y, widest = area.left, area.top, 0.0
    for table in tables:
        rest = list(table.rows)
        widths = _widths(table, area.width)
        width = max(sum(widths), text_width_mm(f"{table.title} (continued)", 3.5, "bold"))
        whole = TITLE_MM + HEAD_MM + sum(_row_height(row, widths) for row in rest)
        if y - whole < area.bottom and whole < KEEP_TOGETHER * area.height:
            x, y, widest = x + widest + GAP_MM, area.top, 0.0
        continued = False
        while rest or not continued:
            least = TITLE_MM + HEAD_MM + sum(_row_height(row, widths) for row in rest[:FEWEST_ROWS])
            if y - least < area.bottom or x + width > area.right + 0.01:
                fresh = x == area.left and y == area.top
                if not fresh:
                    x, y = x + widest + GAP_MM, area.top
                    widest = 0.0
                if x + width > area.right + 0.01 and not (x == area.left and y == area.top):
                    sheets.append([])
                    x, y, widest = area.left, area.top, 0.0
            height = y - area.bottom - TITLE_MM - HEAD_MM
            count = _rows_that_fit(rest, widths, height) or min(1, len(rest))
            if len(rest) - count == 1 and count > FEWEST_ROWS:
                count -= 1
            title = table.title + (" (continued)" if continued else "")
            bottom = _set(sheets[-1], Table(title, table.columns, tuple(rest[:count])), widths, x, y, layers)
            widest = max(widest, width)
            y = bottom - GAP_MM
            rest = rest[count:]
            continued = True
    return [Placed(tuple(items)) for items in sheets]


def _widths(table: Table, most: float) -> list[float]:
    widths = []
    for number, column in enumerate(table.columns):
        cells = [text_width_mm(row[number], TEXT_MM) for row in table.rows]
        head = text_width_mm(column.head, TEXT_MM, "bold")
        widths.append(max(min(max(cells, default=0.0), column.widest_mm), head) + 2 * CELL_MARGIN_MM)
    spare = sum(widths) - most
    if spare > 0:
        widest = widths.index(max(widths))
        widths[widest] = max(15.0, widths[widest] - spare)
    return widths


def _lines(cell: str, width: float) -> list[str]:
    return wrapped(cell, width - 2 * CELL_MARGIN_MM + 0.01, TEXT_MM)


def _row_height(row: tuple[str, ...], widths: list[float]) -> float:
    most = max(len(_lines(cell, width)) for cell, width in zip(row, widths, strict=True))
    return TEXT_MM + (most - 1) * PITCH_MM + 2 * ROW_MARGIN_MM


def _rows_that_fit(rows: list[tuple[str, ...]], widths: list[float], height: float) -> int:
    used = 0.0
    for count, row in enumerate(rows):
        used += _row_height(row, widths)
        if used > height:
            return count
    return len(rows)


def _set(items: list[Item], table: Table, widths: list[float], left: float, top: float, layers: Layers) -> float:
    """Draw a table that fits; return where it ends."""
    right = left + sum(widths)
    items.append(Text(layers.table, Point(left, top - 3.5), table.title, 3.5, weight="bold"))
    head_top = top - TITLE_MM + 2.0
    y = head_top - HEAD_MM
    edges = [left]
    for width in widths:
        edges.append(edges[-1] + width)
    for column, edge, width in zip(table.columns, edges, widths, strict=False):
        items.append(_cell(column.head, column.number, edge, width, y + 2.0, layers, bold=True))
    rules = [head_top, y]
    for row in table.rows:
        bottom = y - _row_height(row, widths)
        for cell, column, edge, width in zip(row, table.columns, edges, widths, strict=False):
            for number, line in enumerate(_lines(cell, width)):
                base = y - ROW_MARGIN_MM - TEXT_MM - number * PITCH_MM
                if line:
                    items.append(_cell(line, column.number, edge, width, base, layers))
        y = bottom
        rules.append(y)
    items += [Line(layers.table, Point(left, rule), Point(right, rule)) for rule in rules]
    items += [Line(layers.table, Point(edge, head_top), Point(edge, y)) for edge in edges]
    return y


def _cell(text: str, number: bool, edge: float, width: float, base: float, layers: Layers, bold: bool = False) -> Text:
    at = Point(edge + width - CELL_MARGIN_MM, base) if number else Point(edge + CELL_MARGIN_MM, base)
    anchor: Anchor = "bottom right" if number else "bottom left"
    return Text(layers.table, at, text, TEXT_MM, anchor, weight="bold" if bold else "regular")
