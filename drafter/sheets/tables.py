"""Schedules that flow over columns and sheets, heads repeated, on columns that share the sheet evenly."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from drafter.drawing import Item
from drafter.geometry import Box
from drafter.sheets.layers import Layers
from drafter.sheets.ruled_table import (
    HEAD_MM,
    PITCH_MM,
    TEXT_MM,
    TITLE_MM,
    WIDEST_CELL_MM,
    Column,
    Table,
    best_width_mm,
    fitted,
    row_heights_mm,
    set_table,
)

__all__ = ["PITCH_MM", "TEXT_MM", "WIDEST_CELL_MM", "Column", "Placed", "Table", "fit", "flow"]

GAP_MM = 6.0
PARTS = 12
"""A sheet is shared in twelfths, so that columns of halves, thirds and quarters add up to it."""

SHARES = (2, 3, 4, 6, 8, 9, 12)
NARROWEST_MM = 80.0
KEEP_TOGETHER = 0.35
"""Tables lower than this share of a sheet are not broken over columns."""

FEWEST_ROWS = 3
"""A table is not parted before so many rows."""


@dataclass(frozen=True, slots=True)
class _Manner:
    """How freely tables are set.

    Attributes:
        narrowed: share of its best width that a table is not set narrower than, if it does not have to be.
        stays: so much more room than the least a table may take to stay in a column.
        squeezed: the same, to go into what is left beside.
        low_mm: tables lower than this go below others that left room for them.
        evenly: what columns of a share leave over beside them counts as taken.
    """

    narrowed: float
    stays: float
    squeezed: float
    low_mm: float
    evenly: bool = False


MANNERS = (
    _Manner(0.8, 1.35, 1.7, 60.0),
    _Manner(0.8, 1.35, 1.7, 120.0),
    _Manner(1.0, 1.35, 1.7, 120.0),
    _Manner(0.8, 2.0, 2.5, 120.0),
    _Manner(0.65, 1.6, 2.0, 120.0),
    _Manner(0.65, 2.0, 2.5, 120.0),
    _Manner(0.8, 1.6, 2.0, 120.0, evenly=True),
    _Manner(0.65, 2.0, 2.5, 120.0, evenly=True),
    _Manner(0.5, 2.0, 2.5, 120.0, evenly=True),
    _Manner(0.8, 99.0, 2.5, 120.0),
)
"""The airiest first; the next are taken where they save a sheet."""


@dataclass(frozen=True, slots=True)
class Placed:
    """Items of one sheet's worth of tables, and the titles of those that begin on it, or that it goes on with."""

    items: tuple[Item, ...]
    titles: tuple[str, ...] = ()


def flow(tables: Sequence[Table], area: Box, layers: Layers) -> list[Placed]:
    """Set tables one below the other in as many columns and sheets as they need.

    Args:
        area: room on each sheet [mm on paper].

    Returns:
        The items of each sheet.
    """
    best = min((_flowed(tables, area, manner) for manner in MANNERS), key=lambda each: each.sheets)
    items: list[list[Item]] = [[] for _ in range(best.sheets)]
    titles: list[list[str]] = [[] for _ in range(best.sheets)]
    for part in best.parts:
        set_table(items[part.sheet], part.table, part.widths, part.left, part.top, layers)
        titles[part.sheet] += [part.begins] if part.begins else []
    for part in reversed(best.parts):
        titles[part.sheet] = titles[part.sheet] or [part.table.title]
    return [Placed(tuple(items[n]), tuple(titles[n])) for n in range(best.sheets)]


def fit(tables: Sequence[Table], area: Box) -> bool:
    """Whether one sheet's area holds tables."""
    return any(_on_one_sheet(tables, area, manner) for manner in MANNERS)


def _on_one_sheet(tables: Sequence[Table], area: Box, manner: _Manner) -> bool:
    flowing = _Flow(area, manner)
    for table in tables:
        flowing.place(table)
        if flowing.sheets > 1:
            return False
    return True


def _flowed(tables: Sequence[Table], area: Box, manner: _Manner) -> _Flow:
    flowing = _Flow(area, manner)
    for table in tables:
        flowing.place(table)
    return flowing


@dataclass(frozen=True, slots=True)
class _Part:
    """A table, or a part of one, in its place; ``begins`` is the title of a table of which it is the first."""

    sheet: int
    table: Table
    widths: tuple[float, ...]
    left: float
    top: float
    begins: str


@dataclass(frozen=True, slots=True)
class _Gap:
    """What a column of a sheet left free at its foot."""

    sheet: int
    used: int
    share: int
    top: float


