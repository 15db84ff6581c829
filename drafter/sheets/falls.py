"""Size and fall written along a pipe, with a wedge that thins out the way the pipe falls."""

from __future__ import annotations

from drafter.drawing import Item, Text
from drafter.geometry import Box, Point
from drafter.layout.graph import Run
from drafter.lettering import text_width_mm
from drafter.sheets.placing import Ground
from drafter.sheets.scene import Scene

WEDGE_MM = 4.5


def fall_text(scene: Scene, run: Run) -> str:
    """What is written along a piece of main: its size and its fall."""
    size = scene.size_of(run)
    fall = round(abs(scene.layout.fall(run)), 9)
    return f"{size}  fall {scene.units.slope(fall)}" if fall else f"{size}  level"


def way_of_fall(scene: Scene, run: Run, flow: Point) -> Point:
    """Return the direction a run falls in, from that of the flow."""
    return Point(-flow.x, -flow.y) if scene.layout.fall(run) < 0.0 else flow


def set_fall(scene: Scene, ground: Ground, items: list[Item], at: Point, way: Point, clear: Point, text: str) -> bool:
    """Write the text beside a pipe if there is room; return whether there was.

    Args:
        items: gets the text and the wedge.
        at: middle of the writing, in the view.
        way: direction that it falls in.
        clear: unit vector away from the pipe, into free ground.
    """
    scale = ground.scale
    wedge = WEDGE_MM if scene.site.main.fall else 0.0
    length = text_width_mm(text, 2.5) + wedge
    upright = abs(way.y) > abs(way.x)
    angle, along = (90.0, Point(0.0, 1.0)) if upright else (0.0, Point(1.0, 0.0))
    base = at.plus(clear, 0.6 * scale)
    first, last = base.plus(along, -length / 2 * scale), base.plus(along, length / 2 * scale)
    room = Box.around([ground.paper(first), ground.paper(last)]).grown(1.5)
    if not ground.free(room):
        return False
    ground.take(room, words=True)
    text_at = first.plus(along, wedge * scale).plus(along.left, -1.25 * scale)
    items.append(Text(scene.layers.text, text_at, text, 2.5, angle_deg=angle))
    if wedge:
        at_wedge = first.plus(along, 2.0 * scale)
        items.append(scene.insert(scene.layers.sign, "slope", at_wedge, angle, 0.7, mirrored=way.dot(along) < 0))
    return True
