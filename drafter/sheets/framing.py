"""The studs of a wall, lightly behind everything else, their numbers, the boards between them; stands on the floor."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from drafter.drawing import Item, Line, Polyline, Text
from drafter.geometry import Box, Point
from drafter.sheets.item_boxes import text_box
from drafter.sheets.scene import Scene
from drafter.site.wall import Wall
from drafter.standards.components import component
from drafter.supports.boards import BOARD_TALL_M, BOARD_THICK_M
from drafter.supports.framing import STUD_WIDTH_M, openings_on, studs_on

JOIST_TALL_M = 0.15
"""As joists are drawn; their depth is not asked for."""

UNDER_UNIT_M, LEG_IN_M = 0.175, 0.04
"""The plate of a stand below the ports of its unit, and its legs from the unit's ends, as they are drawn."""

NUMBER_MM, NUMBER_OFF_MM = 2.5, 1.0
BESIDE_TEXT_MM = 0.4


def stud_lines(scene: Scene, wall: Wall, scale: int, over: Iterable[Item]) -> list[Item]:
    """Draw the middle of each stud from floor to ceiling, cut out at openings and where texts stand over it.

    Joists over a crossing are drawn as cut.
    """
    words = [text_box(item, scale).grown(BESIDE_TEXT_MM) for item in over if isinstance(item, Text)]
    found: list[Item] = []
    for stud in studs_on(scene.site, wall):
        if wall.is_crossing:
            left_m, right_m = (stud.at_m + side * STUD_WIDTH_M / 2 for side in (-1, 1))
            box = Box(
                left_m * 1000.0, wall.ceiling_m * 1000.0, right_m * 1000.0, (wall.ceiling_m + JOIST_TALL_M) * 1000.0
            )
            found.append(Polyline(scene.layers.stud, box.corners, True))
            continue
        x = stud.at_m * 1000.0
        texts = [(box.bottom * scale, box.top * scale) for box in words if box.left < x / scale < box.right]
        openings = [
            (opening.bottom_m * 1000.0, opening.height_m * 1000.0)
            for opening in openings_on(scene.site, wall)
            if opening.from_left_m < stud.at_m < opening.from_left_m + opening.width_m
        ]
        for low, high in _uncut(wall.ceiling_m * 1000.0, [*texts, *openings]):
            found.append(Line(scene.layers.stud, Point(x, low), Point(x, high)))
    return found


def stud_numbers(scene: Scene, wall: Wall, scale: int) -> Iterator[tuple[Text, ...]]:
    """Yield for each stud the places of its number: just above the floor, where no door is, and below the ceiling."""
    if wall.is_crossing:
        return
    doors = [opening for opening in openings_on(scene.site, wall) if opening.bottom_m <= 0.0]
    low, high = NUMBER_OFF_MM * scale, wall.ceiling_m * 1000.0 - NUMBER_OFF_MM * scale
    for stud in studs_on(scene.site, wall):
        x, layer = stud.at_m * 1000.0, scene.layers.text
        below = Text(layer, Point(x, high), f"{stud.stud}", NUMBER_MM, "top")
        if any(door.from_left_m < stud.at_m < door.from_left_m + door.width_m for door in doors):
            yield (below,)
        else:
            yield Text(layer, Point(x, low), f"{stud.stud}", NUMBER_MM, "bottom"), below


def board_outlines(scene: Scene, wall: Wall) -> list[Item]:
    """Draw the backing boards of a wall."""
    found: list[Item] = []
    for board in scene.design.boards:
        if (board.room, board.wall) == (wall.room, wall.name):
            left, right = board.from_left_m * 1000.0, (board.from_left_m + board.length_m) * 1000.0
            tall_m = BOARD_THICK_M if wall.is_crossing else BOARD_TALL_M
            low, high = ((board.height_m + side * tall_m / 2) * 1000.0 for side in (-1, 1))
            found.append(Polyline(scene.layers.board, Box(left, low, right, high).corners, True))
    return found


def on_board(scene: Scene, tag: str) -> tuple[str, ...]:
    """A board in words, with the height of its middle; nothing for an empty tag."""
    return (f"{tag}  {scene.units.length(scene.boards[tag].height_m)}",) if tag else ()


def _uncut(top: float, cuts: Iterable[tuple[float, float]]) -> Iterator[tuple[float, float]]:
    """Yield what is left of the height up to ``top`` between some cuts."""
    low = 0.0
    for bottom, over in sorted(cuts):
        if min(bottom, top) > low:
            yield low, min(bottom, top)
        low = max(low, over)
    if low < top:
        yield low, top


def stands(scene: Scene, wall: Wall) -> list[Item]:
    """Draw the plate and the legs of each stand that carries a heavy unit before a wall."""
    found: list[Item] = []
    for console in scene.design.consoles:
        if not console.on_floor or (console.room, console.wall) != (wall.room, wall.name):
            continue
        half_m = component(scene.layout.nodes[console.node].what).length_m / 2
        left, right = ((console.from_left_m + side * half_m) * 1000.0 for side in (-1, 1))
        top, leg = (console.at.z - UNDER_UNIT_M) * 1000.0, LEG_IN_M * 1000.0
        found.append(Line(scene.layers.equipment, Point(left, top), Point(right, top)))
        legs = (left + leg, right - leg)
        found += [Line(scene.layers.equipment, Point(x, 0.0), Point(x, top)) for x in legs]
    return found
