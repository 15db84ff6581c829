"""The title block of a sheet; fields after ISO 7200 (from memory)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drafter.drawing import Item, Line, Text
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm, wrapped
from drafter.sheets.layers import Layers
from drafter.sheets.paper import Paper
from drafter.sheets.revision_marks import mark
from drafter.site.model import Site

Cells = Sequence[tuple[float, Sequence[tuple[float, str, str, float]]]]
"""Rows of a title block: height [mm], and for each cell its share of the width, label, value, lettering [mm]."""

REVISED_MM = 5.0
"""From the right of the title block to the middle of the revision's mark."""

FIELDS = {
    "site": "TITLE",
    "drawing number": "DRAWING",
    "sheet title": "SUBTITLE",
    "sheet": "SHEET",
    "of": "SHEETS",
    "revision": "REVISION",
    "for": "OWNER",
    "scale": "SCALE",
    "date": "DATE",
    "paper": "PAPER",
    "address": "ADDRESS",
    "drawn by": "CREATOR",
    "checked by": "CHECKED",
    "approved by": "APPROVED",
    "installer": "INSTALLER",
}
"""The entry of each cell, by its label."""


@dataclass(frozen=True, slots=True)
class SheetHead:
    """What the title block of one sheet says besides the site's own data.

    Attributes:
        revised: letter of the revision that a view on it is marked with.
    """

    number: str
    title: str
    scale_text: str
    scale: float
    index: int
    count: int
    revised: str = ""


def sheet_fields(site: Site, paper: Paper, head: SheetHead) -> tuple[tuple[str, str], ...]:
    """The title block's entries for programs."""
    data = site.drawing
    return (
        ("OWNER", data.client),
        ("DRAWING", data.number),
        ("REVISION", data.revision),
        ("DATE", data.date),
        ("SHEET", head.number),
        ("SHEETS", f"{head.index} / {head.count}"),
        ("TITLE", site.name),
        ("SUBTITLE", head.title),
        ("SCALE", head.scale_text),
        ("CREATOR", data.drawn_by),
        ("CHECKED", data.checked_by),
        ("APPROVED", data.approved_by),
        ("ADDRESS", data.address),
        ("PAPER", paper.name),
        ("INSTALLER", data.installer),
    )


def title_cells(site: Site, paper: Paper, head: SheetHead, block: Box, layers: Layers) -> list[Item]:
    """The title block of a sheet that is drawn on."""
    data = site.drawing
    rows = (
        (13.0, ((0.68, "site", site.name, 4.5), (0.32, "drawing number", data.number, 3.5))),
        (
            10.0,
            (
                (0.50, "sheet title", head.title, 3.5),
                (0.20, "sheet", head.number, 3.5),
                (0.15, "of", f"{head.index} / {head.count}", 3.0),
                (0.15, "revision", data.revision, 3.5),
            ),
        ),
        (
            8.5,
            (
                (0.40, "for", data.client, 2.5),
                (0.26, "scale", head.scale_text, 2.5),
                (0.20, "date", data.date, 2.5),
                (0.14, "paper", paper.name, 2.5),
            ),
        ),
        (
            8.5,
            (
                (0.30, "address", data.address, 2.5),
                (0.18, "drawn by", data.drawn_by, 2.5),
                (0.18, "checked by", data.checked_by, 2.5),
                (0.18, "approved by", data.approved_by, 2.5),
                (0.16, "installer", data.installer, 2.5),
            ),
        ),
    )
    return [*_set(rows, block, layers), *_revised(head, block, layers)]


def low_title_cells(site: Site, paper: Paper, head: SheetHead, block: Box, layers: Layers) -> list[Item]:
    """The title block of a narrow sheet of tables, as wide as the sheet."""
    data = site.drawing
    rows = (
        (
            10.0,
            (
                (0.33, "site", site.name, 3.5),
                (0.14, "drawing number", data.number, 3.0),
                (0.28, "sheet title", head.title, 3.0),
                (0.09, "sheet", head.number, 3.0),
                (0.08, "of", f"{head.index} / {head.count}", 3.0),
                (0.08, "revision", data.revision, 3.0),
            ),
        ),
        (
            8.0,
            (
                (0.16, "for", data.client, 2.5),
                (0.14, "address", data.address, 2.5),
                (0.11, "drawn by", data.drawn_by, 2.5),
                (0.11, "checked by", data.checked_by, 2.5),
                (0.11, "approved by", data.approved_by, 2.5),
                (0.11, "installer", data.installer, 2.5),
                (0.08, "scale", head.scale_text, 2.5),
                (0.10, "date", data.date, 2.5),
                (0.08, "paper", paper.name, 2.5),
            ),
        ),
    )
    return _set(rows, block, layers)


def _revised(head: SheetHead, block: Box, layers: Layers) -> list[Item]:
    """The mark of a revision that the sheet shows, at the right of the cell that names it."""
    if not head.revised:
        return []
    return mark(layers, head.revised, Point(block.right - REVISED_MM, block.top - 13.0 - 5.5))


def _set(rows: Cells, block: Box, layers: Layers) -> list[Item]:
    items: list[Item] = []
    top = block.top
    for height, cells in rows:
        left, bottom = block.left, top - height
        for share, label, value, size in cells:
            width = share * block.width
            items += _cell(Box(left, bottom, left + width, top), label, value, size, layers)
            left += width
            if left < block.right - 0.1:
                items.append(Line(layers.table, Point(left, bottom), Point(left, top)))
        if bottom > block.bottom + 0.1:
            items.append(Line(layers.table, Point(block.left, bottom), Point(block.right, bottom)))
        top = bottom
    return items


def _cell(box: Box, label: str, value: str, size: float, layers: Layers) -> list[Item]:
    """A label and its value; one that takes two lines is printed as two entries, ``TITLE_1`` and ``TITLE_2``."""
    items: list[Item] = [Text(layers.title, Point(box.left + 1.2, box.top - 1.0), label, 1.9, "top left")]
    room, lines = box.width - 2.4, [value]
    while size > 2.0 and text_width_mm(value, size) > room:
        size = max(2.0, size - 0.5)
    if text_width_mm(value, size) > room:
        size = 1.85
        lines = wrapped(value, room, size)[:2]
    base = box.bottom + (1.3 if len(lines) == 1 else 0.75 + size + 0.6)
    for number, line in enumerate(lines):
        at = Point(box.left + 1.2, base - number * (size + 0.6))
        field = FIELDS[label] if len(lines) == 1 else f"{FIELDS[label]}_{number + 1}"
        items.append(Text(layers.title, at, line, size, field=field))
    return items
