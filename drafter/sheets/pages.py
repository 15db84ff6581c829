"""The pages of a set with their views, before they have numbers: plan, reach, isometric, legend and notes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from drafter.drawing import Item, Placement, Text, View
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm, wrapped
from drafter.sheets.isometric import isometric_note
from drafter.sheets.layers import Layers
from drafter.sheets.legend import legend
from drafter.sheets.notes import in_columns, notes, set_notes
from drafter.sheets.page import NO_SCALE, Page
from drafter.sheets.paragraph import paragraph
from drafter.sheets.part_pages import part_room, round_window, window_of
from drafter.sheets.reach_plan import reach_key, reach_tables
from drafter.sheets.scene import Scene
from drafter.sheets.schedules import notes_table
from drafter.sheets.table_stack import Stack
from drafter.sheets.tables import Table, flow
from drafter.sheets.view_parts import Part

GENERAL_TITLE, REACH_TITLE = "Legend and notes", "Reach of the hoses"
TITLE_MM = 12.0
VIEW_TITLE_MM = 4.5
NEXT_LINE_MM = 5.0
ISOMETRIC_TITLE_MM, BELOW_VIEW_MM, ROUND_VIEW_MM = 45.0, 2.0, 3.0
FREE_GAP_MM, LEAST_FREE_MM = 8.0, 40.0
"""Between a view and tables below it; lower rooms are not cut off from the view."""

SIDE_GAP_MM = 6.0
LEGEND_SHARES = (0.4, 0.55, 0.8)
"""Of the width of a sheet of its own that the legend takes, the first that holds it."""

NOTES_FROM_MM = 46.0
"""Notes below a plan begin so far right of the title of the plan's left edge."""


@dataclass(frozen=True)
class Noted:
    """Legend and notes with a plan.

    Attributes:
        free: room below them, beside the plan, where all notes stand there.
        plan_room: what they leave for the plan.
    """

    items: tuple[Item, ...]
    free: Box | None
    plan_room: Box


def plan_page(scene: Scene, plan: Part, room: Box, noted: Noted, front: Stack | None = None) -> Page | None:
    """The plan or its first part, what is noted with it, and the tables of the front; None where these find no room.

    They go below the notes, else to the right of a whole plan, else into the corner below it.
    """
    at, items = noted.plan_room, list(noted.items)
    if front is not None:
        found = _front_and_plan(front, plan, at, noted.free)
        if found is None:
            return None
        corner, width, at = found
        items += front.set(corner, width, scene.layers)
    return part_page(scene, "Plan", plan, room, items, at)


def _front_and_plan(front: Stack, part: Part, room: Box, below_notes: Box | None) -> tuple[Point, float, Box] | None:
    """The corner of the tables of the front, their width, and the room that is left for the plan."""
    plan = part.view
    if below_notes is not None and (width := front.width_in_room_mm(below_notes)) is not None:
        return Point(below_notes.left, below_notes.top), width, room
    if part.count > 1 or part.lost:
        return None
    width = front.best_width_mm
    height = front.height_mm(width)
    assert height is not None
    spare_width = room.width - plan.box.width / plan.scale - width
    spare_height = room.height - plan.box.height / plan.scale - (height - TITLE_MM)
    if spare_width >= FREE_GAP_MM and height <= room.height:
        return Point(room.right - width, room.top), width, replace(room, right=room.right - width - FREE_GAP_MM)
    if spare_height >= FREE_GAP_MM:
        top = room.bottom - TITLE_MM + height
        return Point(room.right - width, top), width, replace(room, bottom=top + FREE_GAP_MM)
    return None


