"""One schedule as a ruled table: how wide its columns must be, how high its rows are, how it is drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import pairwise

from drafter.drawing import Anchor, Item, Line, Link, Text
from drafter.geometry import Box, Point
from drafter.lettering import Weight, text_width_mm, words_of, wrapped
from drafter.sheets.layers import Layers
from drafter.sheets.paragraph import paragraph
from drafter.sheets.revision_marks import mark

TEXT_MM = 2.5
PITCH_MM = 3.7
CELL_MARGIN_MM = 1.4
ROW_MARGIN_MM = 1.2
HEAD_MM = 6.6
TITLE_MM = 8.0
TITLE_TEXT_MM = 3.5
WIDEST_CELL_MM = 60.0
MARK_MM = 4.2
"""From the right of a cell to the middle of the mark in it."""

CONTINUED = " (continued)"

Row = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table.

    Attributes:
        number: whether its entries are numbers, set to the right.
        widest_mm: how wide it is best.
        least_mm: room to write in by hand.
    """

    head: str
    number: bool = False
    widest_mm: float = WIDEST_CELL_MM
    least_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Table:
    """A schedule: a title, columns and rows of text.

    Attributes:
        least_row_mm: makes rows high enough to write in by hand.
        in_order: one of several that stand one after the other.
        leads: what the title leads to, see `Link`.
        row_leads: what each row leads to.
        row_marks: letter of the revision that each row's first cell is marked with, empty for none.
    """

    title: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    least_row_mm: float = 0.0
    in_order: bool = False
    leads: str = ""
    row_leads: tuple[str, ...] = ()
    row_marks: tuple[str, ...] = ()
    _hash: int = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        whole = (self.title, self.columns, self.rows, self.least_row_mm, self.in_order, self.leads)
        object.__setattr__(self, "_hash", hash((*whole, self.row_leads, self.row_marks)))

    def __hash__(self) -> int:
        """Worked out once: what is known of a table is looked up very often."""
        return self._hash

    def part(self, title: str, first: int, last: int) -> Table:
        """Some of its rows, under another title."""
        leads, marks = self.row_leads[first:last], self.row_marks[first:last]
        return replace(self, title=title, rows=self.rows[first:last], row_leads=leads, row_marks=marks)


def continued(title: str) -> str:
    """The title of a table that goes on, which may have begun elsewhere already."""
    return title if title.endswith(CONTINUED) else title + CONTINUED


@lru_cache(maxsize=512)
def best_width_mm(table: Table) -> float:
    """The width at which no column is broken over lines before it is as wide as it is best."""
    return max(sum(_best(table)), _title_mm(table))


@lru_cache(maxsize=4096)
def fitted(table: Table, width_mm: float) -> tuple[float, ...] | None:
    """Widths of the columns of a table as wide as given; None where words would have to be broken.

    Where there is too little room the widest columns give way first; where there is too much, those grow whose texts
    are broken over lines, then all.
    """
    least, best, longest = _least(table), _best(table), _longest(table)
    if sum(least) > width_mm + 0.01 or _title_mm(table) > width_mm + 0.01:
        return None
    if sum(best) >= width_mm:
        return _between(least, best, width_mm)
    if sum(longest) >= width_mm:
        return _between(best, longest, width_mm)
    share = (width_mm - sum(longest)) / len(longest)
    return tuple(each + share for each in longest)


def _between(low: Sequence[float], high: Sequence[float], width_mm: float) -> tuple[float, ...]:
    """Widths that add up to a width, none over the same limit but where its least is more."""
    below, above = 0.0, max(high)
    for _ in range(40):
        middle = (below + above) / 2
        used = sum(max(a, min(b, middle)) for a, b in zip(low, high, strict=True))
        below, above = (middle, above) if used <= width_mm else (below, middle)
    return tuple(max(a, min(b, below)) for a, b in zip(low, high, strict=True))


def _best(table: Table) -> tuple[float, ...]:
    most = zip(_longest(table), table.columns, _heads(table), strict=True)
    return tuple(max(min(each, column.widest_mm + 2 * CELL_MARGIN_MM), head) for each, column, head in most)


def _longest(table: Table) -> tuple[float, ...]:
    return tuple(
        max([text_width_mm(row[n], TEXT_MM) + 2 * CELL_MARGIN_MM for row in table.rows] + [head])
        for n, head in enumerate(_heads(table))
    )


