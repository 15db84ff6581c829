"""Names on the isometric, where there is room for them: of rooms, walls, corners, decks and crossings."""

from __future__ import annotations

from drafter.drawing import Item, Text
from drafter.geometry import Box, Point, Point3
from drafter.layout.graph import RunKind
from drafter.lettering import text_width_mm
from drafter.sheets.isometric_lines import IsometricLines
from drafter.sheets.isometric_rooms import on_floor
from drafter.sheets.placing import Ground, Label
from drafter.sheets.slanted_texts import Writing, write_along
from drafter.site.wall import Wall, in_words

ROOM_STEPS = 12
ROOM_CLEAR_MM = (6.0, 3.0, 1.0)
ROOM_TEXT_MM = 3.0


def names(lines: IsometricLines, ground: Ground) -> list[Item]:
    """Write the names on an isometric whose lines have taken their room."""
    writer = _Names(lines, ground)
    writer.crossings()
    writer.rooms()
    return writer.items


class _Names:
    def __init__(self, lines: IsometricLines, ground: Ground) -> None:
        self.scene, self.part, self.space = lines.scene, lines.part, lines.space
        self.lines, self.ground, self.layers = lines, ground, lines.layers
        self.items: list[Item] = []

    def crossings(self) -> None:
        """What the elevation calls the lines that hang below a ceiling."""
        runs = [run for run in self.part.runs if run.kind is RunKind.MAIN]
        for face in (face for face in self.scene.site.faces if face.is_crossing):
            here = [run for run in runs if (run.room, run.wall) == (face.room, face.name)]
            if here:
                longest = max(here, key=lambda run: _length(*self.lines.ends(run)))
                number = self.scene.marks.get((face.room, face.name), "")
                words = f"{face.name}, elevation {number}" if number else face.name
                done = write_along(self.ground, *self.lines.ends(longest), Writing(self.layers.text, words, 2.0))
                self.items += [done.text] if done else []

    def rooms(self) -> None:
        site = self.scene.site
        for room in self.part.rooms:
            walls = site.walls[room]
            for wall in walls:
                self._wall_name(wall)
                if site.rooms[room].corners_m:
                    self._try(on_floor(self.space, wall.left), (wall.name.partition("-")[0],), 2.5, self.layers.text)
            self._room_name(room, walls)
            for deck in site.rooms[room].decks:
                corners = [
                    self.space.at(Point3(*at, deck.top_m)) for at in site.wall(room, deck.wall).footprint(*deck.placed)
                ]
                words = (deck.name, f"floor {self.scene.units.level(deck.top_m)}")
                self._try(Box.around(corners).centre, words, 2.0, self.layers.text)

    def _wall_name(self, wall: Wall) -> None:
        """The name of a wall along its foot, with the number of its elevation."""
        number = self.scene.marks.get((wall.room, wall.name), "")
        words = in_words(wall.name) + (f", elevation {number}" if number else "")
        start, end = (on_floor(self.space, corner) for corner in (wall.left, wall.right))
        for text in (words, in_words(wall.name)):
            done = write_along(self.ground, start, end, Writing(self.layers.text, text, 2.0))
            if done:
                self.items.append(done.text)
                return

    def _try(self, at: Point, lines: tuple[str, ...], height_mm: float, layer: str) -> None:
        """Write what may be left out where there is no room."""
        self.items += self.ground.label_if_free(Label(layer, self.layers.tag, at, lines, height_mm))

    def _room_name(self, room: str, walls: tuple[Wall, ...]) -> None:
        """Write the name of a room on its floor, where most is free round it, near the middle."""
        from shapely import Polygon
        from shapely import box as shapely_box

        corners = [self.ground.paper(on_floor(self.space, wall.left)) for wall in walls]
        floor, whole, words = Polygon(corners), Box.around(corners), room.upper()
        width, centre = text_width_mm(words, ROOM_TEXT_MM, "bold"), Point(floor.centroid.x, floor.centroid.y)
        spots = [
            Point(whole.left + whole.width * i / ROOM_STEPS, whole.bottom + whole.height * j / ROOM_STEPS)
            for i in range(1, ROOM_STEPS) for j in range(1, ROOM_STEPS)
        ]  # fmt: skip
        for clear in ROOM_CLEAR_MM:
            for at in sorted(spots, key=lambda spot: (round(spot.minus(centre).length, 3), spot)):
                text = Box(at.x - width / 2, at.y - ROOM_TEXT_MM / 2, at.x + width / 2, at.y + ROOM_TEXT_MM / 2)
                if floor.contains(shapely_box(text.left, text.bottom, text.right, text.top)) and self.ground.free(
                    text.grown(clear)
                ):
                    self.ground.take(text.grown(0.5), words=True)
                    here = Point(at.x * self.space.scale, at.y * self.space.scale)
                    self.items.append(Text(self.layers.text, here, words, ROOM_TEXT_MM, "centre", weight="bold"))
                    return


def _length(start: Point, end: Point) -> float:
    return end.minus(start).length
