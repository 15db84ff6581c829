"""Plan, plan of reach and elevations at their scales: none smaller than can be read, in parts where too large."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache, partial

from drafter.drawing import View
from drafter.geometry import Box
from drafter.sheets.choosing_scale import Draw, Sheets, shown, shown_whole
from drafter.sheets.cuts import Cuts
from drafter.sheets.elevation import IN_COLUMNS, MANNERS, Manner, elevation_view
from drafter.sheets.pages import TITLE_MM
from drafter.sheets.paper import scales
from drafter.sheets.part_pages import MATCH_MM, part_room
from drafter.sheets.plan import plan_view
from drafter.sheets.reach_plan import reach_view
from drafter.sheets.scene import Scene
from drafter.sheets.view_parts import Part
from drafter.site.wall import Wall

SMALLEST_PLAN, SMALLEST_ELEVATION = 200, 100
"""The smallest scales that are used, 1:200 and 1:100 (1/16 and 1/8 inch to the foot): common practice."""

WORKING_ELEVATION = 50
"""The scale of elevations that brackets are set out from, 1:50 and 1/4 inch to the foot; smaller where it must be."""

LEAST_WIDE_MM, HIGHEST_SHARE = 70.0, 0.4
"""Walls that are drawn narrower at the plan's scale take a larger one, where their height leaves room for the rest."""


def plan_drawn_for(scene: Scene) -> Callable[[Box], tuple[Part, ...]]:
    """Return what draws the plan to fit a room on paper; for several rooms each scale is drawn once."""
    return partial(_of_rooms, scene, cache(partial(plan_view, scene)))


def reach_parts(scene: Scene, room: Box) -> tuple[Part, ...]:
    return _of_rooms(scene, partial(reach_view, scene), room)


def working_scale(scene: Scene, plan_scale: float) -> int:
    """The scale that elevations have where they can: the plan's, or the working scale where that is larger."""
    return max(n for n in scales(scene.site.imperial) if n <= min(plan_scale, WORKING_ELEVATION))


def elevation_parts(scene: Scene, walls: Sequence[Wall], room: Box, working: int) -> list[tuple[Part, ...]]:
    """Draw each wall, where it can be at the working scale; each in one part or more."""
    allowed = [n for n in scales(scene.site.imperial) if n <= SMALLEST_ELEVATION]
    larger = [n for n in reversed(allowed) if n <= working]
    within = part_room(Box(room.left, room.bottom - TITLE_MM, room.right, room.top))
    within = Box(within.left, within.bottom - MATCH_MM, within.right, room.top)
    found, taken = [], set[str]()
    for wall in walls:
        size_m = (wall.length_m, wall.ceiling_m)
        first = [n for n in larger if _is_large_enough(size_m, n, room)] or larger
        order = list(dict.fromkeys([*first[:2], *larger[:2], *(n for n in allowed if n > working), *larger[2:]]))
        sheets = Sheets(room, within, order, allowed[::-1], scene.site.imperial)
        parts = _elevation(scene, wall, size_m, sheets, working)
        found.append(_named_apart(parts, taken))
    return found


def _elevation(
    scene: Scene, wall: Wall, size_m: tuple[float, float], sheets: Sheets, working: int
) -> tuple[Part, ...]:  # fmt: skip
    """Draw a wall whole at the working scale or a larger one with its labels in columns, else in any manner."""
    drawn = cache(partial(elevation_view, scene, wall))

    def clearest(manners: Sequence[Manner], scale: int, text: str, cuts: Cuts) -> tuple[View, list[str]]:
        best = drawn(manners[0], scale, text, cuts)
        for manner in manners[1:]:
            if not best[1]:
                break
            best = min(best, drawn(manner, scale, text, cuts), key=lambda each: len(each[1]))
        return best

    large = replace(sheets, order=[n for n in sheets.order if n <= working])
    whole = shown_whole(partial(clearest, IN_COLUMNS), size_m, large)
    return (whole,) if whole else shown(partial(clearest, MANNERS), size_m, sheets, scene.symbols)


def _is_large_enough(size_m: tuple[float, float], scale: int, room: Box) -> bool:
    """Whether a wall is drawn wide enough for what stands on it to be told apart, and still low enough for a sheet."""
    wide_mm, high_mm = (size * 1000.0 / scale for size in size_m)
    return wide_mm >= LEAST_WIDE_MM and high_mm <= HIGHEST_SHARE * room.height


def _of_rooms(scene: Scene, draw: Draw, room: Box) -> tuple[Part, ...]:
    """Draw a plan of all rooms."""
    allowed = [n for n in scales(scene.site.imperial) if n <= SMALLEST_PLAN]
    box = Box.around([wall.left for walls in scene.site.walls.values() for wall in walls])
    within = part_room(Box(room.left, room.bottom - TITLE_MM, room.right, room.top))
    sheets = Sheets(room, within, allowed, allowed[::-1], scene.site.imperial)
    return shown(draw, (box.width, box.height), sheets, scene.symbols)


def _named_apart(parts: tuple[Part, ...], taken: set[str]) -> tuple[Part, ...]:
    """Number a view whose name is that of another, as of rooms that differ in letters with accents only."""
    view, count = parts[0].view, 1
    name = view.name
    while name in taken:
        count += 1
        name = f"{view.name}-{count}"
    taken.add(name)
    view = replace(view, name=name)
    return tuple(replace(part, view=view) for part in parts)
