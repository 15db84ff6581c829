"""What every elevation writes beside its wall's openings, decks, and the things that stand before it."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.geometry import Box, Point
from drafter.sheets.placing import Label
from drafter.sheets.scene import Scene, blocks
from drafter.sheets.wall_face import deck_faces
from drafter.site.wall import Wall

TEXT_MM, OVER_DECK_MM = 2.0, 2.2


def wall_labels(scene: Scene, wall: Wall, scale: float) -> Iterator[Label]:
    """Yield what each opening is and measures, how high each deck lies, and what stands before the wall.

    And the tags of boards that carry outlets and units alone; those of brackets stand with these.
    """
    units, layers = scene.units, scene.layers
    for opening in scene.site.rooms[wall.room].openings:
        if scene.site.wall(wall.room, opening.wall) is wall:
            middle = Point(
                (opening.from_left_m + opening.width_m / 2) * 1000.0,
                (opening.bottom_m + opening.height_m) / 2 * 1000.0,
            )
            size = f"{units.length(opening.width_m)} x {units.length(opening.height_m - opening.bottom_m)}"
            lines = (opening.kind, size, f"from left {units.length(opening.from_left_m)}")
            yield Label(layers.text, layers.tag, middle, lines, TEXT_MM, tip="dot")
    for deck, face in deck_faces(scene.site, wall):
        over = Point(face.centre.x, face.top + OVER_DECK_MM * scale)
        yield Label(layers.text, layers.tag, over, (f"{deck.name}  {units.level(deck.top_m)}",), TEXT_MM)
    held = {bracket.board for bracket in scene.design.brackets}
    for board in scene.design.boards:
        if (board.room, board.wall) == (wall.room, wall.name) and board.tag not in held:
            at = Point((board.from_left_m + board.length_m) * 1000.0, board.height_m * 1000.0)
            yield Label(layers.text, layers.tag, at, (board.tag,), TEXT_MM)
    for block in blocks(scene.site, wall.room):
        if block.wall is wall:
            yield Label(layers.text, layers.tag, Box.around(block.face).centre, block.words, TEXT_MM, tip="dot")
