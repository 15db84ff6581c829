"""What stands round a window that shows a part of a view: match lines, where the view goes on, a key plan."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from drafter.drawing import Area, Item, Line, Polyline, Text
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm, wrapped
from drafter.sheets.paragraph import paragraph
from drafter.sheets.scene import Scene, mm
from drafter.sheets.view_parts import Part, key_of
from drafter.site.wall import Wall

MATCH_MM = 6.0
"""Room beside a window for the words at its match lines."""

KEY_WIDE_MM, KEY_HIGH_MM = 58.0, 24.0
KEY_GAP_MM = 4.0
KEY_STRIP_MM = KEY_HIGH_MM + 3.0
"""Height of the strip below a part that holds its title and key plan."""

VIEW_WORDS_MM = 75.0
"""Kept free for the title of a view, left of what it misses."""

WORDS_MM, OFF_LINE_MM = 2.5, 1.5
LOST_PITCH_MM = 3.75


@dataclass(frozen=True, slots=True)
class Pointer:
    """A text that names the sheet on which a part stands; ``{}`` in it is for the sheet's number."""

    text: Text
    part: str

    def on(self, sheets: Mapping[str, str]) -> Text:
        return replace(self.text, text=self.text.text.format(sheets[self.part]))


def part_room(room: Box) -> Box:
    """What of a room is left for a part beside match lines and above its title and key plan."""
    return Box(room.left + MATCH_MM, room.bottom + KEY_STRIP_MM + MATCH_MM, room.right - MATCH_MM, room.top - MATCH_MM)


def window_of(part: Part, middle: Point) -> Box:
    """The window of a part with its middle at a point of the paper: just as large as the part."""
    half = Point(part.box.width / part.view.scale / 2, part.box.height / part.view.scale / 2)
    return Box(middle.x - half.x, middle.y - half.y, middle.x + half.x, middle.y + half.y)


def round_window(
    scene: Scene, part: Part, window: Box, strip: Box, wall: Wall | None = None
) -> tuple[list[Item], list[Pointer]]:
    """What stands round a window: match lines and key plan where it shows a part, and what found no room in it.

    Args:
        strip: with the title, below the window.
        wall: of an elevation.
    """
    items, pointers, words = list[Item](), list[Pointer](), replace(strip, left=strip.left + VIEW_WORDS_MM)
    if part.count > 1:
        items, pointers = _match_lines(scene, part, window)
        items += _key_plan(scene, part, strip.right, strip.bottom, wall)
        words = replace(words, right=strip.right - KEY_WIDE_MM - KEY_GAP_MM, top=strip.bottom + KEY_HIGH_MM)
    return [*items, *_lost_note(scene, part.lost, words)], pointers


def _match_lines(scene: Scene, part: Part, window: Box) -> tuple[list[Item], list[Pointer]]:
    """Draw a match line along each side of a window where the view goes on, and say on which sheet it does."""
    items, pointers = list[Item](), list[Pointer]()
    layer, note, middle = scene.layers.match, scene.layers.note, window.centre
    low_left, low_right, high_right, high_left = window.corners
    off = OFF_LINE_MM
    for side, number in part.beyond:
        words = f"match line: part {number}, see {{}}"
        key = key_of(part.view.name, number)
        match side:
            case "left":
                line, at, angle = (low_left, high_left), Point(window.left - off, middle.y), 90.0
            case "right":
                at = Point(window.right + off + WORDS_MM, middle.y)
                line, angle = (low_right, high_right), 90.0
            case "top":
                line, at, angle = (high_left, high_right), Point(middle.x, window.top + off), 0.0
            case "bottom":
                at = Point(middle.x, window.bottom - off - WORDS_MM)
                line, angle = (low_left, low_right), 0.0
        items.append(Line(layer, *line))
        pointers.append(Pointer(Text(note, at, words, WORDS_MM, "bottom", angle), key))
    return items, pointers


def _key_plan(scene: Scene, part: Part, right: float, bottom: float, wall: Wall | None = None) -> list[Item]:
    """A small plan of all rooms with the shown part hatched, or the shown length of a wall drawn heavy.

    Args:
        right, bottom: the corner of the paper's room for it [mm].
        wall: of an elevation.
    """
    from shapely import Polygon, box, unary_union

    outlines = [[mm(each.left) for each in walls] for walls in scene.site.walls.values()]
    whole = Box.around([corner for outline in outlines for corner in outline])
    words = "KEY PLAN"
    beside = text_width_mm(words, 2.0) + 2.0
    shrunk = min((KEY_WIDE_MM - beside) / whole.width, (KEY_HIGH_MM - 2.0) / whole.height)
    left = right - whole.width * shrunk

    def small(point: Point) -> Point:
        return Point(left + (point.x - whole.left) * shrunk, bottom + 1.0 + (point.y - whole.bottom) * shrunk)

    items: list[Item] = [
        Polyline(scene.layers.wall, tuple(small(corner) for corner in outline), True) for outline in outlines
    ]
    items.append(Text(scene.layers.note, Point(left - 2.0, bottom + 1.0), words, 2.0, "bottom right"))
    if wall is not None:
        ends = (max(0.0, part.box.left / 1000.0), min(wall.length_m, part.box.right / 1000.0))
        first, last = (small(mm(wall.at(end, 0.0))) for end in ends)
        return [*items, Line(scene.layers.frame, first, last)]
    frame = part.box
    floor = unary_union([Polygon(outline) for outline in outlines])
    seen = floor.intersection(box(frame.left, frame.bottom, frame.right, frame.top))
    for piece in getattr(seen, "geoms", [seen]):
        if piece.area > 0.0:
            ring = tuple(small(Point(*at)) for at in piece.exterior.coords[:-1])
            items += [Area(scene.layers.wall_hatch, ring, (), "hatch", 1.2), Polyline(scene.layers.match, ring, True)]
    return items


def _lost_note(scene: Scene, lost: Sequence[str], room: Box) -> list[Item]:
    """Name in a strip below a view what found no room on it, so that nothing is missing unsaid."""
    if not lost:
        return []
    most = max(1, int(room.height / LOST_PITCH_MM))
    names = list(dict.fromkeys(lost))
    for count in range(len(names), 0, -1):
        others = f"; and {len(names) - count} more" if count < len(names) else ""
        said = f"No room here, see the schedules and the isometric: {'; '.join(names[:count])}{others}."
        lines = wrapped(said, room.width, WORDS_MM)
        if len(lines) <= most:
            break
    at = Point(room.left, room.top - WORDS_MM)
    return [*paragraph(scene.layers.note, at, lines, WORDS_MM, LOST_PITCH_MM)]