@dataclass
class _Flow:
    """Where the next table goes: ``used`` twelfths of the sheet are taken to the left of a column of ``share``."""

    area: Box
    manner: _Manner
    sheets: int = 1
    parts: list[_Part] = field(default_factory=list)
    gaps: list[_Gap] = field(default_factory=list)
    used: int = 0
    share: int = 0
    top: float = 0.0

    def place(self, table: Table) -> None:
        """Set a table from where the last one ended, in parts where it is long."""
        if not table.in_order and self._filled_a_gap(table):
            return
        done, first = 0, True
        while done < len(table.rows) or first:
            widths = self._column_for(table, done)
            count = self._rows_that_fit(table, widths, done)
            title = table.title if first else f"{table.title} (continued)"
            part = replace(table, title=title, rows=table.rows[done : done + count])
            begins = table.title if first else ""
            self.parts.append(_Part(self.sheets - 1, part, widths, self._left(self.used), self.top, begins))
            self.top -= _height_mm(table, widths, done, done + count) + GAP_MM
            done, first = done + count, False

    def _rows_that_fit(self, table: Table, widths: tuple[float, ...], done: int) -> int:
        """How many of a table's rows, after those done, go into the rest of the column; one at least."""
        room, rest = self.top - self.area.bottom, len(table.rows) - done
        count = rest
        while count > 1 and _height_mm(table, widths, done, done + count) > room:
            count -= 1
        return count - 1 if rest - count == 1 and count > FEWEST_ROWS else count

    def _filled_a_gap(self, table: Table) -> bool:
        """Set a low table below a column that was left, if one has room for it."""
        for number, gap in enumerate(self.gaps):
            widths = self._widths(table, gap.share)
            if widths is None or self._takes(table, gap.share) > self.manner.stays:
                continue
            height = _height_mm(table, widths)
            if height <= min(self.manner.low_mm, gap.top - self.area.bottom):
                self.parts.append(_Part(gap.sheet, table, widths, self._left(gap.used), gap.top, table.title))
                self.gaps[number] = replace(gap, top=gap.top - height - GAP_MM)
                return True
        return False

    def _left(self, used: int) -> float:
        return self.area.left + used * (self.area.width + GAP_MM) / PARTS

    def _column_for(self, table: Table, done: int) -> tuple[float, ...]:
        """Stay in the column, or open the next one, on a new sheet where none is left; return the widths to set at."""
        widths = self._widths(table, self.share)
        if widths and self._takes(table, self.share) <= self.manner.stays and self._begins(table, widths, done):
            return widths
        if self.share:
            self.gaps.append(_Gap(self.sheets - 1, self.used, self.share, self.top))
        left = PARTS - self.used - self.share
        share = self._best(table, left, self.manner.squeezed) if self.share else 0
        if share:
            self.used += self.share
        else:
            share = self._best(table, PARTS, float("inf")) or PARTS
            self.sheets += bool(self.share)
            self.used = 0
        self.share, self.top = share, self.area.top
        return self._widths(table, share) or _squeezed(table, self._width_mm(share))

    def _begins(self, table: Table, widths: tuple[float, ...], done: int) -> bool:
        """Whether enough of a table goes below what stands in the column: all of it, where it is low."""
        room, whole = self.top - self.area.bottom, _height_mm(table, widths, done)
        if whole <= room:
            return True
        low = whole < KEEP_TOGETHER * self.area.height
        return not done and not low and _height_mm(table, widths, 0, FEWEST_ROWS) <= room

    def _best(self, table: Table, left: int, most: float) -> int:
        """The share of what is left of the sheet at which a table takes the least room; 0 where none will do."""
        found = [(self._takes(table, share), share) for share in SHARES if share <= left and self._widths(table, share)]
        takes, share = min(found, default=(most + 1.0, 0))
        return share if takes <= most else 0

    def _takes(self, table: Table, share: int) -> float:
        """The room a table takes at a share, as so many times the least that it could."""
        rooms = {
            each: self._width_mm(each) * _height_mm(table, widths) * self._left_over(each)
            for each in SHARES
            if (widths := self._widths(table, each))
        }
        return rooms[share] / min(rooms.values())

    def _left_over(self, share: int) -> float:
        return PARTS / (share * (PARTS // share)) if self.manner.evenly else 1.0

    def _widths(self, table: Table, share: int) -> tuple[float, ...] | None:
        width_mm, best_mm = self._width_mm(share), best_width_mm(table)
        narrow = width_mm < min(NARROWEST_MM, self.area.width) - 0.01
        squeezed = width_mm < self.manner.narrowed * min(best_mm, self.area.width) - 0.01
        return None if narrow or squeezed else fitted(table, width_mm)

    def _width_mm(self, share: int) -> float:
        return share * (self.area.width + GAP_MM) / PARTS - GAP_MM


def _height_mm(table: Table, widths: tuple[float, ...], first: int = 0, last: int | None = None) -> float:
    """Height of a table of some of its rows, with its title and head."""
    return TITLE_MM + HEAD_MM + sum(row_heights_mm(table, widths)[first:last])


def _squeezed(table: Table, width_mm: float) -> tuple[float, ...]:
    """Columns of a table too wide for a sheet, in proportion."""
    heads = tuple(column.head for column in table.columns)
    even = [max(len(row[n]) for row in (*table.rows, heads)) + 2 for n in range(len(heads))]
    return tuple(width_mm * each / sum(even) for each in even)
