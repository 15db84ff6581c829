"""Where things stand in the isometric: axes at 30 degrees after ISO 6412-2 (from memory), lengths not to scale.

Millimetres on paper are meant throughout; points of the view are those times its scale.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar

import numpy as np

from drafter.geometry import Box, Point, Point3
from drafter.layout.graph import Node, NodeKind, Run, RunKind
from drafter.lettering import text_width_mm
from drafter.sheets.drawn_heights import drawn_heights_m
from drafter.sheets.falls import fall_text
from drafter.sheets.isometric_axes import on_paper, turned
from drafter.sheets.isometric_parts import Part
from drafter.sheets.scene import Scene
from drafter.sheets.shortened_axis import ShortenedAxis, Spacing, hung
from drafter.supports.consoles import is_at_wall

LENGTH_TEXT_MM = 2.5
AROUND_TEXT_MM, AROUND_FALL_MM = 5.5, 10.0
TANK_MM = 34.0
TANK_HEIGHT_MM = 14.0
"""From the floor up to where the tank gives its air."""

SET_ABOVE_MM = 18.0
"""How far the compressor on its tank reaches above that place, at most."""

LEAST_MM = {
    RunKind.CONNECTION: 14.0,
    RunKind.FLEXIBLE: 14.0,
    RunKind.RISER: 18.0,
    RunKind.TREATMENT: 14.0,
    RunKind.MAIN: 8.0,
    RunKind.RISE: 13.0,
    RunKind.SLEEVE: 13.0,
    RunKind.SWAN_NECK: 5.0,
    RunKind.DROP: 11.0,
    RunKind.BRANCH: 8.0,
    RunKind.RISING: 9.0,
    RunKind.DRIP_LEG: 8.0,
}
"""What a run takes on paper for the signs at its ends to be told apart (own choice)."""

UP_A_NECK_MM = 11.0
"""How far a swan neck goes up: the further it goes out, the nearer its drop would be seen to the main otherwise."""

APART_MM = 12.0
"""From a coupling beside its drop to the next drop."""

UNIT_MM = 10.0
"""From the sign of a unit at an outlet to the next."""

DRAIN_SIGN_MM = 10.0
"""Below the end of a drip leg, down to the floor."""


@dataclass(frozen=True)
class IsometricSpace:
    """The drawn place of everything.

    Attributes:
        east, north, up: the axes of the plan and of height, shortened.
        turn: quarter turns of the plan.
        heights_m: of each node as drawn: the main without its fall, as ISO 6412 has it (from memory).
        scale: of the view.
    """

    east: ShortenedAxis
    north: ShortenedAxis
    up: ShortenedAxis
    turn: int
    heights_m: Mapping[str, float]
    scale: float = 1.0

    def drawn(self, place: Point3) -> Point3:
        """Return a place [m] as drawn: right and away, left and away, up [mm on paper]."""
        return Point3(*turned(self.east(place.x), self.north(place.y), self.turn), self.up(place.z))

    def node(self, node: Node) -> Point3:
        return self.drawn(Point3(node.at.x, node.at.y, self.heights_m[node.id]))

    def seen(self, drawn: Point3) -> Point:
        """Return where a drawn place is seen in the view."""
        across, rise = on_paper(*drawn)
        return Point(across * self.scale, rise * self.scale)

    def at(self, place: Point3) -> Point:
        return self.seen(self.drawn(place))

    def at_node(self, node: Node) -> Point:
        return self.seen(self.node(node))

    def way(self, toward: Point) -> Point:
        """Return the way in which a direction of the plan is seen, one long where it goes along an axis."""
        return Point(*on_paper(*turned(*toward, self.turn), 0.0))


@dataclass(frozen=True, slots=True)
class Shape:
    """How an isometric is drawn, whatever its size.

    Attributes:
        turn: quarter turns of the plan.
        uprights: how much of the height of the room they may take.
        power: of the true length that the drawn one goes with.
        tightness: share of the least distances that is kept.
    """

    turn: int
    uprights: float
    power: float
    tightness: float


def nearness(drawn: Point3) -> float:
    """How near a drawn place is to the eye; of two that are seen in one spot the larger hides the other."""
    return drawn.z - drawn.x - drawn.y


class IsometricSpacing:
    """The axes of an isometric before it is known how large it may be."""

    def __init__(self, scene: Scene, part: Part) -> None:
        self.scene, self.part, self.layout = scene, part, scene.layout
        self.heights_m = drawn_heights_m(scene.layout)
        self._known: dict[tuple[int, float, float, float], ShortenedAxis] = {}
        corners = [wall.left for room in part.rooms for wall in scene.site.walls[room]]
        nodes = part.nodes
        least = [*self._least(), *self._between_drops()]
        plant = self._tank_least()
        self.east = Spacing.of(
            [*(p.x for p in corners), *(n.at.x for n in nodes)], [(a.x, b.x, x) for a, b, (x, _, _) in least + plant]
        )
        self.north = Spacing.of(
            [*(p.y for p in corners), *(n.at.y for n in nodes)], [(a.y, b.y, y) for a, b, (_, y, _) in least + plant]
        )
        self.up = Spacing.of(
            [0.0, *(self.heights_m[node.id] for node in nodes)],
            [*((a.z, b.z, z) for a, b, (_, _, z) in least), *self._above_floor()],
        )

    def fitted(self, width_mm: float, height_mm: float, shape: Shape) -> IsometricSpace:
        """Return the largest space of a shape that is seen within a width and a height, or the least one."""
        wanted = shape.uprights * height_mm
        up = _largest(lambda size: self._drawn(2, size, shape), lambda axis: axis.length_mm <= wanted)

        def space(size: float) -> IsometricSpace:
            east, north = (self._drawn(axis, size, shape) for axis in (0, 1))
            return IsometricSpace(east, north, up, shape.turn, self.heights_m)

        def fits(space: IsometricSpace) -> bool:
            box = self.box(space)
            return box.width <= width_mm and box.height <= height_mm

        return _largest(space, fits)

    def _drawn(self, axis: int, size: float, shape: Shape) -> ShortenedAxis:
        """Draw an axis once for all corners that it is looked at from."""
        key = (axis, size, shape.power, shape.tightness)
        if key not in self._known:
            self._known[key] = (self.east, self.north, self.up)[axis].drawn(size, shape.power, shape.tightness)
        return self._known[key]

    def box(self, space: IsometricSpace) -> Box:
        """The box that rooms and pipes are seen in."""
        axes = (space.east, space.north, space.up)
        across, rise = self._seen([np.array(axis.drawn_mm)[:, None] for axis in axes], space.turn)
        return Box(float(across.min()), float(rise.min()), float(across.max()), float(rise.max()))

    def sizes(self, drawn: Sequence[np.ndarray], turn: int) -> tuple[np.ndarray, np.ndarray]:
        """Return the widths and heights of that box for many ways to draw the places of the axes, places x ways."""
        across, rise = self._seen(drawn, turn)
        return np.ptp(across, axis=0), np.ptp(rise, axis=0)

    def _seen(self, drawn: Sequence[np.ndarray], turn: int) -> tuple[np.ndarray, np.ndarray]:
        east, north, up = (
            hung(axis, index, share) + beyond_mm[:, None]
            for axis, (index, share, beyond_mm) in zip(drawn, self._outermost, strict=True)
        )
        return on_paper(*turned(east, north, turn), up)

    @cached_property
    def _outermost(self) -> list[tuple[np.ndarray, np.ndarray, np.ndarray]]:
        """On each axis all corners of rooms and decks, the highest and lowest nodes, the far end of the compressor.

        Returns:
            For each axis: numbers of the places below, shares of the way to the next, and millimetres beyond.
        """
        site = self.scene.site
        corners = [(*wall.left, 0.0) for room in self.part.rooms for wall in site.walls[room]]
        for room in self.part.rooms:
            for deck in site.rooms[room].decks:
                corners += [(*at, deck.top_m) for at in site.wall(room, deck.wall).footprint(*deck.placed)]
        heights_m: dict[tuple[float, float], list[float]] = {}
        for x, y, z in [*corners, *((node.at.x, node.at.y, self.heights_m[node.id]) for node in self.part.nodes)]:
            heights_m.setdefault((x, y), []).append(z)
        places = [(*at, end) for at, found in heights_m.items() for end in (min(found), max(found))]
        beyond = [(0.0, 0.0, 0.0)] * len(places)
        if tank := self.part.tank:
            along = self.scene.wall_of(tank).along
            out = self.layout.nodes[self.layout.runs_at[tank.id][0].end].at.plan.minus(tank.at.plan)
            back_mm = -TANK_MM if out.dot(along) >= 0.0 else TANK_MM
            for share in (0.0, 1.0):
                places.append((tank.at.x, tank.at.y, self.heights_m[tank.id]))
                beyond.append((along.x * back_mm * share, along.y * back_mm * share, SET_ABOVE_MM))
        axes = (self.east, self.north, self.up)
        return [
            (*axis.hanging(at), over_mm)
            for axis, at, over_mm in zip(axes, np.array(places).T, np.array(beyond).T, strict=True)
        ]

    def _ends(self, run: Run) -> tuple[Point3, Point3]:
        ends = (self.layout.nodes[id] for id in (run.start, run.end))
        start, end = (Point3(node.at.x, node.at.y, self.heights_m[node.id]) for node in ends)
        return start, end

    def _least(self) -> Iterator[tuple[Point3, Point3, tuple[float, float, float]]]:
        """The ends of each run, and the least it takes along each axis: what it needs along the one it goes in."""
        for run in self.part.runs:
            start, end = self._ends(run)
            way = end.minus(start)
            along = max(range(3), key=lambda axis: abs(way[axis]))
            mm = self._needs_mm(run) * (1.0 if abs(way[along]) > 0.99 * way.length else 0.8)
            if run.kind is RunKind.SWAN_NECK and along == 2:
                mm = UP_A_NECK_MM
            yield start, end, (mm * (along == 0), mm * (along == 1), mm * (along == 2))

    def _between_drops(self) -> Iterator[tuple[Point3, Point3, tuple[float, float, float]]]:
        """From a coupling beside its drop, along the wall, to the next drop that it must not seem to feed."""
        feet = [node for node in self.part.nodes if node.kind in (NodeKind.TAKE_OFF, NodeKind.DRAIN, NodeKind.TEE)]
        for coupling in (node for node in self.part.nodes if node.kind is NodeKind.COUPLING):
            wall, own = self.scene.wall_of(coupling), self.layout.outlet_at(coupling)
            axis = 0 if abs(wall.along.x) > 0.99 else 1 if abs(wall.along.y) > 0.99 else None
            if axis is None or not is_at_wall(self.layout, coupling):
                continue
            foot = self.layout.outlet_foot(coupling)
            way = coupling.at[axis] - foot.at[axis]
            beyond = [
                node
                for node in feet
                if (node.room, node.wall) == (coupling.room, coupling.wall)
                and self.layout.outlet_at(node) != own
                and (node.at[axis] - coupling.at[axis]) * way > 0.0
            ]
            if beyond:
                nearest = min(beyond, key=lambda node: abs(node.at[axis] - coupling.at[axis]))
                place = Point3(nearest.at.x, nearest.at.y, coupling.at.z)
                yield coupling.at, place, (APART_MM * (axis == 0), APART_MM * (axis == 1), 0.0)

    def _needs_mm(self, run: Run) -> float:
        least = LEAST_MM[run.kind]
        if run.kind in (RunKind.MAIN, RunKind.RISE):
            words = self.scene.units.length(self.layout.length_m(run))
            least = max(least, text_width_mm(words, LENGTH_TEXT_MM) + AROUND_TEXT_MM)
        if run in self._longest_of_size:
            least = max(least, text_width_mm(fall_text(self.scene, run), LENGTH_TEXT_MM) + AROUND_FALL_MM)
        kinds = {self.layout.nodes[id].kind for id in (run.start, run.end)}
        if NodeKind.SERVICE in kinds:
            least = max(least, UNIT_MM)
        if NodeKind.VALVE in kinds and run.kind is RunKind.MAIN:
            least += 3.0
        return least

    @cached_property
    def _longest_of_size(self) -> list[Run]:
        """The longest run of the main of each size, where size and fall are written."""
        runs = [run for run in self.part.runs if run.kind is RunKind.MAIN]
        sizes = dict.fromkeys(map(self.scene.size_of, runs))
        return [
            max((run for run in runs if self.scene.size_of(run) == size), key=self.layout.length_m) for size in sizes
        ]

    def _tank_least(self) -> list[tuple[Point3, Point3, tuple[float, float, float]]]:
        if self.part.tank is None:
            return []
        plant, tank = self.scene.site.compressor, self.part.tank.at
        wall = self.scene.site.wall(plant.room, plant.wall)
        ends = [wall.at(plant.from_left_m + share * plant.width_m, plant.off_wall_m) for share in (0.0, 1.0)]
        far = max(ends, key=lambda end: end.minus(tank.plan).length)
        along_x = abs(wall.along.x) > abs(wall.along.y)
        mm = (TANK_MM, 0.0, 0.0) if along_x else (0.0, TANK_MM, 0.0)
        return [(Point3(far.x, far.y, 0.0), tank, mm)]

    def _above_floor(self) -> Iterator[tuple[float, float, float]]:
        for node in self.part.nodes:
            if node.kind is NodeKind.DRAIN:
                yield 0.0, node.at.z, DRAIN_SIGN_MM
            elif node.kind is NodeKind.TANK:
                yield 0.0, node.at.z, TANK_HEIGHT_MM


_Made = TypeVar("_Made")


def _largest(made: Callable[[float], _Made], fits: Callable[[_Made], bool]) -> _Made:
    """Return what is made with the largest size that fits, to a hundredth; with none where nothing does."""
    low, high = 0.0, 4.0
    best = made(low)
    if not fits(best):
        return best
    while fits(made(high)) and high < 1e3:
        low, high = high, 2 * high
    while high - low > 0.01 * high:
        middle = (low + high) / 2
        tried = made(middle)
        if fits(tried):
            low, best = middle, tried
        else:
            high = middle
    return made(low)
