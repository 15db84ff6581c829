"""Puts the set together: one scale for plan and elevations where it fits, as few sheets as the job needs."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from drafter.drawing import Drawing, Item, Placement, Sheet, Symbol, Text, View
from drafter.finding import Finding, Severity, errors
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm, wrapped
from drafter.sheets.diagram_and_details import diagram_and_details
from drafter.sheets.elevation import elevation_view, used_walls
from drafter.sheets.in_space import solids
from drafter.sheets.isometric import isometric_note, isometric_views
from drafter.sheets.layers import Layers
from drafter.sheets.legend import legend
from drafter.sheets.notes import notes, set_notes
from drafter.sheets.paper import Paper, paper, scales
from drafter.sheets.plan import plan_view
from drafter.sheets.reach_plan import reach_key, reach_tables, reach_view
from drafter.sheets.records import RECORDS_TITLE, record_pages
from drafter.sheets.results import RESULTS_TITLE, results_pages
from drafter.sheets.scene import Scene
from drafter.sheets.schedules import notes_table, schedules
from drafter.sheets.stamp import stamp_of, titled
from drafter.sheets.tables import Table, fit, flow
from drafter.sheets.title_block import SheetHead, drawing_area, frame_and_title, sheet_fields
from drafter.supports.design import Design
from drafter.takeoff import Takeoff

MARK_OUT = "Mark-out"
TITLE_SIGNS = 40
REACH_TITLE = "Reach of the hoses"
MARGIN_MM = 6.0
TITLE_MM = 12.0
VIEW_TITLE_MM = 4.5
SIDE_MM = 92.0
WIDE_ENOUGH_MM = 300.0
"""Narrower sheets get a page of their own for legend and notes."""

ROW_GAP_MM = 8.0
COLUMN_GAP_MM = 12.0
LEAST_TABLE_MM = 40.0
NEXT_LINE_MM = 5.0
ISOMETRIC_TITLE_MM = 45.0


@dataclass(frozen=True)
class _Page:
    """A sheet before it has its number: what kind it is, its title, and what stands on it."""

    series: int
    title: str
    items: tuple[Item, ...]
    placements: tuple[Placement, ...]
    scale: float
    scale_text: str


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
    standard = list(scales(site.imperial))
    least = max(scene_size(scene)) * 1000.0 / max(plan_room.width, plan_room.height)
    plan = _drawn(scene, plan_room, [n for n in standard if n >= least] or standard[-1:], partial(plan_view, scene))
    high = Box(area.left, area.bottom + TITLE_MM, area.right, area.top)
    larger = [n for n in reversed(standard) if n <= plan.scale]
    order = [*larger[:2], *(n for n in standard if n > plan.scale)]
    elevations = _named_apart([_drawn(scene, high, order, partial(elevation_view, scene, wall)) for wall in walls])
    reach = _drawn(scene, plan_room, [n for n in standard if n >= plan.scale], partial(reach_view, scene))
    isometrics = isometric_views(scene, high, plan.scale)
    tables = schedules(scene, findings)
    beside = Box(plan_room.right + 5.0, area.bottom, area.right, area.top)
    pages = [] if side else [_general_page(scene, (plan, reach, *elevations, *isometrics), tables, area)]
    pages.append(
        _plan_page(
            scene,
            plan,
            plan_room,
            legend_and_notes(scene, (plan, *elevations, *isometrics), tables, beside) if side else [],
        )
    )
    pages.append(_reach_page(scene, reach, plan_room, tables, beside if side else None))
    pages += _elevation_pages(scene, elevations, tables, area)
    pages += [_Page(*made, (), 1.0, "not to scale") for made in diagram_and_details(scene, area)]
    pages += [_Page(6, RESULTS_TITLE, tuple(items), (), 1.0, "not to scale") for items in results_pages(scene, area)]
    pages += [
        _Page(6, schedule_title(placed.titles), placed.items, (), 1.0, "not to scale")
        for placed in flow(tables, area, layers)
    ]
    pages += [_Page(7, RECORDS_TITLE, items, (), 1.0, "not to scale") for items in record_pages(scene, area)]
    pages += [_isometric_page(scene, isometric, high) for isometric in isometrics]
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


def _named_apart(views: list[View]) -> list[View]:
    """Number those whose names are alike, as of rooms that differ in letters with accents only."""
    named: list[View] = []
    taken: set[str] = set()
    for view in views:
        name, count = view.name, 1
        while name in taken:
            count += 1
            name = f"{view.name}-{count}"
        taken.add(name)
        named.append(replace(view, name=name))
    return named


def _drawn(scene: Scene, room: Box, order: Sequence[int], draw: Callable[[int, str], tuple[View, list[str]]]) -> View:
    """Draw a view at the first scale of an order that fits a room and shows every label.

    Where none does, the one that fits and misses the fewest is taken; where none fits, the last.
    """
    words = scales(scene.site.imperial)
    best: tuple[int, View] | None = None
    for scale in order:
        view, homeless = draw(scale, words[scale])
        if view.box.width / scale > room.width or view.box.height / scale > room.height:
            continue
        if not homeless:
            return view
        if best is None or len(homeless) < best[0]:
            best = (len(homeless), view)
    return best[1] if best else draw(order[-1], words[order[-1]])[0]


def scene_size(scene: Scene) -> tuple[float, float]:
    """Width and height of all rooms together in plan [m]."""
    box = Box.around([wall.left for walls in scene.site.walls.values() for wall in walls])
    return box.width, box.height


def _plan_page(scene: Scene, plan: View, room: Box, beside: list[Item]) -> _Page:
    title = _view_title(scene.layers, plan, room.left, room.bottom - TITLE_MM)
    return _Page(1, "Plan", (*beside, *title), (_centred(plan, room),), plan.scale, plan.scale_text)


def _reach_page(scene: Scene, reach: View, room: Box, tables: list[Table], beside: Box | None) -> _Page:
    """The plan of reach, with its legend and tables beside it where there is room; else the tables join the others."""
    items, of_reach = _view_title(scene.layers, reach, room.left, room.bottom - TITLE_MM), reach_tables(scene)
    if beside is not None:
        key, end = reach_key(scene, beside)
        items += key
        placed = flow(of_reach, Box(beside.left, beside.bottom, beside.right, end - 4.0), scene.layers)
        if len(placed) == 1:
            items += placed[0].items
            of_reach = []
    tables[2:2] = of_reach
    return _Page(1, REACH_TITLE, tuple(items), (_centred(reach, room),), reach.scale, reach.scale_text)


def _isometric_page(scene: Scene, isometric: View, room: Box) -> _Page:
    """The isometric on a sheet of its own; beside its title how it is to be read."""
    base = room.bottom - TITLE_MM
    items = _view_title(scene.layers, isometric, room.left, base)
    beside = Box(room.left + ISOMETRIC_TITLE_MM, base, room.right, room.bottom)
    lines = wrapped(isometric_note(scene), beside.width, 2.5)
    for number, line in enumerate(reversed(lines)):
        items.append(Text(scene.layers.note, Point(beside.left, base + number * NEXT_LINE_MM * 0.75), line, 2.5))
    return _Page(9, isometric.title.capitalize(), tuple(items), (_centred(isometric, room),), 1.0, isometric.scale_text)


def legend_and_notes(scene: Scene, views: Sequence[View], tables: list[Table], side: Box) -> list[Item]:
    """Set the legend, and below it the notes; those that find no room go to the front of ``tables``."""
    items, end = legend(scene, views, side)
    more, count = set_notes(scene, Box(side.left, side.bottom + NEXT_LINE_MM, side.right, end - 6.0))
    if count == len(notes(scene)):
        return [*items, *more]
    tables.insert(0, notes_table(scene, count))
    pointer = Text(scene.layers.note, Point(side.left, side.bottom), "More notes: see the schedules.", 2.5)
    return [*items, *more, pointer]


def _general_page(scene: Scene, views: Sequence[View], tables: list[Table], area: Box) -> _Page:
    """Legend and notes on a sheet of their own, where the paper is too narrow to set them beside the plan."""
    middle = area.left + 0.4 * area.width
    items, _ = legend(scene, views, Box(area.left, area.bottom, middle - 5.0, area.top))
    more, count = set_notes(scene, Box(middle, area.bottom, area.right, area.top))
    if count < len(notes(scene)):
        tables.insert(0, notes_table(scene, count))
    return _Page(0, "Legend and notes", (*items, *more), (), 1.0, "not to scale")


def _centred(view: View, room: Box) -> Placement:
    """Place a view in the middle of a room, which is also its window."""
    return Placement(view.name, view.box.centre, room.centre, room)


def _view_title(layers: Layers, view: View, left: float, base: float) -> list[Item]:
    return [
        Text(layers.note, Point(left, base + 4.5), view.title, VIEW_TITLE_MM, weight="bold"),
        Text(
            layers.note,
            Point(left, base),
            f"Scale {view.scale_text}" if view.to_scale else view.scale_text.upper(),
            2.5,
        ),
    ]


def _elevation_pages(scene: Scene, elevations: Sequence[View], tables: list[Table], area: Box) -> list[_Page]:
    """Stack rows of elevations on sheets; below them goes the mark-out of their walls where it fits,
    and on the last one whatever other schedules do.

    Tables that found a place are taken out of ``tables``.
    """
    pages: list[_Page] = []
    waiting = _rows_of(elevations, area.width)
    while waiting:
        top, views = area.top, list[View]()
        items, placements = list[Item](), list[Placement]()
        while waiting and (not views or top - _row_height(waiting[0]) >= area.bottom - 0.01):
            row = waiting.pop(0)
            for view, room, at in _row_rooms(row, area, top):
                placements.append(Placement(view.name, Point(view.box.centre.x, 0.0), at, room))
                items += _view_title(scene.layers, view, room.left, top - _row_height(row))
            views += row
            top -= _row_height(row) + ROW_GAP_MM
        numbers = [view.title.split(" ")[1] for view in views]
        mine = [t for t in tables if any(t.title.startswith(f"MARK-OUT {number} ") for number in numbers)]
        others = [] if waiting else [table for table in tables if table not in mine]
        below = Box(area.left, area.bottom, area.right, top)
        items += _tables_below(scene, tables, [*mine, *others], below)
        words = {view.scale_text for view in views}
        title = ("Elevation " if len(views) == 1 else "Elevations ") + ", ".join(numbers)
        if any(table not in tables for table in others):
            title += " and schedules"
        scale = views[0].scale if len(words) == 1 else 1.0
        scale_text = words.pop() if len(words) == 1 else "as shown"
        pages.append(_Page(2, title, tuple(items), tuple(placements), scale, scale_text))
    return pages


def _rows_of(elevations: Sequence[View], width: float) -> list[list[View]]:
    rows: list[list[View]] = []
    used = 0.0
    for view in elevations:
        need = _width(view) + COLUMN_GAP_MM
        if not rows or used + need > width + COLUMN_GAP_MM:
            rows.append([])
            used = 0.0
        rows[-1].append(view)
        used += need
    return rows


def _width(view: View) -> float:
    """Width of a view on paper, or of its title where that is wider."""
    return max(view.box.width / view.scale, text_width_mm(view.title, VIEW_TITLE_MM, "bold"))


def _row_height(row: list[View]) -> float:
    """Height of a row of views with floors on one line, and their titles."""
    above = max(view.box.top / view.scale for view in row)
    below = max(-view.box.bottom / view.scale for view in row)
    return above + below + TITLE_MM


def _row_rooms(row: list[View], area: Box, top: float) -> Iterator[tuple[View, Box, Point]]:
    """Yield each view of a row with its window and the place of its floor line's middle."""
    widths = [_width(view) for view in row]
    gap = (area.width - sum(widths)) / (len(row) + 1)
    floor = top - max(view.box.top / view.scale for view in row)
    left = area.left
    for view, width in zip(row, widths, strict=True):
        left += gap
        bottom, top_edge = view.box.bottom / view.scale, view.box.top / view.scale
        room = Box(left, floor + bottom, left + width, floor + top_edge)
        yield view, room, Point(left + width / 2, floor)
        left += width


def _tables_below(scene: Scene, tables: list[Table], chosen: list[Table], room: Box) -> list[Item]:
    """Set as many of the chosen tables, from the first, as a room holds; take them out of ``tables``."""
    if room.height < LEAST_TABLE_MM:
        return []
    while chosen and not fit(chosen, room):
        chosen.pop()
    for table in chosen:
        tables.remove(table)
    return [item for placed in flow(chosen, room, scene.layers) for item in placed.items]


def _numbered(scene: Scene, pages: Sequence[_Page], page: Paper, stamp: str) -> tuple[Sheet, ...]:
    """Give each page its number and title block: number, kind of sheet, two digits (US National CAD Standard)."""
    site, sheets, counts = scene.site, [], dict.fromkeys(range(10), 0)
    for index, made in enumerate(pages, 1):
        counts[made.series] += 1
        number = f"{site.drawing.discipline}-{made.series}{counts[made.series]:02d}"
        head = SheetHead(number, made.title, made.scale_text, made.scale, index, len(pages))
        items = (*frame_and_title(site, page, head, scene.layers, stamp), *made.items)
        sheets.append(
            Sheet(number, made.title, page.width_mm, page.height_mm, items, made.placements, sheet_fields(site, head))
        )
    return tuple(sheets)