def _least(table: Table) -> tuple[float, ...]:
    """Widths at which no word is broken, no number, and no number parted from its unit."""
    found = []
    for n, (column, head) in enumerate(zip(table.columns, _heads(table), strict=True)):
        parts = [part for row in table.rows for part in ([row[n]] if column.number else words_of(row[n]))]
        words = {part for part in parts if text_width_mm(part, TEXT_MM) <= WIDEST_CELL_MM}
        found.append(max([text_width_mm(word, TEXT_MM) + 2 * CELL_MARGIN_MM for word in words] + [head]))
    return tuple(found)


def _heads(table: Table) -> tuple[float, ...]:
    """The least widths that the heads ask for, and the hand that writes below them."""
    return tuple(
        max(text_width_mm(column.head, TEXT_MM, "bold"), column.least_mm) + 2 * CELL_MARGIN_MM
        for column in table.columns
    )


def _title_mm(table: Table) -> float:
    return text_width_mm(continued(table.title), TITLE_TEXT_MM, "bold")


@lru_cache(maxsize=65536)
def _lines(cell: str, width_mm: float) -> tuple[str, ...]:
    return tuple(wrapped(cell, width_mm - 2 * CELL_MARGIN_MM + 0.01, TEXT_MM))


@lru_cache(maxsize=4096)
def row_heights_mm(table: Table, widths: tuple[float, ...]) -> tuple[float, ...]:
    """Height of each row, of as many lines as its highest cell."""
    return tuple(max(_row_height_mm(row, widths), table.least_row_mm) for row in table.rows)


def _row_height_mm(row: Row, widths: Sequence[float]) -> float:
    most = max(len(_lines(cell, width)) for cell, width in zip(row, widths, strict=True))
    return TEXT_MM + (most - 1) * PITCH_MM + 2 * ROW_MARGIN_MM


def set_table(
    items: list[Item], table: Table, widths: Sequence[float], left: float, top: float, layers: Layers
) -> float:
    """Draw a table that fits; return where it ends."""
    right = left + sum(widths)
    items.append(Text(layers.table, Point(left, top - 3.5), table.title, TITLE_TEXT_MM, weight="bold"))
    if table.leads:
        items.append(Link(layers.table, Box(left, top - TITLE_TEXT_MM - 1.0, right, top), table.leads))
    head_top = top - TITLE_MM + 2.0
    y = head_top - HEAD_MM
    edges = [left]
    for width in widths:
        edges.append(edges[-1] + width)
    for column, edge, width in zip(table.columns, edges, widths, strict=False):
        items += _cell((column.head,), column.number, edge, width, y + 2.0, layers, "bold")
    rules = [head_top, y]
    for row, height_mm in zip(table.rows, row_heights_mm(table, tuple(widths)), strict=True):
        bottom = y - height_mm
        for cell, column, edge, width in zip(row, table.columns, edges, widths, strict=False):
            items += _cell(_lines(cell, width), column.number, edge, width, y - ROW_MARGIN_MM - TEXT_MM, layers)
        y = bottom
        rules.append(y)
    items += _row_links(table, rules[1:], left, right, layers)
    for letter, below in zip(table.row_marks, rules[1:], strict=False):
        items += mark(layers, letter, Point(edges[1] - MARK_MM, below - ROW_MARGIN_MM - TEXT_MM)) if letter else []
    items += [Line(layers.table, Point(left, rule), Point(right, rule)) for rule in rules]
    items += [Line(layers.table, Point(edge, head_top), Point(edge, y)) for edge in edges]
    return y


def _row_links(table: Table, rules: Sequence[float], left: float, right: float, layers: Layers) -> list[Item]:
    rows = zip(table.row_leads, pairwise(rules), strict=False)
    return [Link(layers.table, Box(left, bottom, right, top), leads) for leads, (top, bottom) in rows if leads]


def _cell(
    lines: Sequence[str],
    number: bool,
    edge: float,
    width: float,
    base: float,
    layers: Layers,
    weight: Weight = "regular",
) -> list[Text]:
    at = Point(edge + width - CELL_MARGIN_MM, base) if number else Point(edge + CELL_MARGIN_MM, base)
    anchor: Anchor = "bottom right" if number else "bottom left"
    return paragraph(layers.table, at, lines, TEXT_MM, PITCH_MM, anchor, weight)
