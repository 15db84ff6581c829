"""Marks of what the latest revision changed: its letter in a triangle beside each tag, wall or room it concerns."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from drafter.drawing import Insert, Item, Leader, Placement, Text, View
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm
from drafter.sheets.item_boxes import line_boxes, text_box
from drafter.sheets.label_places import leader_to
from drafter.sheets.layers import Layers
from drafter.sheets.placing import Ground
from drafter.sheets.scene import Scene, mm
from drafter.site.wall import Wall

SYMBOL_NAME = "revision_mark"
LETTER_MM, SCALE, LETTER_ROOM_MM = 2.0, 0.6, 2.4
"""Height of the letter, size of the triangle as a share of its full size, and how wide a letter it holds."""

GAPS_MM = tuple(0.6 + 0.7 * step for step in range(4))
LED_GAPS_MM = tuple(3.5 + 1.5 * step for step in range(21))
"""How far beside what it marks a triangle is tried, the nearest first; and how far with a line to it."""

WAYS = (
    Point(1, 0), Point(-1, 0), Point(0, 1), Point(0, -1), Point(1, 1), Point(-1, 1), Point(1, -1), Point(-1, -1),
)  # fmt: skip
IN_ROOM_M = 0.6
"""How far off its wall a mark stands, where no elevation of that is drawn."""


def marks_in_plan(scene: Scene, ground: Ground, items: Sequence[Item], of_walls: bool = True) -> list[Item]:
    """Mark tags, rooms and walls of a plan that the latest revision concerns.

    Args:
        items: of the plan, with all texts.
        of_walls: whether it shows all walls.
    """
    revised, beside = scene.revised, _tags(scene, ground, items)
    for room in sorted(revised.rooms):
        beside += [(room, box) for box in _texts(items, ground.scale, _names(room.upper()))]
    for wall in scene.site.faces if of_walls else ():
        if (wall.room, wall.name) in revised.walls:
            beside.append((wall.name, _of_wall(scene, wall, items, ground)))
    return _set(scene, ground, beside, items)


def marks_in_elevation(scene: Scene, wall: Wall, ground: Ground, items: Sequence[Item]) -> list[Item]:
    """Mark tags on a wall's elevation that the latest revision concerns, and the wall itself at its corner."""
    revised, beside = scene.revised, _tags(scene, ground, items)
    if (wall.room, wall.name) in revised.walls:
        corner = ground.paper(Point(0.0, wall.ceiling_m * 1000.0))
        beside.append((wall.name, Box(*corner, *corner)))
    return _set(scene, ground, beside, items)


def marks_of_tags(scene: Scene, ground: Ground, items: Sequence[Item]) -> list[Item]:
    """Mark tags of an isometric or a diagram that the latest revision concerns."""
    return _set(scene, ground, _tags(scene, ground, items), items)


def _tags(scene: Scene, ground: Ground, items: Sequence[Item]) -> list[tuple[str, Box]]:
    """The tags that the latest revision concerns, with the box of each text that shows one [mm on paper]."""
    tags = sorted(scene.revised.tags)
    return [(tag, box) for tag in tags for box in _texts(items, ground.scale, _names(tag))]


def mark(layers: Layers, letter: str, at: Point, scale: float = 1.0) -> list[Item]:
    """A triangle with the letter of a revision; it grows with a longer one.

    Args:
        scale: of the view, 1 on paper.
    """
    size = _size(letter)
    return [
        Insert(layers.revised, SYMBOL_NAME, at, scale=size),
        Text(layers.revised, at.plus(Point(0.0, -0.3 * scale)), letter, LETTER_MM, "centre"),
    ]


def is_marked(items: Sequence[Item], seen: Box | None = None) -> bool:
    """Whether a mark stands among items, in a box of their view where one is given."""
    marks = (item for item in items if isinstance(item, Insert) and item.symbol == SYMBOL_NAME)
    return any(seen is None or seen.contains(item.at) for item in marks)


def seen_of(placement: Placement, view: View) -> Box:
    """What a window shows of a view, in the view's millimetres."""
    corners = (corner.minus(placement.at) for corner in placement.window.corners)
    return Box.around([placement.origin.plus(corner, view.scale) for corner in corners])


