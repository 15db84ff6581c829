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
from drafter.sheets.reach_plan import reach_key, reach_tables
from drafter.sheets.scene import Scene
from drafter.sheets.schedules import notes_table
from drafter.sheets.tables import Table, flow

REACH_TITLE = "Reach of the hoses"
TITLE_MM = 12.0
VIEW_TITLE_MM = 4.5
NEXT_LINE_MM = 5.0
ISOMETRIC_TITLE_MM = 45.0


@dataclass(frozen=True)
class Page:
    """A sheet before it has its number: what kind it is, its title, and what stands on it."""

    series: int
    title: str
    items: tuple[Item, ...]
    placements: tuple[Placement, ...]
    scale: float
    scale_text: str


def plan_page(scene: Scene, plan: View, room: Box, beside: list[Item]) -> Page:
    title = view_title(scene.layers, plan, room.left, room.bottom - TITLE_MM)
    return Page(1, "Plan", (*beside, *title), (_centred(plan, room),), plan.scale, plan.scale_text)


def reach_page(scene: Scene, reach: View, room: Box, tables: list[Table], beside: Box | None) -> Page:
    """The plan of reach, with its legend and tables beside it where there is room; else the tables join the others."""
    items, of_reach = view_title(scene.layers, reach, room.left, room.bottom - TITLE_MM), reach_tables(scene)
    if beside is not None:
        key, end = reach_key(scene, beside)
        items += key
        placed = flow(of_reach, Box(beside.left, beside.bottom, beside.right, end - 4.0), scene.layers)
        if len(placed) == 1:
            items += placed[0].items
            of_reach = []
    tables[2:2] = of_reach
    return Page(1, REACH_TITLE, tuple(items), (_centred(reach, room),), reach.scale, reach.scale_text)


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


def view_title(layers: Layers, view: View, left: float, base: float) -> list[Item]:
    return [
        Text(layers.note, Point(left, base + 4.5), view.title, VIEW_TITLE_MM, weight="bold"),
        Text(
            layers.note,
            Point(left, base),
            f"Scale {view.scale_text}" if view.to_scale else view.scale_text.upper(),
            2.5,
        ),
    ]
