"""A page of the set before it has a number, and how sheets with schedules are named."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from drafter.drawing import Item, Placement
from drafter.geometry import Box
from drafter.sheets.part_pages import Pointer
from drafter.sheets.ruled_table import CONTINUED
from drafter.sheets.tables import Placed
from drafter.takeoff.numbers_told import ranges

MARK_OUT = "Mark-out"
AND_SCHEDULES = " and schedules"
TITLE_SIGNS = 40
LOOKED_FOR = ("Parts", "Order of work", "Cutting list", "Cutting plan", MARK_OUT, "Outlets", "Valves")
"""Schedules that a sheet is named by first, where it holds more than its title has room for."""

NO_SCALE = "not to scale"


@dataclass(frozen=True)
class Page:
    """A sheet before it has its number: what kind it is, its title, what stands on it.

    Attributes:
        free: room that is left on it.
        parts: names of the parts of views that it shows, and titles of the tables on it.
        pointers: texts that name the sheets of other parts.
        contents: all that stands on it, where its title names less.
    """

    series: int
    title: str
    items: tuple[Item, ...]
    placements: tuple[Placement, ...]
    scale: float
    scale_text: str
    free: tuple[Box, ...] = ()
    parts: tuple[str, ...] = ()
    pointers: tuple[Pointer, ...] = ()
    contents: str = ""

    def with_tables(self, placed: Placed) -> Page:
        """The page with tables in room that it had left free, named in its title where there is room for that."""
        if not placed.items:
            return self
        more, everything = schedule_title(placed.titles), listed(placed.titles)
        title = f"{self.title}, {more[0].lower()}{more[1:]}"
        if len(title) > TITLE_SIGNS or ", and others" in title:
            title = self.title.removesuffix(AND_SCHEDULES).replace(" and ", ", ") + AND_SCHEDULES
        contents = f"{self.contents or self.title}, {everything[0].lower()}{everything[1:]}"
        parts = (*self.parts, *placed.titles)
        return replace(self, title=title, contents=contents, parts=parts, items=(*self.items, *placed.items))


def schedule_title(tables: Sequence[str]) -> str:
    """Name a sheet of schedules by those that begin on it, as many as a title block has room for."""
    names = _names(tables)
    said = names.pop(0)
    for name in names:
        if len(said) + len(name) > TITLE_SIGNS:
            return f"{said}, and others"
        said += f", {name[0].lower()}{name[1:]}"
    return said


def _rank(name: str) -> int:
    return next((rank for rank, begin in enumerate(LOOKED_FOR) if name.startswith(begin)), len(LOOKED_FOR))


def listed(tables: Sequence[str]) -> str:
    """Name all schedules of a sheet, for the table of sheets."""
    first, *names = _names(tables)
    return ", ".join([first, *(f"{name[0].lower()}{name[1:]}" for name in names)])


def _names(tables: Sequence[str]) -> list[str]:
    """The names of tables in short, those looked for first; marks of several walls as one; of what goes on, that."""
    begun = {_name(title) for title in tables if not title.endswith(CONTINUED)}
    names = [_name(title) if _name(title) in begun else _name(title) + CONTINUED for title in tables]
    walls = sorted({int(name.split(" ")[1]) for name in names if name.startswith(MARK_OUT)})
    names = [name for name in names if not name.startswith(MARK_OUT)]
    if walls:
        names.append(f"{MARK_OUT} {ranges(walls)}")
    return sorted(dict.fromkeys(names), key=_rank) or ["Schedules"]


def _name(title: str) -> str:
    return title.partition(", ")[0].partition(" (")[0].capitalize()
