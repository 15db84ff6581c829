"""Which way the isometric is turned: the datum corner on the floor, and an arrow to plan north laid on it."""

from __future__ import annotations

from drafter.drawing import Item, Text
from drafter.geometry import Box, Point, Point3
from drafter.sheets.isometric_space import IsometricSpace
from drafter.sheets.placing import Ground
from drafter.sheets.scene import Scene
from drafter.sheets.skewed_symbols import plane, skewed

HALF_WIDTH_MM, HALF_HEIGHT_MM = 14.0, 12.0
WORDS = "plan north"
ARROW_SCALE, DATUM_SCALE = 0.9, 0.9


def datum_corner(scene: Scene, space: IsometricSpace) -> list[Item]:
    """Draw the sign of the datum corner flat on the floor there."""
    east, north = (space.way(toward) for toward in (Point(1.0, 0.0), Point(0.0, 1.0)))
    floor = plane(space.at(Point3(0.0, 0.0, 0.0)), east, north, DATUM_SCALE * space.scale)
    return list(skewed(scene.symbols["datum"], scene.layers.sign, floor))


def north_arrow(scene: Scene, space: IsometricSpace, ground: Ground, whole: Box) -> list[Item]:
    """Draw the arrow in a free corner of the view, where walls are named by the side they are on.

    Args:
        whole: what the view takes up otherwise.
    """
    if not any(room.size_m for room in scene.site.rooms.values()):
        return []
    step = space.scale
    box = Box(*(side / step for side in (whole.left, whole.bottom, whole.right, whole.top)))
    low = Point(box.left + HALF_WIDTH_MM, box.bottom + HALF_HEIGHT_MM)
    high = Point(box.right - HALF_WIDTH_MM, box.top - HALF_HEIGHT_MM)
    for share in (0.0, 0.1, 0.2, 0.3):
        dx, dy = (high.x - low.x) * share, (high.y - low.y) * share
        for at in (
            Point(low.x + dx, high.y - dy), Point(high.x - dx, high.y - dy),
            Point(high.x - dx, low.y + dy), Point(low.x + dx, low.y + dy),
        ):  # fmt: skip
            room = Box(at.x - HALF_WIDTH_MM, at.y - HALF_HEIGHT_MM, at.x + HALF_WIDTH_MM, at.y + HALF_HEIGHT_MM)
            if ground.free(room):
                ground.take(room, words=True)
                return _arrow(scene, space, Point(at.x * step, at.y * step))
    return []


def _arrow(scene: Scene, space: IsometricSpace, at: Point) -> list[Item]:
    step = space.scale
    east, north = (space.way(toward) for toward in (Point(1.0, 0.0), Point(0.0, 1.0)))
    ways = plane(at.plus(Point(0.0, 3.0 * step)), east, north, ARROW_SCALE * step)
    below = at.plus(Point(0.0, -(HALF_HEIGHT_MM - 1.0) * step))
    shapes = skewed(scene.symbols["north_arrow"], scene.layers.sign, ways)
    return [
        *(each for each in shapes if not isinstance(each, Text)),
        Text(scene.layers.text, below, WORDS, 2.5, "bottom"),
    ]
