"""Puts the set together: one scale for plan and elevations where it fits, as few sheets as the job needs."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import partial

from drafter.drawing import Drawing, Sheet, Symbol, View
from drafter.finding import Finding, Severity, errors
from drafter.geometry import Box
from drafter.sheets.arranging import with_schedules
from drafter.sheets.diagram_and_details import diagram_and_details
from drafter.sheets.elevation import used_walls
from drafter.sheets.elevation_pages import elevation_pages
from drafter.sheets.in_space import solids
from drafter.sheets.isometric import isometric_views
from drafter.sheets.layers import Layers
from drafter.sheets.page import NO_SCALE, Page
from drafter.sheets.pages import (
    TITLE_MM,
    general_page,
    isometric_page,
    legend_and_notes,
    part_page,
    plan_and_reach_page,
    plan_page,
    reach_pages,
)
from drafter.sheets.paper import Paper, paper
from drafter.sheets.reach_plan import reach_tables
from drafter.sheets.records import RECORDS_TITLE, record_pages
from drafter.sheets.results import RESULTS_TITLE, results_pages
from drafter.sheets.scaled_views import elevation_parts, plan_parts, reach_parts
from drafter.sheets.scene import Scene
from drafter.sheets.schedules import schedules
from drafter.sheets.sheet_index import leading_to_elevations, leading_to_walls, sheet_numbers, with_index
from drafter.sheets.stamp import stamp_of, titled
from drafter.sheets.table_stack import Stack
from drafter.sheets.tables import Table
from drafter.sheets.title_block import SheetHead, sheet_fields
from drafter.sheets.title_strip import CAUTION, drawing_area, frame_and_title
from drafter.sheets.view_parts import Part
from drafter.site.model import Site
from drafter.supports.design import Design
from drafter.takeoff import Takeoff

MARGIN_MM = 6.0
SERIES_OF_TABLES = (5, 6, 7)
"""Kinds of sheets that hold no view: details, diagrams and schedules, records."""

SIDE_MM = 92.0
WIDE_ENOUGH_MM = 300.0
"""Narrower sheets get a page of their own for legend and notes."""


def compose(design: Design, takeoff: Takeoff, findings: Sequence[Finding], symbols: Mapping[str, Symbol]) -> Drawing:
    """Compose the whole set of views and sheets.

    Args:
        findings: warnings are printed on the sheets; with errors every sheet is stamped.
        symbols: all symbols by name.
    """
    site = design.network.layout.site
    layers = Layers(site.drawing.discipline)
    walls = used_walls(design.network.layout)
    marks = {(wall.room, wall.name): str(number) for number, wall in enumerate(walls, 1)}
    warnings = sum(finding.severity is Severity.WARNING for finding in findings)
    scene = Scene(design, takeoff, dict(symbols), layers, marks, warnings, errors(list(findings)))
    page = paper(site.drawing.paper)
    area, of_tables = (drawing_area(page, tables).grown(-MARGIN_MM) for tables in (False, True))
    side = SIDE_MM if area.width >= WIDE_ENOUGH_MM else 0.0
    plan_room = Box(area.left, area.bottom + TITLE_MM, area.right - side, area.top)
    high = Box(area.left, area.bottom + TITLE_MM, area.right, area.top)
    plans, reaches = plan_parts(scene, plan_room), reach_parts(scene, plan_room)
    drawn = elevation_parts(scene, walls, high, plans[0].view.scale)
    plan, reach, elevations = plans[0].view, reaches[0].view, [parts[0].view for parts in drawn]
    isometrics = isometric_views(scene, high, plan.scale)
    plan = leading_to_elevations(plan, elevations, scene)
    plans = tuple(replace(part, view=plan) for part in plans)
    tables = leading_to_walls(schedules(scene, findings), elevations)
    beside = Box(plan_room.right + 5.0, area.bottom, area.right, area.top) if side else None
    views = (plan, reach, *elevations, *isometrics)
    first, before = _front(scene, views, (plans, reaches), tables, (area, plan_room, beside))
    before += elevation_pages(scene, [part for parts in drawn for part in parts], tables, area)
    before += diagram_and_details(scene, of_tables)
    results = results_pages(scene, of_tables)
    before += [Page(6, RESULTS_TITLE, tuple(items), (), 1.0, NO_SCALE, free) for items, free in results]
    after = [
        Page(7, RECORDS_TITLE, made.items, (), 1.0, NO_SCALE, made.free) for made in record_pages(scene, of_tables)
    ]
    after += [isometric_page(scene, isometric, high) for isometric in isometrics]

    def together(page: Page, front: Sequence[Table]) -> list[Page]:
        return with_schedules([page, *before], after, (*front, *tables), of_tables, layers)

    pages = with_index(scene, first, together)
    stamp = stamp_of(errors(list(findings)))
    sheets = _numbered(scene, pages, page, stamp)
    used = {item.symbol for sheet in sheets for item in sheet.items if hasattr(item, "symbol")}
    used |= {item.symbol for view in views for item in view.items if hasattr(item, "symbol")}
    return Drawing(
        site.name,
        "Compressed-air piping installation",
        site.drawing.drawn_by or site.drawing.installer,
        site.drawing.date,
        site.imperial,
        layers.definitions(),
        {name: symbols[name] for name in sorted(used)},
        tuple(titled(view, stamp) for view in views),
        sheets,
        solids(scene),
        stamp,
        _below(site),
    )


def _below(site: Site) -> tuple[str, ...]:
    """What a model says of itself: what it is of, where the rest stands, and the caution in two lines."""
    data, words = site.drawing, CAUTION.split(". ")
    of = ", ".join(part for part in (f"drawing {data.number}", f"revision {data.revision}", data.date) if part)
    first = f"{site.name}, {of}. Legend, notes, schedules and details: sheets.pdf"
    return first, f"{'. '.join(words[:1])}.", ". ".join(words[1:])


def _front(
    scene: Scene,
    views: tuple[View, ...],
    parts: tuple[tuple[Part, ...], tuple[Part, ...]],
    tables: list[Table],
    rooms: tuple[Box, Box, Box | None],
) -> tuple[Callable[[Stack | None], Page | None], list[Page]]:
    """What makes the first page, with the tables of the front where it has room, and the pages of plan and reach.

    Args:
        views: the plan, that of reach, and all others.
        parts: of the plan and of that of reach.
        rooms: the area of a sheet, that of a plan in it, and that beside a plan where the sheet is wide enough.
    """
    (plan, _, *others), (plans, reaches), (area, plan_room, beside) = views, parts, rooms
    more = [part_page(scene, "Plan", part, plan_room) for part in plans[1:]]
    if beside is not None:
        noted = legend_and_notes(scene, (plan, *others), tables, beside)
        first = partial(plan_page, scene, plans[0], plan_room, noted)
        return first, [*more, *reach_pages(scene, reaches, plan_room, tables, beside)]
    first = partial(general_page, scene, views, tables, area)
    both = plan_and_reach_page(scene, (plans[0], reaches[0]), plan_room)
    if both is not None:
        tables[2:2] = reach_tables(scene)
        return first, [both]
    alone = part_page(scene, "Plan", plans[0], plan_room)
    return first, [alone, *more, *reach_pages(scene, reaches, plan_room, tables, None)]


def _numbered(scene: Scene, pages: Sequence[Page], page: Paper, stamp: str) -> tuple[Sheet, ...]:
    """Give each page its number and title block: number, kind of sheet, two digits (US National CAD Standard)."""
    site, sheets = scene.site, list[Sheet]()
    numbers = sheet_numbers(site.drawing.discipline, pages)
    sheet_of = {part: number for number, made in zip(numbers, pages, strict=True) for part in made.parts}
    for index, (number, made) in enumerate(zip(numbers, pages, strict=True), 1):
        head = SheetHead(number, made.title, made.scale_text, made.scale, index, len(pages))
        pointers = (pointer.on(sheet_of) for pointer in made.pointers)
        framed = frame_and_title(site, page, head, scene.layers, stamp, made.series in SERIES_OF_TABLES)
        items = (*framed, *made.items, *pointers)
        sheets.append(
            Sheet(
                number,
                made.title,
                page.width_mm,
                page.height_mm,
                items,
                made.placements,
                sheet_fields(site, page, head),
            )
        )
    return tuple(sheets)
