"""The isometric: the whole piping in one picture, not to scale, every length, level, size and tag written."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product

from drafter.drawing import Area, Item, View
from drafter.geometry import Box, Point
from drafter.layout.graph import Node
from drafter.sheets.isometric_crossings import gaps_of
from drafter.sheets.isometric_labels import FULLEST_FIRST, IsometricLabels, Lettering
from drafter.sheets.isometric_lines import IsometricLines, space_lines
from drafter.sheets.isometric_looks import best_looks
from drafter.sheets.isometric_names import names
from drafter.sheets.isometric_north import datum_corner, north_arrow
from drafter.sheets.isometric_parts import Part, continued, split, whole
from drafter.sheets.isometric_plant import compressor_set
from drafter.sheets.isometric_rooms import room_outlines
from drafter.sheets.isometric_space import IsometricSpace
from drafter.sheets.item_boxes import box_of_view
from drafter.sheets.placing import Ground
from drafter.sheets.revision_marks import marks_of_tags
from drafter.sheets.scene import Scene

NAME, TITLE = "isometric", "ISOMETRIC"
NOT_TO_SCALE = "not to scale"
SQUARE_MM = 1.5

LEAST_OF_AN_OUTLET_MM2 = 3300.0
"""Room that the drop of an outlet takes with all that is written on it, at the very least."""

MORE_PARTS, HOPELESS = 8, 3
"""How many more parts are tried than the least; with more labels without a place a look is given up."""


def isometric_views(scene: Scene, room: Box, scale: float) -> list[View]:
    """Draw the isometric to fill a room on paper; in parts, each in a view of its own, where it is too full for one.

    Args:
        room: what it may take with all its labels [mm on paper].
        scale: of the views: how much larger than on paper they stand in a model, which has others at true size.
    """
    best: tuple[int, list[View]] | None = None
    least = 1 + int(len(scene.layout.couplings) * LEAST_OF_AN_OUTLET_MM2 / (room.width * room.height))
    most = least + MORE_PARTS
    for count in range(least, most + 1):
        parts = split(scene.layout, count) if count > 1 else [whole(scene.layout)]
        drawn: list[tuple[View, list[str]]] = []
        for part in parts:
            drawn.append(_view(scene, parts, part, room, scale))
            if drawn[-1][1] and 1 < count < most:
                break
        missed = sum(len(homeless) for _, homeless in drawn)
        if len(drawn) == len(parts) and (best is None or missed < best[0]):
            best = missed, [view for view, _ in drawn]
        if not missed:
            break
    assert best is not None
    return best[1]


def _view(scene: Scene, parts: list[Part], part: Part, room: Box, scale: float) -> tuple[View, list[str]]:
    """Draw a part; also return the labels that found no place."""
    goes_on, looks = list(continued(parts, part)), best_looks(scene, part, room)
    best: tuple[int, list[Item], list[str]] | None = None
    for lettering, look in _attempts(looks):
        items, homeless = _drawn(scene, part, goes_on, replace(look, scale=scale), lettering)
        box = box_of_view(items, scale, scene.symbols)
        if max(box.width / room.width, box.height / room.height) > scale:
            homeless.append("what reaches past the sheet")
        if best is None or len(homeless) < best[0]:
            best = len(homeless), items, homeless
        if not homeless or (lettering is FULLEST_FIRST[-1] and len(homeless) > HOPELESS):
            break
    assert best is not None
    _, items, homeless = best
    several = part.count > 1
    name, title = (f"isometric-{part.number}", f"{TITLE} {part.number} OF {part.count}") if several else (NAME, TITLE)
    box = box_of_view(items, scale, scene.symbols)
    return View(name, title, scale, NOT_TO_SCALE, tuple(items), box, to_scale=False), homeless


def _attempts(looks: list[IsometricSpace]) -> Iterator[tuple[Lettering, IsometricSpace]]:
    """What is tried: everything written on the best look; the least, to see whether there is hope; then all others."""
    first = [(FULLEST_FIRST[0], looks[0]), (FULLEST_FIRST[-1], looks[0])]
    yield from first
    yield from (each for each in product(FULLEST_FIRST, looks) if each not in first)


def isometric_note(scene: Scene) -> str:
    """Return how the isometric is to be read, in sentences."""
    unit = "feet and inches" if scene.site.imperial else "mm"
    drops = " Beside a drop stands its length from the top of the swan neck to the outlet's tee."
    return (
        f"Written lengths are true, in {unit}, from centre to centre; drawn ones are not: measure nothing here. Levels "
        "are those of pipe centres above floor. The main is drawn without its fall: the wedge thins out the way it "
        f"falls.{drops} A line that is broken passes behind. pc 7 is piece 7 of the cutting list."
    )


def _drawn(
    scene: Scene, part: Part, goes_on: list[tuple[Node, int]], space: IsometricSpace, lettering: Lettering
) -> tuple[list[Item], list[str]]:
    ground = Ground(space.scale)
    lines = IsometricLines(scene, part, space, gaps_of(space, space_lines(scene, part, space)))
    plant = compressor_set(scene, space) if part.tank else None
    hidden = [plant.area] if plant else []
    items = [*room_outlines(scene, part.rooms, space, hidden), *(plant.items if plant else ()), *lines.items()]
    items += datum_corner(scene, space) if part.number == 1 else []
    ground.enter(items, scene.symbols)
    for area in (item for item in items if isinstance(item, Area)):
        ground.take(ground.around(area.boundary))
    for sign in lines.sign_rooms():
        ground.mark(sign)
    for outline in hidden:
        _keep_off(ground, outline)
    labels = IsometricLabels(lines, ground, lettering)
    items += labels.written(plant.label_at if plant else None, goes_on)
    items += names(lines, ground)
    items += north_arrow(scene, space, ground, box_of_view(items, space.scale, scene.symbols))
    items += marks_of_tags(scene, ground, items)
    return items, ground.homeless


def _keep_off(ground: Ground, area: tuple[Point, ...]) -> None:
    """Take an area of the view, in small squares."""
    from shapely import Polygon, box

    shape = Polygon([ground.paper(corner) for corner in area])
    left, bottom, right, top = shape.bounds
    for i, j in product(range(int((right - left) // SQUARE_MM) + 1), range(int((top - bottom) // SQUARE_MM) + 1)):
        x, y = left + i * SQUARE_MM, bottom + j * SQUARE_MM
        if shape.intersects(box(x, y, x + SQUARE_MM, y + SQUARE_MM)):
            ground.take(Box(x, y, x + SQUARE_MM, y + SQUARE_MM))
