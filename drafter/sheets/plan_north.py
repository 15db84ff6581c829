"""Which way the plan is turned: an arrow to the north of the site file, in a corner or where a room is free."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

from drafter.drawing import Item, Text
from drafter.geometry import Box, Point, encloses
from drafter.sheets.isometric_north import WORDS
from drafter.sheets.placing import Ground
from drafter.sheets.scene import Scene

WIDTH_MM, HEIGHT_MM = 17.0, 16.0
ARROW_SCALE, WORDS_MM = 0.65, 2.0
STEPS = 12
"""How finely room within walls is looked for, on its longer and shorter side."""


def plan_north(scene: Scene, ground: Ground, whole: Box, floors: Sequence[Sequence[Point]]) -> list[Item]:
    """Draw the arrow; nothing where neither a corner of the view nor the floor of a room has place for it.

    Args:
        ground: what is taken, labels too.
        whole: what the view takes up.
        floors: corners of each room in the view.
    """
    low, high = ground.paper(Point(whole.left, whole.bottom)), ground.paper(Point(whole.right, whole.top))
    for at in (*_corners(Box(low.x, low.y, high.x, high.y)), *_on_floors(ground, floors)):
        room = Box(at.x - WIDTH_MM / 2, at.y - HEIGHT_MM / 2, at.x + WIDTH_MM / 2, at.y + HEIGHT_MM / 2)
        if ground.free(room):
            ground.take(room, words=True)
            return _arrow(scene, Point(at.x * ground.scale, at.y * ground.scale), ground.scale)
    return []


def _corners(whole: Box) -> Iterator[Point]:
    left, right = whole.left + WIDTH_MM / 2, whole.right - WIDTH_MM / 2
    bottom, top = whole.bottom + HEIGHT_MM / 2, whole.top - HEIGHT_MM / 2
    for y, x in product((top, bottom), (left, right)):
        yield Point(x, y)


def _on_floors(ground: Ground, floors: Sequence[Sequence[Point]]) -> Iterator[Point]:
    for floor in floors:
        corners = [ground.paper(corner) for corner in floor]
        bounds = Box.around(corners)
        for i, j in product(range(1, STEPS), repeat=2):
            x, y = bounds.left + bounds.width * i / STEPS, bounds.top - bounds.height * j / STEPS
            here = Box(x - WIDTH_MM / 2, y - HEIGHT_MM / 2, x + WIDTH_MM / 2, y + HEIGHT_MM / 2)
            if all(encloses(corners, corner) for corner in here.corners):
                yield Point(x, y)


def _arrow(scene: Scene, at: Point, scale: float) -> list[Item]:
    arrow = at.plus(Point(0.0, 1.6 * scale))
    words = at.plus(Point(0.0, (0.6 - HEIGHT_MM / 2) * scale))
    return [
        scene.insert(scene.layers.sign, "north_arrow", arrow, scale=ARROW_SCALE),
        Text(scene.layers.text, words, WORDS, WORDS_MM, "bottom"),
    ]
