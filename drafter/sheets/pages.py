"""The pages of a set with their views, before they have numbers: plan, reach, isometric, legend and notes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drafter.drawing import Item, Placement, Text, View
from drafter.geometry import Box, Point
from drafter.lettering import wrapped
from drafter.sheets.isometric import isometric_note
from drafter.sheets.layers import Layers
from drafter.sheets.legend import legend
from drafter.sheets.notes import notes, set_notes
from drafter.sheets.part_pages import (
    KEY_HIGH_MM,
    KEY_WIDE_MM,
    VIEW_WORDS_MM,
    Pointer,
    key_plan,
    lost_note,
    match_lines,
    part_room,
    window_of,
)
from drafter.sheets.reach_plan import reach_key, reach_tables
from drafter.sheets.scene import Scene
from drafter.sheets.schedules import notes_table
from drafter.sheets.tables import Table, flow
from drafter.sheets.view_parts import Part

REACH_TITLE = "Reach of the hoses"
TITLE_MM = 12.0
VIEW_TITLE_MM = 4.5
NEXT_LINE_MM = 5.0
ISOMETRIC_TITLE_MM = 45.0


@dataclass(frozen=True)
class Page:
    """A sheet before it has its number: what kind it is, its title, and what stands on it.

    Attributes:
        parts: names of the parts of views that it shows.
        pointers: texts that name the sheets of other parts.
    """

    series: int
    title: str
    items: tuple[Item, ...]
    placements: tuple[Placement, ...]
    scale: float
    scale_text: str
    parts: tuple[str, ...] = ()
    pointers: tuple[Pointer, ...] = ()


def plan_pages(scene: Scene, parts: Sequence[Part], room: Box, beside: list[Item]) -> list[Page]:
    """The plan, on as many sheets as it has parts; what stands beside it on the first."""
    return [part_page(scene, "Plan", part, room, [] if part.number > 1 else beside) for part in parts]


def reach_pages(scene: Scene, parts: Sequence[Part], room: Box, tables: list[Table], beside: Box | None) -> list[Page]:
    """The plan of reach, with its legend and tables beside it where there is room; else the tables join the others."""
    items, of_reach = list[Item](), reach_tables(scene)
    if beside is not None:
        key, end = reach_key(scene, beside)
        items += key
        placed = flow(of_reach, Box(beside.left, beside.bottom, beside.right, end - 4.0), scene.layers)
        if len(placed) == 1:
            items += placed[0].items
            of_reach = []
    tables[2:2] = of_reach
    return [part_page(scene, REACH_TITLE, part, room, [] if part.number > 1 else items) for part in parts]


def part_page(scene: Scene, title: str, part: Part, room: Box, beside: list[Item]) -> Page:
    """A view in the middle of a room; a part of one with its match lines and a key plan."""
    view, base = part.view, room.bottom - TITLE_MM
    items = [*beside, *view_title(scene.layers, view, room.left, base, part.words)]
    window, pointers = room, list[Pointer]()
    words = Box(room.left + VIEW_WORDS_MM, base, room.right, room.bottom)
    if part.count > 1:
        window = window_of(part, part_room(Box(room.left, base, room.right, room.top)).centre)
        lines, pointers = match_lines(scene, part, window)
        items += [*lines, *key_plan(scene, part, room.right, base)]
        words = Box(words.left, base, room.right - KEY_WIDE_MM - 4.0, base + KEY_HIGH_MM)
    items += lost_note(scene, part.lost, words)
    placement = Placement(view.name, part.box.centre, window.centre, window)
    return Page(
        1, title + part.words.lower(), tuple(items), (placement,), view.scale, view.scale_text, (part.key,),
        tuple(pointers),
    )  # fmt: skip


def isometric_page(scene: Scene, isometric: View, room: Box) -> Page:
    """The isometric on a sheet of its own; beside its title how it is to be read."""
    base = room.bottom - TITLE_MM
    items = view_title(scene.layers, isometric, room.left, base)
    beside = Box(room.left + ISOMETRIC_TITLE_MM, base, room.right, room.bottom)
    lines = wrapped(isometric_note(scene), beside.width, 2.5)
    for number, line in enumerate(reversed(lines)):
        items.append(Text(scene.layers.note, Point(beside.left, base + number * NEXT_LINE_MM * 0.75), line, 2.5))
    return Page(9, isometric.title.capitalize(), tuple(items), (_centred(isometric, room),), 1.0, isometric.scale_text)


def legend_and_notes(scene: Scene, views: Sequence[View], tables: list[Table], side: Box) -> list[Item]:
    """Set the legend, and below it the notes; those that find no room go to the front of ``tables``."""
    items, end = legend(scene, views, side)
    more, count = set_notes(scene, Box(side.left, side.bottom + NEXT_LINE_MM, side.right, end - 6.0))
    if count == len(notes(scene)):
        return [*items, *more]
    tables.insert(0, notes_table(scene, count))
    pointer = Text(scene.layers.note, Point(side.left, side.bottom), "More notes: see the schedules.", 2.5)
    return [*items, *more, pointer]


def general_page(scene: Scene, views: Sequence[View], tables: list[Table], area: Box) -> Page:
    """Legend and notes on a sheet of their own, where the paper is too narrow to set them beside the plan."""
    middle = area.left + 0.4 * area.width
    items, _ = legend(scene, views, Box(area.left, area.bottom, middle - 5.0, area.top))
    more, count = set_notes(scene, Box(middle, area.bottom, area.right, area.top))
    if count < len(notes(scene)):
        tables.insert(0, notes_table(scene, count))
    return Page(0, "Legend and notes", (*items, *more), (), 1.0, "not to scale")


def _centred(view: View, room: Box) -> Placement:
    """Place a view in the middle of a room, which is also its window."""
    return Placement(view.name, view.box.centre, room.centre, room)


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
