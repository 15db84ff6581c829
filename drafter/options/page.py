"""A comparison as a sheet: what to take, the table of choices, and what stands against the others."""

from __future__ import annotations

from collections.abc import Mapping

from drafter.drawing import Drawing, Sheet, Text
from drafter.geometry import Box, Point
from drafter.lettering import wrapped
from drafter.options.comparing import Comparison
from drafter.options.wording import HEADS, NUMBERS, against, doors, recommendation, remarks, row
from drafter.sheets.layers import Layers, before_number
from drafter.sheets.paper import paper
from drafter.sheets.tables import PITCH_MM, TEXT_MM, WIDEST_CELL_MM, Column, Table, flow
from drafter.sheets.title_block import SheetHead, sheet_fields
from drafter.sheets.title_strip import drawing_area, frame_and_title
from drafter.site import Site

TITLE = "Choices side by side"
MARGIN_MM = 3.0
ADVICE_MM, ADVICE_PITCH_MM = 3.0, 4.6
BELOW_ADVICE_MM, BELOW_WORDS_MM = 1.5, 4.0
WIDE_ENOUGH_MM = 300.0
"""Narrower sheets leave out some columns."""

LEFT_OUT = frozenset(("bores", "pipes hold"))

WIDE_CELLS_MM: Mapping[str, float] = {"choice": 75.0, "why, or why not": 55.0}
NARROW_CELLS_MM: Mapping[str, float] = {"choice": 50.0, "main": 17.5, "drops": 17.5, "why, or why not": 34.0}


RULE_MM = 26.0
"""Room for the names of rules, and for the margins of cells."""


def options_drawing(comparison: Comparison) -> Drawing:
    """Compose the sheet, and another where the paper is too small for all that is said.

    Raises:
        ValueError: the site file could not be read, so there is nothing to compare.
    """
    site = comparison.site
    if site is None:
        raise ValueError("there are no choices to compare")
    layers = Layers(site.drawing.discipline)
    page = paper(site.drawing.paper)
    area = drawing_area(page, of_tables=True).grown(-MARGIN_MM)
    wide = area.width >= WIDE_ENOUGH_MM
    words = _words(comparison, area, layers, wide)
    room = Box(area.left, area.bottom, area.right, words[-1].at.y - BELOW_WORDS_MM)
    placed = flow(_tables(comparison, room, wide), room, layers)
    sheets = []
    for index, each in enumerate(placed, 1):
        items = (*words, *each.items) if index == 1 else each.items
        number = f"{before_number(site.drawing.discipline)}8{70 + index}"
        head = SheetHead(number, TITLE, "not to scale", 1.0, index, len(placed))
        drawn = (*frame_and_title(site, page, head, layers, of_tables=True), *items)
        fields = sheet_fields(site, page, head)
        sheets.append(Sheet(head.number, TITLE, page.width_mm, page.height_mm, drawn, (), fields))
    return _drawing(site, layers, tuple(sheets))


def _words(comparison: Comparison, area: Box, layers: Layers, wide: bool) -> list[Text]:
    """What to take, from the top of an area; below it the remarks, where the sheet is wide."""
    y, found = area.top, []
    for line in wrapped(recommendation(comparison), area.width, ADVICE_MM, "bold"):
        y -= ADVICE_PITCH_MM
        found.append(Text(layers.note, Point(area.left, y), line, ADVICE_MM, weight="bold"))
    y -= BELOW_ADVICE_MM
    for remark in remarks(comparison) if wide else ():
        for line in wrapped(remark, area.width, TEXT_MM):
            y -= PITCH_MM
            found.append(Text(layers.note, Point(area.left, y), line, TEXT_MM))
    return found


def _drawing(site: Site, layers: Layers, sheets: tuple[Sheet, ...]) -> Drawing:
    data = site.drawing
    return Drawing(
        site.name,
        "Choices for a compressed-air piping installation",
        data.drawn_by or data.installer,
        data.date,
        site.imperial,
        layers.definitions(),
        {},
        (),
        sheets,
    )


def _tables(comparison: Comparison, room: Box, wide: bool) -> list[Table]:
    site, choice = comparison.site, comparison.choice
    assert site is not None
    assert choice is not None
    shown = [number for number, head in enumerate(HEADS) if wide or head not in LEFT_OUT]
    most = WIDE_CELLS_MM if wide else NARROW_CELLS_MM
    heads = [Column(HEADS[n], HEADS[n] in NUMBERS, most.get(HEADS[n], WIDEST_CELL_MM)) for n in shown]
    rows = [row(option, choice, site.units) for option in comparison.options]
    tables = [Table("CHOICES", tuple(heads), tuple(tuple(cells[n] for n in shown) for cells in rows))]
    others = (
        ("CANNOT BE BUILT, OR NOT DRAWN UP", ("choice", "rule", "what stands against it"), against(comparison)),
        ("DOORS ON THE WAY OF THE MAIN", ("choice", "main"), doors(comparison)),
        ("REMARKS", ("what the columns mean, and how they are compared",), [(each,) for each in remarks(comparison)]),
    )
    for title, names, lines in others[:2] if wide else others:
        if lines:
            widest_mm = room.width - (WIDEST_CELL_MM if len(names) > 1 else 0.0) - RULE_MM
            columns = [*(Column(name) for name in names[:-1]), Column(names[-1], widest_mm=widest_mm)]
            tables.append(Table(title, tuple(columns), tuple(lines)))
    return tables
