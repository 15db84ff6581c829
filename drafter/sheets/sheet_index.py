"""The tables of sheets, whose rows lead to them, and of revisions; what on the plan leads to its elevations."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from drafter.drawing import Insert, Link, View
from drafter.geometry import Box
from drafter.sheets.layers import before_number
from drafter.sheets.page import Page
from drafter.sheets.ruled_table import continued
from drafter.sheets.scene import Scene
from drafter.sheets.table_stack import Stack
from drafter.sheets.tables import Column, Table
from drafter.site.model import Site

INDEX_TITLE, REVISIONS_TITLE = "SHEETS", "REVISIONS"
CHANGED_MM, REVISION_MM = 44.0, 15.0
NUMBER_MM, NAME_MM, SCALE_MM = 12.0, 56.0, 24.0
"""Least widths, so that the names of sheets do not change how the others are set."""

MOST_TRIES, LONG = 8, 12
ELEVATION_MARK = "elevation_mark"


def sheet_numbers(discipline: str, pages: Sequence[Page]) -> list[str]:
    """The number of each page: discipline, kind of sheet, two digits (US National CAD Standard, from memory)."""
    numbers, counts = [], dict.fromkeys(range(10), 0)
    for page in pages:
        counts[page.series] += 1
        numbers.append(f"{before_number(discipline)}{page.series}{counts[page.series]:02d}")
    return numbers


def index_table(discipline: str, pages: Sequence[Page], rows: int = 0) -> Table:
    """A row for each page, and blank ones up to so many."""
    numbers = sheet_numbers(discipline, pages)
    said = [(number, page.contents or page.title, page.scale_text) for number, page in zip(numbers, pages, strict=True)]
    said += [("", "", "")] * (rows - len(said))
    columns = (
        Column("sheet", least_mm=NUMBER_MM), Column("title", least_mm=NAME_MM), Column("scale", least_mm=SCALE_MM),
    )  # fmt: skip
    return Table(INDEX_TITLE, columns, tuple(said), row_leads=tuple(numbers))


def revision_table(site: Site) -> Table | None:
    """What each revision changed, the oldest first; None where the site tells of none.

    The last bears its mark where it names what is marked with it.
    """
    if not site.drawing.revisions:
        return None
    columns = (
        Column("revision", least_mm=REVISION_MM), Column("date"), Column("what changed", widest_mm=CHANGED_MM),
        Column("by"),
    )  # fmt: skip
    rows = tuple((each.revision, each.date, each.what, each.by) for each in site.drawing.revisions)
    last = site.drawing.revisions[-1]
    marks = (*[""] * (len(rows) - 1), last.revision if last.concerns else "")
    return Table(REVISIONS_TITLE, columns, rows, row_marks=marks)


def with_index(
    scene: Scene,
    first: Callable[[Stack | None], Page | None],
    together: Callable[[Page, Sequence[Table]], list[Page]],
) -> list[Page]:
    """The pages of a set with the tables of its front, those of the sheets and of the revisions.

    They stand on the first page where they find room there together, else first among the schedules.

    Args:
        first: makes the first page, None where it has no room for the tables.
        together: makes all pages from the first, with some tables before the schedules.
    """
    discipline, plain, revisions = scene.site.drawing.discipline, first(None), revision_table(scene.site)
    assert plain is not None
    pages, more = together(plain, ()), () if revisions is None else (revisions,)
    for _ in range(MOST_TRIES):
        table = index_table(discipline, pages)
        if (with_tables := first(Stack((table, *more)))) is None:
            break
        pages = together(with_tables, ())
        if index_table(discipline, pages) == table:
            return pages
    for tables_of in (_halves, _whole):
        rows = 0
        for _ in range(MOST_TRIES):
            rows = max(rows, len(pages))
            table = index_table(discipline, pages, rows)
            pages = together(plain, (*tables_of(table), *more))
            if index_table(discipline, pages, rows) == table:
                break
        if _page_of(pages, INDEX_TITLE) <= _page_of(pages, continued(INDEX_TITLE)):
            break
    return pages


def _whole(table: Table) -> tuple[Table, ...]:
    return (table,)


def _page_of(pages: Sequence[Page], title: str) -> int:
    """The number of the page that a table begins on; past the last where there is none of it."""
    return next((number for number, page in enumerate(pages) if title in page.parts), len(pages))


def _halves(table: Table) -> tuple[Table, ...]:
    """A long table in two, which find room where the whole would not."""
    if len(table.rows) < LONG:
        return (table,)
    half = -(-len(table.rows) // 2)
    return table.part(table.title, 0, half), table.part(continued(table.title), half, len(table.rows))


def leading_to_elevations(plan: View, elevations: Sequence[View], scene: Scene) -> View:
    """The plan with its elevation marks leading to the elevations, which stand in the order of the marks."""
    marks = [item for item in plan.items if isinstance(item, Insert) and item.symbol == ELEVATION_MARK]
    links = []
    for mark, view in zip(marks, elevations, strict=True):
        half = max(scene.symbols[ELEVATION_MARK].size) / 2 * mark.scale * plan.scale
        box = Box(mark.at.x - half, mark.at.y - half, mark.at.x + half, mark.at.y + half)
        links.append(Link(mark.layer, box, view.name))
    return replace(plan, items=(*plan.items, *links))


def leading_to_walls(tables: Sequence[Table], elevations: Sequence[View]) -> list[Table]:
    """The tables, those of a wall's marks leading to its elevation."""
    views = {view.title.split(" ")[1]: view.name for view in elevations}
    found = []
    for table in tables:
        number = table.title.removeprefix("MARK-OUT ").split(" ")[0] if table.title.startswith("MARK-OUT ") else ""
        found.append(replace(table, leads=views.get(number, "")))
    return found
