"""Puts the set together: one scale for plan and elevations where it fits, as few sheets as the job needs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from drafter.drawing import Drawing, Sheet, Symbol
from drafter.finding import Finding, Severity, errors
from drafter.geometry import Box
from drafter.sheets.diagram_and_details import diagram_and_details
from drafter.sheets.elevation import used_walls
from drafter.sheets.elevation_pages import elevation_pages
from drafter.sheets.in_space import solids
from drafter.sheets.isometric import isometric_views
from drafter.sheets.layers import Layers
from drafter.sheets.pages import TITLE_MM, Page, general_page, isometric_page, legend_and_notes, plan_pages, reach_pages
from drafter.sheets.paper import Paper, paper
from drafter.sheets.records import RECORDS_TITLE, record_pages
from drafter.sheets.results import RESULTS_TITLE, results_pages
from drafter.sheets.scaled_views import elevation_parts, plan_parts, reach_parts
from drafter.sheets.scene import Scene
from drafter.sheets.schedules import schedules
from drafter.sheets.stamp import stamp_of, titled
from drafter.sheets.tables import flow
from drafter.sheets.title_block import SheetHead, drawing_area, frame_and_title, sheet_fields
from drafter.supports.design import Design
from drafter.takeoff import Takeoff

MARK_OUT = "Mark-out"
TITLE_SIGNS = 40
MARGIN_MM = 6.0
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
    scene = Scene(design, takeoff, dict(symbols), layers, marks, warnings)
    page = paper(site.drawing.paper)
    area = drawing_area(page).grown(-MARGIN_MM)
    side = SIDE_MM if area.width >= WIDE_ENOUGH_MM else 0.0
    plan_room = Box(area.left, area.bottom + TITLE_MM, area.right - side, area.top)
    high = Box(area.left, area.bottom + TITLE_MM, area.right, area.top)
    plans, reaches = plan_parts(scene, plan_room), reach_parts(scene, plan_room)
    drawn = elevation_parts(scene, walls, high, plans[0].view.scale)
    plan, reach, elevations = plans[0].view, reaches[0].view, [parts[0].view for parts in drawn]
    isometrics = isometric_views(scene, high, plan.scale)
    tables = schedules(scene, findings)
    beside = Box(plan_room.right + 5.0, area.bottom, area.right, area.top)
    pages = [] if side else [general_page(scene, (plan, reach, *elevations, *isometrics), tables, area)]
    said = legend_and_notes(scene, (plan, *elevations, *isometrics), tables, beside) if side else []
    pages += plan_pages(scene, plans, plan_room, said)
    pages += reach_pages(scene, reaches, plan_room, tables, beside if side else None)
    pages += elevation_pages(scene, [part for parts in drawn for part in parts], tables, area)
    pages += [Page(*made, (), 1.0, "not to scale") for made in diagram_and_details(scene, area)]
    pages += [Page(6, RESULTS_TITLE, tuple(items), (), 1.0, "not to scale") for items in results_pages(scene, area)]
    pages += [
        Page(6, schedule_title(placed.titles), placed.items, (), 1.0, "not to scale")
        for placed in flow(tables, area, layers)
    ]
    pages += [Page(7, RECORDS_TITLE, items, (), 1.0, "not to scale") for items in record_pages(scene, area)]
    pages += [isometric_page(scene, isometric, high) for isometric in isometrics]
    stamp = stamp_of(errors(list(findings)))
    sheets = _numbered(scene, pages, page, stamp)
    views = (plan, reach, *elevations, *isometrics)
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
    )


def schedule_title(tables: Sequence[str]) -> str:
    """Name a sheet of schedules by those that begin on it, as many as a title block has room for."""
    names = [title.partition(", ")[0].partition(" (")[0].capitalize() for title in tables]
    walls = [name.split(" ")[1] for name in names if name.startswith(MARK_OUT)]
    names = [name for name in names if not name.startswith(MARK_OUT)]
    if walls:
        names.append(f"{MARK_OUT} {walls[0]}" + (f" to {walls[-1]}" if len(walls) > 1 else ""))
    said = names.pop(0) if names else "Schedules"
    for name in names:
        if len(said) + len(name) > TITLE_SIGNS:
            return f"{said}, and others"
        said += f", {name[0].lower()}{name[1:]}"
    return said


def _numbered(scene: Scene, pages: Sequence[Page], page: Paper, stamp: str) -> tuple[Sheet, ...]:
    """Give each page its number and title block: number, kind of sheet, two digits (US National CAD Standard)."""
    site, sheets = scene.site, list[Sheet]()
    numbers = _numbers(site.drawing.discipline, pages)
    sheet_of = {part: number for number, made in zip(numbers, pages, strict=True) for part in made.parts}
    for index, (number, made) in enumerate(zip(numbers, pages, strict=True), 1):
        head = SheetHead(number, made.title, made.scale_text, made.scale, index, len(pages))
        pointers = (pointer.on(sheet_of) for pointer in made.pointers)
        items = (*frame_and_title(site, page, head, scene.layers, stamp), *made.items, *pointers)
        sheets.append(
            Sheet(number, made.title, page.width_mm, page.height_mm, items, made.placements, sheet_fields(site, head))
        )
    return tuple(sheets)


def _numbers(discipline: str, pages: Sequence[Page]) -> list[str]:
    counts, numbers = dict.fromkeys(range(10), 0), list[str]()
    for made in pages:
        counts[made.series] += 1
        numbers.append(f"{discipline}-{made.series}{counts[made.series]:02d}")
    return numbers
