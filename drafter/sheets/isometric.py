"""The isometric: the whole piping in one picture, not to scale, every length, level, size and tag written."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import product

from drafter.drawing import Area, Item, View
from drafter.geometry import Box, Point
from drafter.layout.graph import Node
from drafter.sheets.isometric_crossings import Crossings, crossings_of
from drafter.sheets.isometric_labels import FULLEST_FIRST, IsometricLabels, Lettering
from drafter.sheets.isometric_lines import IsometricLines, space_lines
from drafter.sheets.isometric_names import names
from drafter.sheets.isometric_north import datum_corner, north_arrow
from drafter.sheets.isometric_parts import Part, continued, split, whole
from drafter.sheets.isometric_plant import compressor_set
from drafter.sheets.isometric_rooms import room_outlines
from drafter.sheets.isometric_signs import SignsAmongLines
from drafter.sheets.isometric_space import TURNS, IsometricSpace, IsometricSpacing, Shape
from drafter.sheets.item_boxes import box_of_view
from drafter.sheets.placing import Ground
from drafter.sheets.scene import Scene

NAME, TITLE = "isometric", "ISOMETRIC"
NOT_TO_SCALE = "not to scale"
BESIDE_MM, ABOVE_MM = 14.0, 7.0
"""Kept free for labels on either side, and above and below."""

SMALLER = 12.0
"""What it counts to leave the room unfilled, in crossings."""

MISTAKEN = 3.0
"""What a sign on another line counts, in crossings."""

FILLS = (1.0, 0.94)
"""Shares of the room that are tried for fewer lines over each other."""

UPRIGHTS, POWERS = (0.3, 0.36), (0.6, 0.45)
"""Shares of the height for uprights, and ways to shorten, that are tried likewise."""

SQUARE_MM = 1.5

TIGHTNESS = (1.0, 0.92, 0.84, 0.76, 0.68, 0.6, 0.52)
"""Shares of the least distances that are tried where all of them do not fit."""

LEAST_OF_AN_OUTLET_MM2 = 3300.0
"""Room that the drop of an outlet takes with all that is written on it, at the very least."""

MORE_PARTS, HOPELESS = 8, 3
"""How many more parts are tried than the least; with more labels without a place a look is given up."""

LOOKS = 4
"""How many ways of looking are lettered, the best first, until one has room for every label."""


@dataclass(frozen=True, slots=True)
class _Look:
    """A space seen from one corner, with the crossings it has."""

    space: IsometricSpace
    crossings: Crossings


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
    goes_on, looks = list(continued(parts, part)), _best_looks(scene, part, room)
    best: tuple[int, list[Item], list[str]] | None = None
    for lettering, look in _attempts(looks):
        drawn = replace(look, space=replace(look.space, scale=scale))
        items, homeless = _drawn(scene, part, goes_on, drawn, lettering)
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


def _attempts(looks: list[_Look]) -> Iterator[tuple[Lettering, _Look]]:
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
    scene: Scene, part: Part, goes_on: list[tuple[Node, int]], look: _Look, lettering: Lettering
) -> tuple[list[Item], list[str]]:
    space = look.space
    ground = Ground(space.scale)
    lines = IsometricLines(scene, part, space, look.crossings.gaps)
    plant = compressor_set(scene, space) if part.tank else None
    hidden = [plant.area] if plant else []
    items = [*room_outlines(scene, part.rooms, space, hidden), *(plant.items if plant else ()), *lines.items()]
    items += datum_corner(scene, space) if part.number == 1 else []
    ground.enter(items, scene.symbols)
    for area in (item for item in items if isinstance(item, Area)):
        ground.take(ground.around(area.boundary))
    for outline in hidden:
        _keep_off(ground, outline)
    labels = IsometricLabels(lines, ground, lettering)
    items += labels.written(plant.label_at if plant else None, goes_on)
    items += names(lines, ground)
    items += north_arrow(scene, space, ground, box_of_view(items, space.scale, scene.symbols))
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


def _best_looks(scene: Scene, part: Part, room: Box) -> list[_Look]:
    """The ways of looking with the fewest lines over each other; of equal ones the first and largest."""
    spacing, signs = IsometricSpacing(scene, part), SignsAmongLines(scene.layout, part)
    within = Box(room.left + BESIDE_MM, room.bottom + ABOVE_MM, room.right - BESIDE_MM, room.top - ABOVE_MM)
    looks = [_Look(space, crossings_of(space, space_lines(scene, part, space))) for space in _spaces(spacing, within)]

    def cost(look: _Look) -> float:
        mistaken = MISTAKEN * signs.mistaken(look.space)
        return look.crossings.badness + mistaken + SMALLER * _unfilled(spacing.box(look.space), within)

    return sorted(looks, key=cost)[:LOOKS]


def _unfilled(box: Box, room: Box) -> float:
    """Share of a room that a drawing leaves unfilled the way it is nearer to filling it."""
    return max(0.0, 1.0 - max(box.width / room.width, box.height / room.height))


def _spaces(spacing: IsometricSpacing, room: Box) -> Iterator[IsometricSpace]:
    """Spaces that fit, none tighter than needed; the tightest where none does."""
    for tightness in TIGHTNESS:
        found = False
        for turn, uprights, power, fill in product(TURNS, UPRIGHTS, POWERS, FILLS):
            shape = Shape(turn, uprights, power, tightness)
            space = spacing.fitted(room.width * fill, room.height * fill, shape)
            box = spacing.box(space)
            if box.width <= room.width + 0.1 and box.height <= room.height + 0.1:
                found = True
                yield space
        if found:
            return
    for turn in TURNS:
        yield spacing.fitted(room.width, room.height, Shape(turn, UPRIGHTS[0], POWERS[0], TIGHTNESS[-1]))
