"""Draws one detail in a frame: true proportions, its numbers from the design, labels where they cover nothing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from drafter.drawing import Arc, Area, Circle, Dimension, Item, Leader, Line, Polyline
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm
from drafter.sheets.placing import Ground, Label
from drafter.sheets.scene import Scene

WALL_MM = 4.0
"""Thickness of wall, floor and ceiling on paper."""

BREAK_MM, TEXT_MM, DIMENSION_MM = 1.6, 2.5, 4.0
SMALLEST_SYMBOL, LARGEST_SYMBOL, SYMBOL_SCALE = 0.5, 0.9, 150.0
"""Limits of symbols, and the millimetres on paper a metre at which they have their full size."""

LONG_MM = 14.0
"""Longer leaders are avoided."""

RINGS_MM = (2.5, 4.5, 7.0, 10.0, 14.0, 19.0, 25.0, 32.0)


@dataclass(frozen=True, slots=True)
class Place:
    """A frame on paper [mm], and by how much more than usual a picture keeps off it, for its labels."""

    frame: Box
    slack: float = 0.0


@dataclass
class Picture:
    """A detail within a frame on paper.

    What is drawn is given in metres in the plane of the detail; its bottom left lands at ``at``.

    Attributes:
        frame: nothing is set outside [mm on paper].
        true: the part of the plane that is drawn [m].
        at: where its lower left corner lies [mm on paper].
        scale: millimetres on paper a metre.
    """

    scene: Scene
    frame: Box
    true: Box
    at: Point
    scale: float
    items: list[Item] = field(default_factory=list)
    words: list[tuple[Point, tuple[str, ...]]] = field(default_factory=list)
    taken: list[Box] = field(default_factory=list)

    @classmethod
    def fitted(cls, scene: Scene, place: Place, true: Box, margins: tuple[float, float, float, float]) -> Picture:
        """Fit a part of the plane into a frame, less margins at left, bottom, right and top [mm]."""
        frame, (left, bottom, right, top) = place.frame, (margin + place.slack for margin in margins)
        room = Box(frame.left + left, frame.bottom + bottom, frame.right - right, frame.top - top)
        scale = min(room.width / true.width, room.height / true.height)
        at = Point(room.centre.x - true.width * scale / 2, room.centre.y - true.height * scale / 2)
        return cls(scene, frame, true, at, scale)

    @property
    def symbol(self) -> float:
        """Size of symbols as a share of their full size: larger where the picture is."""
        return min(LARGEST_SYMBOL, max(SMALLEST_SYMBOL, self.scale / SYMBOL_SCALE))

    def point(self, x_m: float, y_m: float) -> Point:
        """Where a point of the plane lies on paper."""
        return Point(self.at.x + (x_m - self.true.left) * self.scale, self.at.y + (y_m - self.true.bottom) * self.scale)

    def line(self, layer: str, *points_m: tuple[float, float]) -> None:
        """A line along some points."""
        for a, b in pairwise(points_m):
            self.items.append(Line(layer, self.point(*a), self.point(*b)))

    def tube(self, layer: str, outside_m: float, *points_m: tuple[float, float], cut: bool = True) -> None:
        """A pipe along level and upright lines, with both its edges; ``cut`` where it goes on at its end."""
        half, points = outside_m / 2, [Point(*point) for point in points_m]
        ways = [b.minus(a).unit for a, b in pairwise(points)]
        for side in (half, -half):
            edge = [points[0].plus(ways[0].left, side)]
            for point, before, after in zip(points[1:-1], ways, ways[1:], strict=False):
                edge.append(point.plus(before.left, side).plus(after.left, side))
            edge.append(points[-1].plus(ways[-1].left, side))
            self.items.append(Polyline(layer, tuple(self.point(*point) for point in edge)))
        for a, b in pairwise(points):
            self.items.append(Line(self.scene.layers.axis, self.point(*a), self.point(*b)))
        if cut:
            self.broken(points[-1], ways[-1], half)

    def broken(self, at: Point, way: Point, half_m: float) -> None:
        """The sign of a break across the end of a pipe."""
        here, along = self.point(*at), way.unit
        across, reach = along.left, half_m * self.scale + 1.2
        spots = ((-1.0, 0.0), (-0.3, 0.0), (-0.15, 1.0), (0.15, -1.0), (0.3, 0.0), (1.0, 0.0))
        points = tuple(here.plus(across, reach * a).plus(along, BREAK_MM / 2 * b) for a, b in spots)
        self.items.append(Polyline(self.scene.layers.sign, points))

    def ring(self, layer: str, x_m: float, y_m: float, radius_m: float) -> None:
        self.items.append(Circle(layer, self.point(x_m, y_m), radius_m * self.scale))

    def arc(self, layer: str, x_m: float, y_m: float, radius_m: float, start_deg: float, end_deg: float) -> None:
        self.items.append(Arc(layer, self.point(x_m, y_m), radius_m * self.scale, start_deg, end_deg))

    def block(self, layer: str, left_m: float, bottom_m: float, right_m: float, top_m: float) -> None:
        corners = Box(left_m, bottom_m, right_m, top_m).corners
        self.items.append(Polyline(layer, tuple(self.point(*corner) for corner in corners), True))

    def hatched(self, start_m: tuple[float, float], end_m: tuple[float, float], side: Point) -> None:
        """The face of a wall, floor or ceiling, hatched on the side that a unit vector points to."""
        a, b = self.point(*start_m), self.point(*end_m)
        self.taken.append(Box.around([a, b, a.plus(side, WALL_MM), b.plus(side, WALL_MM)]))
        c, d = b.plus(side, WALL_MM), a.plus(side, WALL_MM)
        self.items += [
            Line(self.scene.layers.wall, a, b),
            Area(self.scene.layers.wall_hatch, (a, b, c, d), fill="hatch"),
        ]

    def across(self, left_m: float, right_m: float, at_m: float, line_mm: float, words: str) -> None:
        """A level dimension; ``line_mm`` is how far above (below, if negative) the height ``at_m`` its line stands.

        Words wider than it stand at its left.
        """
        a, b = self.point(left_m, at_m), self.point(right_m, at_m)
        line, shift = a.plus(Point(0.0, line_mm)), -_shift_mm(b.x - a.x, words)
        self.items.append(Dimension(self.scene.layers.dims, a, b, line, 0.0, words, shift))
        middle, half = (a.x + b.x) / 2 + shift, text_width_mm(words, TEXT_MM) / 2 + 1.0
        self.taken.append(Box(middle - half, line.y - 0.5, middle + half, line.y + DIMENSION_MM))

    def up(self, bottom_m: float, top_m: float, at_m: float, line_mm: float, words: str, way: int = 1) -> None:
        """An upright dimension, its line so far to the right (left, if negative) of ``at_m``.

        Words longer than it stand above it, or below where ``way`` is -1.
        """
        a, b = self.point(at_m, bottom_m), self.point(at_m, top_m)
        line = a.plus(Point(line_mm, 0.0))
        shift = way * _shift_mm(b.y - a.y, words)
        self.items.append(Dimension(self.scene.layers.dims, a, b, line, 90.0, words, shift))
        middle, half = (a.y + b.y) / 2 + shift, text_width_mm(words, TEXT_MM) / 2 + 1.0
        self.taken.append(Box(line.x - DIMENSION_MM, middle - half, line.x + 0.5, middle + half))

    def sign(
        self, layer: str, symbol: str, x_m: float, y_m: float, angle_deg: float, scale: float, mirrored: bool = False
    ) -> None:  # fmt: skip
        self.items.append(self.scene.insert(layer, symbol, self.point(x_m, y_m), angle_deg, scale, mirrored))

    def label(self, x_m: float, y_m: float, *lines: str) -> None:
        """Words for a spot, set by `finished` where they cover nothing."""
        self.words.append((self.point(x_m, y_m), lines))

    def finished(self) -> tuple[list[Item], list[str], float]:
        """Return all items with their labels, the labels that found no room, and how long all leaders are [mm].

        Each label is set before the others once, the one with most lines first, until no leader is long.
        """
        found = []
        for number in sorted(range(len(self.words)), key=lambda each: -len(self.words[each][1])) or [0]:
            items, homeless = self._labelled(
                [*self.words[number : number + 1], *self.words[:number], *self.words[number + 1 :]]
            )
            led_mm = [item.points[-1].minus(item.points[0]).length for item in items if isinstance(item, Leader)]
            found.append((len(homeless), sum(led_mm), number, items, homeless))
            if not homeless and max(led_mm, default=0.0) <= LONG_MM:
                break
        _, led, _, items, homeless = min(found)
        return [*self.items, *items], homeless, led

    def _labelled(self, words: Sequence[tuple[Point, tuple[str, ...]]]) -> tuple[list[Item], list[str]]:
        """Labels set one after the other, and those that found no room."""
        ground, layers = Ground(1.0), self.scene.layers
        ground.enter(self.items, self.scene.symbols)
        for box in (*self.taken, *_round(self.frame)):
            ground.take(box, words=True)
        labels = [Label(layers.text, layers.tag, spot, lines, rings=RINGS_MM) for spot, lines in words]
        return [item for label in labels for item in ground.label(label)], ground.homeless


def _shift_mm(length_mm: float, words: str) -> float:
    """How far the words of a dimension move along it: not at all where they find room between its ends."""
    width = text_width_mm(words, TEXT_MM)
    return 0.0 if width + 2.0 <= length_mm else (length_mm + width) / 2 + 2.0


def _round(frame: Box, thick: float = 40.0) -> tuple[Box, ...]:
    """Boxes round a frame."""
    left, bottom, right, top = frame.left - thick, frame.bottom - thick, frame.right + thick, frame.top + thick
    return (
        Box(left, bottom, frame.left, top), Box(frame.right, bottom, right, top),
        Box(left, bottom, right, frame.bottom), Box(left, frame.top, right, top),
    )  # fmt: skip