def plan_and_reach_page(scene: Scene, parts: tuple[Part, Part], room: Box) -> Page | None:
    """The plan and the plan of reach side by side, where the paper is too narrow for anything beside one of them.

    None where they do not fit.
    """
    if any(part.count > 1 or part.lost for part in parts):
        return None
    plan, reach = (part.view for part in parts)
    widths = [max(view.box.width / view.scale, _title_width(view)) for view in (plan, reach)]
    gap = (room.width - sum(widths)) / 3
    if gap < SIDE_GAP_MM or plan.scale != reach.scale:
        return None
    items, placements, left = list[Item](), list[Placement](), room.left
    for view, width in zip((plan, reach), widths, strict=True):
        here = Box(left + gap, room.bottom, left + gap + width, room.top)
        items += view_title(scene.layers, view, here.left, room.bottom - TITLE_MM)
        placements.append(_centred(view, here))
        left = here.right
    title = f"Plan, {REACH_TITLE[0].lower()}{REACH_TITLE[1:]}"
    keys = tuple(part.key for part in parts)
    return Page(1, title, tuple(items), tuple(placements), plan.scale, plan.scale_text, parts=keys)


def _title_width(view: View) -> float:
    return text_width_mm(view.title, VIEW_TITLE_MM, "bold")


def reach_pages(scene: Scene, parts: Sequence[Part], room: Box, tables: list[Table], beside: Box | None) -> list[Page]:
    """The plan of reach, with its legend and tables beside it where there is room; else the tables join the others."""
    first = parts[0]
    placement, base, free = _at_top(first.view, room)
    items, of_reach = list[Item](), reach_tables(scene)
    if beside is not None:
        key, end = reach_key(scene, beside)
        items += key
        placed = flow(of_reach, Box(beside.left, beside.bottom, beside.right, end - 4.0), scene.layers)
        if len(placed) == 1:
            items += placed[0].items
            of_reach = []
            free += placed[0].free
    tables[2:2] = of_reach
    if len(parts) == 1 and not first.lost:
        view = first.view
        items += view_title(scene.layers, view, room.left, base)
        return [Page(1, REACH_TITLE, tuple(items), (placement,), view.scale, view.scale_text, free, (first.key,))]
    return [part_page(scene, REACH_TITLE, part, room, [] if part.number > 1 else items) for part in parts]


def part_page(
    scene: Scene, title: str, part: Part, room: Box, beside: Sequence[Item] = (), at: Box | None = None
) -> Page:
    """A view in the middle of a room, or of a smaller one in it; a part of one with its match lines and a key plan."""
    view, base = part.view, room.bottom - TITLE_MM
    window, corner = at or room, Point(room.left, base)
    low = window.centre.minus(Point(view.box.width / view.scale / 2, view.box.height / view.scale / 2))
    below = low.y - TITLE_MM - BELOW_VIEW_MM
    if part.count == 1 and not part.lost and (at is None or at == room or below >= window.bottom):
        corner = Point(max(low.x, room.left), max(below, base))
    items = [*beside, *view_title(scene.layers, view, corner.x, corner.y, part.words)]
    if part.count > 1:
        window = window_of(part, part_room(Box(room.left, base, room.right, room.top)).centre)
    more, pointers = round_window(scene, part, window, Box(room.left, base, room.right, room.bottom))
    items += more
    placement = Placement(view.name, part.box.centre, window.centre, window)
    return Page(
        1, title + part.words.lower(), tuple(items), (placement,), view.scale, view.scale_text,
        parts=(part.key,), pointers=tuple(pointers),
    )  # fmt: skip


def isometric_page(scene: Scene, isometric: View, room: Box) -> Page:
    """The isometric on a sheet of its own; beside its title how it is to be read."""
    base = room.bottom - TITLE_MM
    items = view_title(scene.layers, isometric, room.left, base)
    title_mm = max(ISOMETRIC_TITLE_MM, text_width_mm(isometric.title, VIEW_TITLE_MM, "bold") + 5.0)
    beside = Box(room.left + title_mm, base, room.right, room.bottom)
    lines = wrapped(isometric_note(scene), beside.width, 2.5)
    pitch_mm = NEXT_LINE_MM * 0.75
    first = Point(beside.left, base + (len(lines) - 1) * pitch_mm)
    items += paragraph(scene.layers.note, first, lines, 2.5, pitch_mm)
    return Page(9, isometric.title.capitalize(), tuple(items), (_centred(isometric, room),), 1.0, isometric.scale_text)


