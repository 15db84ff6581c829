"""Puts the set together: one scale for plan and elevations where it fits, as few sheets as the job needs."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from drafter.drawing import Drawing, Sheet, Symbol, View
from drafter.finding import Finding, Severity, errors
from drafter.geometry import Box
from drafter.sheets.arranging import with_schedules
from drafter.sheets.diagram_and_details import diagram_and_details
from drafter.sheets.elevation import used_walls
from drafter.sheets.elevation_pages import elevation_pages
from drafter.sheets.enlarged_page import fits_sheet, shown_of, with_enlarged
from drafter.sheets.enlarged_plan import enlarged_plans
from drafter.sheets.enlarged_reference import with_sheet
from drafter.sheets.in_space import solids
from drafter.sheets.isometric import isometric_views
from drafter.sheets.layers import Layers
from drafter.sheets.page import NO_SCALE, Page
from drafter.sheets.pages import (
    TITLE_MM,
    Noted,
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
from drafter.sheets.records import record_pages
from drafter.sheets.results import RESULTS_TITLE, results_pages
from drafter.sheets.revision_marks import is_marked, seen_of
from drafter.sheets.scaled_views import elevation_parts, plan_drawn_for, reach_parts, working_scale
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
from drafter.site.wall import Wall
from drafter.supports.design import Design
from drafter.takeoff import Takeoff

MARGIN_MM = 6.0
SERIES_OF_TABLES = (5, 6, 7)
"""Kinds of sheets that hold no view: details, diagrams and schedules, records."""

SIDE_MM = 92.0
SMALL_PLAN = 75.0
"""Plans at smaller scales than one to that give up the legend beside them where they are larger without it."""

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
    rooms = _Rooms.of(area)
    drawn, noted = _drawn(scene, walls, rooms)
    plan, reach, elevations = drawn.plans[0].view, drawn.reaches[0].view, [parts[0].view for parts in drawn.elevations]
    plan = leading_to_elevations(plan, elevations, scene)
    drawn = replace(drawn, plans=tuple(replace(part, view=plan) for part in drawn.plans))
    tables = leading_to_walls(schedules(scene, findings), elevations)
    enlarged = drawn.enlarged
    views = (plan, reach, *elevations, *drawn.isometrics)
    by_name = {view.name: view for view in views}
    first, before = _front(scene, drawn, noted, tables, rooms)
    before += elevation_pages(scene, [part for parts in drawn.elevations for part in parts], tables, area)
    before += diagram_and_details(scene, of_tables)
    results = results_pages(scene, of_tables)
    before += [Page(6, RESULTS_TITLE, tuple(items), (), 1.0, NO_SCALE, free) for items, free in results]
    after = [Page(7, title, made.items, (), 1.0, NO_SCALE, made.free) for title, made in record_pages(scene, of_tables)]
    after += [isometric_page(scene, isometric, rooms.high) for isometric in drawn.isometrics]

    def together(page: Page, front: Sequence[Table]) -> list[Page]:
        with_plans = with_enlarged(scene, [page, *before], enlarged, by_name, area)
        return with_schedules(with_plans, after, (*front, *tables), of_tables, layers)

    pages = with_index(scene, first, together)
    if (shown := shown_of(enlarged, pages, sheet_numbers(site.drawing.discipline, pages))) is not None:
        views = (with_sheet(scene, plan, shown[1]), reach, shown[0], *elevations, *drawn.isometrics)
    stamp = stamp_of(errors(list(findings)))
    sheets = _numbered(scene, pages, page, stamp, {view.name: view for view in views})
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


@dataclass(frozen=True)
class _Rooms:
    """Rooms of a sheet [mm on paper].

    Attributes:
        area: all of it.
        high: that of a view with its title below.
        plan: that of a plan, where something stands beside it.
        beside: that beside a plan, None where the sheet is too narrow.
    """

    area: Box
    high: Box
    plan: Box
    beside: Box | None

    @classmethod
    def of(cls, area: Box) -> _Rooms:
        high = replace(area, bottom=area.bottom + TITLE_MM)
        if area.width < WIDE_ENOUGH_MM:
            return cls(area, high, high, None)
        plan = replace(high, right=high.right - SIDE_MM)
        return cls(area, high, plan, replace(area, left=plan.right + 5.0))


@dataclass(frozen=True)
class _Drawn:
    """The views of a set, those that can be too large in parts."""

    plans: tuple[Part, ...]
    reaches: tuple[Part, ...]
    elevations: list[tuple[Part, ...]]
    isometrics: list[View]
    enlarged: list[View]

    @property
    def views(self) -> tuple[View, ...]:
        elevations = (parts[0].view for parts in self.elevations)
        return (self.plans[0].view, *self.enlarged[:1], *elevations, *self.isometrics)


def _drawn(scene: Scene, walls: Sequence[Wall], rooms: _Rooms) -> tuple[_Drawn, Noted | None]:
    """Draw all views, and set legend and notes with the plan; None where they need a sheet of their own."""
    plan_for = plan_drawn_for(scene)
    plans, reaches = plan_for(rooms.plan), reach_parts(scene, rooms.plan)
    scale = plans[0].view.scale
    working = working_scale(scene, scale)
    elevations = elevation_parts(scene, walls, rooms.high, working)
    isometrics = isometric_views(scene, rooms.high, scale)
    fits = partial(fits_sheet, scene, rooms.area)
    drawn = _Drawn(plans, reaches, elevations, isometrics, enlarged_plans(scene, scale, fits))
    if rooms.beside is None:
        return drawn, None
    noted = legend_and_notes(scene, drawn.views, plans[0], rooms.plan, rooms.beside)
    if noted is not None and plans[0].view.scale <= SMALL_PLAN:
        return drawn, noted
    wide = plan_for(rooms.high)
    if noted is not None and wide[0].view.scale >= plans[0].view.scale:
        return drawn, noted
    if (anew := working_scale(scene, wide[0].view.scale)) != working:
        drawn = replace(drawn, elevations=elevation_parts(scene, walls, rooms.high, anew))
    return replace(drawn, plans=wide, enlarged=enlarged_plans(scene, wide[0].view.scale, fits)), None


def _front(
    scene: Scene, drawn: _Drawn, noted: Noted | None, tables: list[Table], rooms: _Rooms
) -> tuple[Callable[[Stack | None], Page | None], list[Page]]:
    """What makes the first page, with the tables of the front where it has room, and the pages of plan and reach."""
    plans, reaches = drawn.plans, drawn.reaches
    if noted is not None:
        first = partial(plan_page, scene, plans[0], rooms.plan, noted)
        more = [part_page(scene, "Plan", part, rooms.plan) for part in plans[1:]]
        return first, [*more, *reach_pages(scene, reaches, rooms.plan, tables, rooms.beside)]
    in_legend = drawn.views if rooms.beside is not None else (*drawn.views, reaches[0].view)
    first = partial(general_page, scene, in_legend, tables, rooms.area)
    if rooms.beside is None and (both := plan_and_reach_page(scene, (plans[0], reaches[0]), rooms.plan)) is not None:
        tables[2:2] = reach_tables(scene)
        return first, [both]
    alone = [part_page(scene, "Plan", part, rooms.high) for part in plans]
    return first, [*alone, *reach_pages(scene, reaches, rooms.plan, tables, rooms.beside)]


def _numbered(
    scene: Scene, pages: Sequence[Page], page: Paper, stamp: str, views: Mapping[str, View]
) -> tuple[Sheet, ...]:
    """Give each page its number and title block: number, kind of sheet, two digits (US National CAD Standard)."""
    site, sheets = scene.site, list[Sheet]()
    numbers = sheet_numbers(site.drawing.discipline, pages)
    sheet_of = {part: number for number, made in zip(numbers, pages, strict=True) for part in made.parts}
    for index, (number, made) in enumerate(zip(numbers, pages, strict=True), 1):
        marked = any(is_marked(views[each.view].items, seen_of(each, views[each.view])) for each in made.placements)
        marked = marked or (made.series in SERIES_OF_TABLES and is_marked(made.items))
        revised = scene.revised.revision if marked else ""
        head = SheetHead(number, made.title, made.scale_text, made.scale, index, len(pages), revised)
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
