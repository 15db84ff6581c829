"""What every elevation writes beside its wall's openings, decks, and the things that stand before it."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.geometry import Box, Point
from drafter.sheets.placing import Label
from drafter.sheets.scene import Scene, blocks
from drafter.sheets.wall_face import deck_faces, fronts_shown
from drafter.site.wall import Wall
from drafter.supports.framing import AGAINST_M

TEXT_MM, OVER_DECK_MM, BELOW_CEILING_MM = 2.5, 2.7, 8.0


def wall_labels(scene: Scene, wall: Wall, scale: float) -> Iterator[Label]:
    """Yield what each opening is and measures, how high each deck lies, and what stands before the wall."""
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
    for front in fronts_shown(scene.site, wall):
        off = (f"{units.length_with_unit(front.back_m)} off the wall",) if front.back_m > AGAINST_M else ()
        high = Point((front.low_m + front.high_m) * 500.0, wall.ceiling_m * 1000.0 - BELOW_CEILING_MM * scale)
        yield Label(layers.text, layers.tag, high, ("column", *off), TEXT_MM, tip="dot")
    for block in blocks(scene.site, wall.room):
        if block.wall is wall:
            yield Label(layers.text, layers.tag, Box.around(block.face).centre, block.words, TEXT_MM, tip="dot")