def legend_and_notes(scene: Scene, views: Sequence[View], plan: Part, room: Box, side: Box) -> Noted | None:
    """Set the legend beside a plan, the notes below it, the last of them below the plan; None where they do not fit."""
    items, end = legend(scene, views, side)
    more, count = set_notes(scene, replace(side, top=end - 6.0))
    if count == len(notes(scene)):
        return Noted((*items, *more), _below(more, side), room)
    if plan.count > 1 or plan.lost:
        return None
    left = room.left + NOTES_FROM_MM
    below = in_columns(scene, count, room.right - left)
    top = room.bottom - TITLE_MM + below.height_mm
    if room.top - plan.view.box.height / plan.view.scale < top + FREE_GAP_MM:
        return None
    set_below = below.items(scene, Point(left, top))
    return Noted((*items, *more, *set_below), None, replace(room, bottom=top + FREE_GAP_MM))


def general_page(
    scene: Scene, views: Sequence[View], tables: list[Table], area: Box, front: Stack | None = None
) -> Page | None:
    """Legend and notes on a sheet of their own, where the paper is too narrow to set them beside the plan.

    None where tables of the front are asked for and find no room below one of them.
    """
    for share in LEGEND_SHARES:
        middle = area.left + share * area.width
        items, end = legend(scene, views, Box(area.left, area.bottom, middle - 5.0, area.top))
        if end >= area.bottom:
            break
    of_notes, columns = replace(area, left=middle), in_columns(scene, 0, area.right - middle)
    if columns.height_mm <= area.height:
        more = list(columns.items(scene, Point(middle, area.top)))
    else:
        more, count = set_notes(scene, of_notes)
        if front is None:
            tables.insert(0, notes_table(scene, count))
    items += more
    below = Box(area.left, area.bottom, middle - 5.0, end - 6.0), _below(more, of_notes)
    if front is None:
        return Page(0, GENERAL_TITLE, tuple(items), (), 1.0, NO_SCALE, below)
    found = [(room, width) for room in below if (width := front.width_in_room_mm(room)) is not None]
    if not found:
        return None
    chosen, width = found[0]
    items += front.set(Point(chosen.left, chosen.top), width, scene.layers)
    return Page(0, GENERAL_TITLE, tuple(items), (), 1.0, NO_SCALE, tuple(room for room in below if room != chosen))


def _below(noted: Sequence[Item], side: Box) -> Box:
    """What notes leave free below them."""
    return replace(side, top=min(item.at.y for item in noted if isinstance(item, Text)) - 6.0)


def _centred(view: View, room: Box) -> Placement:
    """Place a view in the middle of a room; its window reaches a little past what is drawn, not past the room."""
    at = room.centre
    wide, high = (size / view.scale / 2 + ROUND_VIEW_MM for size in (view.box.width, view.box.height))
    window = Box(
        max(room.left, at.x - wide),
        max(room.bottom, at.y - high),
        min(room.right, at.x + wide),
        min(room.top, at.y + high),
    )
    return Placement(view.name, view.box.centre, at, window)


def _at_top(view: View, room: Box) -> tuple[Placement, float, tuple[Box, ...]]:
    """Place a low view at the top of a room, its title below it; also return where that stands, and what is free.

    A view that leaves too little for a table stands in the middle, its title below the room.
    """
    low = room.top - view.box.height / view.scale
    base = low - TITLE_MM
    free = Box(room.left, room.bottom - TITLE_MM, room.right, base - FREE_GAP_MM)
    if free.height < LEAST_FREE_MM:
        return _centred(view, room), room.bottom - TITLE_MM, ()
    return _centred(view, Box(room.left, low, room.right, room.top)), base, (free,)


def view_title(layers: Layers, view: View, left: float, base: float, more: str = "") -> list[Item]:
    return [
        Text(layers.note, Point(left, base + 4.5), view.title + more, VIEW_TITLE_MM, weight="bold"),
        Text(
            layers.note,
            Point(left, base),
            f"Scale {view.scale_text}" if view.to_scale else view.scale_text.upper(),
            2.5,
        ),
    ]