def _size(letter: str) -> float:
    return SCALE * max(1.0, text_width_mm(letter, LETTER_MM) / LETTER_ROOM_MM)


def _names(word: str) -> Callable[[str], bool]:
    """Whether a text is a word, or begins with it as those do that give more after two spaces."""
    return lambda text: text == word or text.startswith(f"{word}  ")


def _texts(items: Sequence[Item], scale: float, wanted: Callable[[str], bool]) -> Iterator[Box]:
    for item in items:
        if isinstance(item, Text) and item.weight == "bold" and wanted(item.text):
            yield text_box(item, scale)


def _of_wall(scene: Scene, wall: Wall, items: Sequence[Item], ground: Ground) -> Box:
    """The mark of a wall's elevation, or a spot before the middle of a wall that has none."""
    number = scene.marks.get((wall.room, wall.name), "")
    for item in items:
        if isinstance(item, Insert) and item.symbol == "elevation_mark":
            half = max(scene.symbols[item.symbol].size) / 2 * item.scale
            at = ground.paper(item.at)
            near = (each for each in items if isinstance(each, Text) and each.text == number and each.at == item.at)
            if next(near, None) is not None:
                return Box(at.x - half, at.y - half, at.x + half, at.y + half)
    at = ground.paper(mm(wall.at(wall.length_m / 2, IN_ROOM_M)))
    return Box(*at, *at)


def _set(scene: Scene, ground: Ground, beside: Sequence[tuple[str, Box]], items: Sequence[Item]) -> list[Item]:
    """Set a mark beside each box [mm on paper] where it covers nothing, if it can be nearer to that than to any tag.

    The ground is told which found no place.
    """
    letter, found = scene.revised.revision, list[Item]()
    half = scene.symbols[SYMBOL_NAME].size[0] / 2 * _size(letter)
    tags = list(_texts(items, ground.scale, bool))
    for name, box in beside:
        others = [tag for tag in tags if not tag.overlaps(box.grown(0.1))]
        spot = _nearest_to(box, others, half, ground)
        led = None if spot is not None else _led_to(box, half, ground)
        if led is not None:
            spot, line = led
            found.append(Leader(scene.layers.revised, tuple(_in_view(at, ground) for at in line), "none"))
            for piece in line_boxes(*line):
                ground.take(piece, words=True)
        if spot is None:
            ground.homeless.append(f"revision mark of {name}")
            continue
        ground.take(Box(*spot, *spot).grown(half), words=True)
        found += mark(scene.layers, letter, _in_view(spot, ground), ground.scale)
    return found


def _in_view(at: Point, ground: Ground) -> Point:
    return Point(at.x * ground.scale, at.y * ground.scale)


def _nearest_to(box: Box, others: Sequence[Box], half: float, ground: Ground) -> Point | None:
    """The first free spot that is nearer to a box than to all others."""
    for at in _spots(box, half, GAPS_MM):
        own_mm = box.distance(at)
        if ground.free(Box(*at, *at).grown(half)) and all(other.distance(at) > own_mm for other in others):
            return at
    return None


def _led_to(box: Box, half: float, ground: Ground) -> tuple[Point, tuple[Point, Point]] | None:
    """The first free spot from which a line to a box crosses no words, and that line from the box to the triangle."""
    for at in _spots(box, half, LED_GAPS_MM):
        start = leader_to(at, box)[1]
        way = start.minus(at)
        end = at.plus(way.unit, half)
        if ground.free(Box(*at, *at).grown(half)) and way.length > half and ground.line_free(end, start):
            return at, (start, end)
    return None


def _spots(box: Box, half: float, gaps_mm: Sequence[float]) -> Iterator[Point]:
    """Middles of squares round a box, the nearest first."""
    middle = box.centre
    for gap in gaps_mm:
        for way in WAYS:
            yield Point(
                middle.x + way.x * (box.width / 2 + gap + half), middle.y + way.y * (box.height / 2 + gap + half)
            )
