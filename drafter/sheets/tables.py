"""Schedules that flow over columns and sheets, heads repeated, on columns that share the sheet evenly."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import accumulate, takewhile
from math import inf

from drafter.drawing import Item
from drafter.geometry import Box
from drafter.sheets.free_room import GAP_MM, NARROWEST_MM, holds_a_table, rest_of, set_in_room, table_height_mm
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
    continued,
    fitted,
    row_heights_mm,
    set_table,
)

__all__ = ["PITCH_MM", "TEXT_MM", "WIDEST_CELL_MM", "Column", "Placed", "Table", "fit", "flow"]

PARTS = 12
"""A sheet is shared in twelfths, so that columns of halves, thirds and quarters add up to it."""

SHARES = (2, 3, 4, 6, 8, 9, 12)
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
    _Manner(0.8, 1.35, 1.7, inf),
    _Manner(1.0, 1.35, 1.7, inf),
    _Manner(0.8, 2.0, 2.5, inf),
    _Manner(0.65, 1.6, 2.0, inf),
    _Manner(0.65, 2.0, 2.5, inf),
    _Manner(0.8, 1.6, 2.0, inf, evenly=True),
    _Manner(0.65, 2.0, 2.5, inf, evenly=True),
    _Manner(0.5, 2.0, 2.5, inf, evenly=True),
    _Manner(0.8, 99.0, 2.5, inf),
    _Manner(0.5, 1.35, 1.7, inf),
)
"""The airiest first; the next are taken where they save a sheet."""


@dataclass(frozen=True, slots=True)
class Placed:
    """Items of one sheet's worth of tables, and the titles of those that begin on it, or that it goes on with.

    ``free`` is what they left of it [mm on paper].
    """

    items: tuple[Item, ...]
    titles: tuple[str, ...] = ()
    free: tuple[Box, ...] = ()


def flow(tables: Sequence[Table], area: Box, layers: Layers, rooms: Sequence[Box] = ()) -> list[Placed]:
    """Set tables one below the other in as many columns and sheets as they need.

    Args:
        area: room on each sheet [mm on paper].
        rooms: room left free on earlier sheets, filled first with whole tables.

    Returns:
        What stands in each of the rooms, then on each sheet.
    """
    return _set(min((_flowed(tables, area, manner, rooms) for manner in MANNERS), key=_sheets), layers)


def _sheets(flowing: _Flow) -> int:
    return flowing.sheets


def _set(flowing: _Flow, layers: Layers) -> list[Placed]:
    count = len(flowing.rooms) + flowing.sheets
    items: list[list[Item]] = [[] for _ in range(count)]
    titles: list[list[str]] = [[] for _ in range(count)]
    for part in flowing.parts:
        set_table(items[part.sheet], part.table, part.widths, part.left, part.top, layers)
        titles[part.sheet].append(part.begins or part.table.title)
    return [Placed(tuple(items[n]), tuple(dict.fromkeys(titles[n])), flowing.left_free(n)) for n in range(count)]


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


def _flowed(tables: Sequence[Table], area: Box, manner: _Manner, rooms: Sequence[Box] = ()) -> _Flow:
    flowing = _Flow(area, manner, tuple(rooms), gaps=[_Gap(n, room) for n, room in enumerate(rooms)])
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
class _Shares:
    """How a table may be set: for each share of the sheet the widths of its columns, and the room it takes [mm²]."""

    widths: dict[int, tuple[float, ...]]
    rooms: dict[int, float]

    @property
    def least(self) -> float:
        """The least room that it takes; nothing where it must be squeezed into a sheet."""
        return min(self.rooms.values(), default=0.0)

    def takes(self, share: int) -> float:
        """The room it takes at a share, as so many times the least."""
        return self.rooms[share] / self.least


@dataclass(frozen=True, slots=True)
class _Gap:
    """What was left free on a sheet."""

    sheet: int
    box: Box


@dataclass
class _Flow:
    """Where the next table goes: ``used`` twelfths of the sheet are taken to the left of a column of ``share``.

    Sheets are counted without the rooms, which come before them.
    """

    area: Box
    manner: _Manner
    rooms: tuple[Box, ...] = ()
    sheets: int = 0
    parts: list[_Part] = field(default_factory=list)
    gaps: list[_Gap] = field(default_factory=list)
    used: int = 0
    share: int = 0
    top: float = 0.0
    ordered: int = 0

    @property
    def sheet(self) -> int:
        return len(self.rooms) + self.sheets - 1

    def place(self, table: Table) -> None:
        """Set a table from where the last one ended, in parts where it is long."""
        shares = self._shares(table)
        if self._filled_a_gap(table, shares):
            return
        done, first = 0, True
        while done < len(table.rows) or first:
            widths = self._column_for(table, shares, done)
            count = self._rows_that_fit(table, widths, done)
            title = table.title if first else continued(table.title)
            part = table.part(title, done, done + count)
            begins = table.title if first else ""
            self.parts.append(_Part(self.sheet, part, widths, self._left(self.used), self.top, begins))
            self.top -= table_height_mm(table, widths, done, done + count) + GAP_MM
            done, first = done + count, False
        if table.in_order:
            self.ordered = self.sheet

    def left_free(self, sheet: int) -> tuple[Box, ...]:
        """What a sheet has left free, in the end."""
        last = self._column_and_beside() if sheet == self.sheet and self.share else []
        return tuple(gap.box for gap in (*self.gaps, *last) if gap.sheet == sheet)

    def _rows_that_fit(self, table: Table, widths: tuple[float, ...], done: int) -> int:
        """How many of a table's rows, after those done, go into the rest of the column; one at least."""
        room, rest = self.top - self.area.bottom, len(table.rows) - done
        heights = accumulate(row_heights_mm(table, widths)[done:])
        fitting = sum(1 for _ in takewhile(lambda height: TITLE_MM + HEAD_MM + height <= room, heights))
        count = min(rest, max(1, fitting))
        return count - 1 if rest - count == 1 and count > FEWEST_ROWS else count

    def _filled_a_gap(self, table: Table, shares: _Shares) -> bool:
        """Set a table whole in a room, or a low one in what was left free on a sheet, if one will do.

        Those in order do not go back before the last of them.
        """
        most_mm2 = self.manner.stays * shares.least
        for number, gap in enumerate(self.gaps):
            if table.in_order and gap.sheet < self.ordered:
                continue
            widths = set_in_room(table, gap.box, self.manner.narrowed, most_mm2)
            if widths is None:
                continue
            height = table_height_mm(table, widths)
            if gap.sheet >= len(self.rooms) and height > self.manner.low_mm:
                continue
            self.parts.append(_Part(gap.sheet, table, widths, gap.box.left, gap.box.top, table.title))
            rest = rest_of(gap.box, sum(widths), height)
            self.gaps[number : number + 1] = [_Gap(gap.sheet, box) for box in rest]
            self.ordered = gap.sheet if table.in_order else self.ordered
            return True
        return False

    def _column_and_beside(self) -> list[_Gap]:
        """What is free below the column, and beside it as far as no column is open there."""
        right = self._left(self.used + self.share)
        below = Box(self._left(self.used), self.area.bottom, right - GAP_MM, self.top)
        beside = Box(right, self.area.bottom, self.area.right, self.area.top)
        return [_Gap(self.sheet, box) for box in (below, beside) if holds_a_table(box)]

    def _left(self, used: int) -> float:
        return self.area.left + used * (self.area.width + GAP_MM) / PARTS

    def _column_for(self, table: Table, shares: _Shares, done: int) -> tuple[float, ...]:
        """Stay in the column, or open the next one, on a new sheet where none is left; return the widths to set at."""
        widths = shares.widths.get(self.share)
        if widths and shares.takes(self.share) <= self.manner.stays and self._begins(table, widths, done):
            return widths
        free = self._column_and_beside() if self.share else []
        left = PARTS - self.used - self.share
        share = _best(shares, left, self.manner.squeezed) if self.share else 0
        if share:
            self.used += self.share
            self.gaps += [gap for gap in free if gap.box.top == self.top < self.area.top]
        else:
            self.gaps += free
            share = _best(shares, PARTS, inf) or PARTS
            self.sheets += 1
            self.used = 0
        self.share, self.top = share, self.area.top
        return shares.widths.get(share) or _squeezed(table, self._width_mm(share))

    def _begins(self, table: Table, widths: tuple[float, ...], done: int) -> bool:
        """Whether enough of a table goes below what stands in the column: all of it, where it is low."""
        room, whole = self.top - self.area.bottom, table_height_mm(table, widths, done)
        if whole <= room:
            return True
        low = whole < KEEP_TOGETHER * self.area.height
        return not done and not low and table_height_mm(table, widths, 0, FEWEST_ROWS) <= room

    def _shares(self, table: Table) -> _Shares:
        found = {share: widths for share in SHARES if (widths := self._widths(table, share))}
        rooms = {
            share: self._width_mm(share) * table_height_mm(table, widths) * self._left_over(share)
            for share, widths in found.items()
        }
        return _Shares(found, rooms)

    def _left_over(self, share: int) -> float:
        return PARTS / (share * (PARTS // share)) if self.manner.evenly else 1.0

    def _widths(self, table: Table, share: int) -> tuple[float, ...] | None:
        width_mm, best_mm = self._width_mm(share), best_width_mm(table)
        narrow = width_mm < min(NARROWEST_MM, self.area.width) - 0.01
        squeezed = width_mm < self.manner.narrowed * min(best_mm, self.area.width) - 0.01
        return None if narrow or squeezed else fitted(table, width_mm)

    def _width_mm(self, share: int) -> float:
        return share * (self.area.width + GAP_MM) / PARTS - GAP_MM


def _best(shares: _Shares, left: int, most: float) -> int:
    """The share of what is left of the sheet at which a table takes the least room; 0 where none will do."""
    takes, share = min(((shares.takes(each), each) for each in shares.rooms if each <= left), default=(most + 1.0, 0))
    return share if takes <= most else 0


def _squeezed(table: Table, width_mm: float) -> tuple[float, ...]:
    """Columns of a table too wide for a sheet, in proportion."""
    heads = tuple(column.head for column in table.columns)
    even = [max(len(row[n]) for row in (*table.rows, heads)) + 2 for n in range(len(heads))]
    return tuple(width_mm * each / sum(even) for each in even)
