"""The studs of a wall, lightly behind everything else, their numbers, and the boards between them."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.drawing import Item, Line, Polyline, Text
from drafter.geometry import Box, Point
from drafter.sheets.scene import Scene
from drafter.site.wall import Wall
from drafter.supports.boards import BOARD_TALL_M
from drafter.supports.design import Bracket
from drafter.supports.framing import openings_on, studs_on

NUMBER_MM = 2.0
ABOVE_FLOOR_MM = 1.0


def stud_lines(scene: Scene, wall: Wall) -> list[Item]:
    """Draw the centre of each stud from floor to ceiling, cut out where there is an opening."""
    found: list[Item] = []
    for stud in studs_on(scene.site, wall):
        x = stud.at_m * 1000.0
        for low, high in _uncut(scene, wall, stud.at_m):
            found.append(Line(scene.layers.stud, Point(x, low * 1000.0), Point(x, high * 1000.0)))
    return found


def stud_numbers(scene: Scene, wall: Wall, scale: int) -> list[Item]:
    """Number the studs that stand on the floor, just above it."""
    y = ABOVE_FLOOR_MM * scale
    return [
        Text(scene.layers.stud, Point(stud.at_m * 1000.0, y), f"{stud.stud}", NUMBER_MM, "bottom")
        for stud in studs_on(scene.site, wall)
        if next(_uncut(scene, wall, stud.at_m), (1.0, 1.0))[0] == 0.0
    ]


def board_outlines(scene: Scene, wall: Wall) -> list[Item]:
    """Draw the backing boards of a wall."""
    found: list[Item] = []
    for board in scene.design.boards:
        if (board.room, board.wall) == (wall.room, wall.name):
            left, right = board.from_left_m * 1000.0, (board.from_left_m + board.length_m) * 1000.0
            low, high = ((board.height_m + side * BOARD_TALL_M / 2) * 1000.0 for side in (-1, 1))
            found.append(Polyline(scene.layers.board, Box(left, low, right, high).corners, True))
    return found


def called(bracket: Bracket) -> str:
    """A bracket's tag, with that of the board it is screwed to."""
    return f"{bracket.tag} {bracket.board}".strip()


def _uncut(scene: Scene, wall: Wall, from_left_m: float) -> Iterator[tuple[float, float]]:
    """Yield the pieces of a stud between floor, openings and ceiling."""
    low = 0.0
    for opening in sorted(openings_on(scene.site, wall), key=lambda opening: opening.bottom_m):
        if opening.from_left_m < from_left_m < opening.from_left_m + opening.width_m:
            if opening.bottom_m > low:
                yield low, opening.bottom_m
            low = max(low, opening.height_m)
    if low < wall.ceiling_m:
        yield low, wall.ceiling_m
