"""The compressor set of the isometric as a neutral outline: a lying tank on feet, a pump and a motor on top."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from drafter.drawing import Item, Line, Polyline
from drafter.geometry import Point, Point3
from drafter.sheets.isometric_axes import turned
from drafter.sheets.isometric_space import TANK_MM, IsometricSpace
from drafter.sheets.scene import Scene

LEAST_RADIUS_MM, MOST_RADIUS_MM = 5.0, 9.5
MOST_OF_HEIGHT = 0.17
"""How much of the height of the whole the tank's radius may take, so that it stays small on small sheets."""

LONG = 3.4
"""Length of the tank over its radius."""

FEET_MM = 4.0
UP_THE_END = 0.7
"""How far above its axis a tank may give its air, as a share of its radius."""

STEPS = 24


@dataclass(frozen=True, slots=True)
class Outline:
    """Lines of the view, the area that hides what is behind, and where its label points."""

    items: tuple[Item, ...]
    area: tuple[Point, ...]
    label_at: Point


class _Set:
    """Draws from the tank's connection back along its own axis; places are along, across and up from there [mm]."""

    def __init__(self, scene: Scene, space: IsometricSpace) -> None:
        layout = scene.layout
        tank = next(iter(layout.nodes.values()))
        most = min(MOST_RADIUS_MM, MOST_OF_HEIGHT * space.up.length_mm)
        out = layout.nodes[layout.runs_at[tank.id][0].end]
        self.space, self.layer = space, scene.layers.equipment
        self.at = space.node(tank)
        self.radius = min(max((self.at.z - FEET_MM) / 1.3, LEAST_RADIUS_MM), most)
        self.axis_up = max(self.radius + FEET_MM - self.at.z, -UP_THE_END * self.radius)
        wall = scene.wall_of(tank)
        way = out.at.plan.minus(tank.at.plan)
        along = wall.along if way.dot(wall.along) >= 0.0 else Point(-wall.along.x, -wall.along.y)
        self.back, self.side = self._drawn_way(Point(-along.x, -along.y)), self._drawn_way(along.left)

    def _drawn_way(self, toward: Point) -> Point:
        """A direction of the plan in the drawn axes, a quarter turned at a time."""
        return Point(*turned(*toward, self.space.turn))

    def place(self, along: float, across: float, up: float) -> Point:
        plan = Point(self.at.x, self.at.y).plus(self.back, along).plus(self.side, across)
        return self.space.seen(Point3(plan.x, plan.y, self.at.z + self.axis_up + up))

    def round(self, along: float, radius: float, centre_up: float = 0.0, across: float = 0.0) -> list[Point]:
        """A circle across the axis."""
        turns = [2 * math.pi * i / STEPS for i in range(STEPS)]
        return [
            self.place(along, across + radius * math.cos(turn), centre_up + radius * math.sin(turn)) for turn in turns
        ]

    def near_end(self, begin: float, end: float) -> tuple[float, float]:
        """Two places along the axis, the one nearer to the eye first."""
        toward = -(self.back.x + self.back.y)
        return (end, begin) if toward > 0 else (begin, end)

    def cylinder(
        self, begin: float, end: float, radius: float, up: float, across: float
    ) -> tuple[list[Item], list[Point]]:
        """Its near face whole, and the outline of the rest."""
        from shapely import MultiPoint

        near, far = (self.round(along, radius, up, across) for along in self.near_end(begin, end))
        hull = [Point(*at) for at in MultiPoint([*near, *far]).convex_hull.exterior.coords[:-1]]
        return [Polyline(self.layer, tuple(hull), True), Polyline(self.layer, tuple(near), True)], hull

    def box(self, low: Point3, high: Point3) -> tuple[list[Item], list[Point]]:
        """The three faces of a block that are seen."""
        from shapely import MultiPoint

        corners = {
            (i, j, k): self.place((low.x, high.x)[i], (low.y, high.y)[j], (low.z, high.z)[k])
            for i in (0, 1) for j in (0, 1) for k in (0, 1)
        }  # fmt: skip
        hull = [Point(*at) for at in MultiPoint(list(corners.values())).convex_hull.exterior.coords[:-1]]
        i = 1 if -(self.back.x + self.back.y) > 0 else 0
        j = 1 if -(self.side.x + self.side.y) > 0 else 0
        near = corners[i, j, 1]
        edges = [Line(self.layer, near, corners[other]) for other in ((1 - i, j, 1), (i, 1 - j, 1), (i, j, 0))]
        return [Polyline(self.layer, tuple(hull), True), *edges], hull


def compressor_set(scene: Scene, space: IsometricSpace) -> Outline:
    """Draw the compressor on its tank, the tank's end where the connection is."""
    made = _Set(scene, space)
    top = made.radius
    long = min(TANK_MM - 4.0, LONG * top)
    tank, tank_hull = made.cylinder(0.0, long, top, 0.0, 0.0)
    parts = [
        made.box(Point3(0.2 * long, -3.4, top - 0.5), Point3(0.48 * long, 3.4, top + 6.5)),
        made.cylinder(0.58 * long, 0.92 * long, 2.8, top + 2.6, 0.0),
    ]
    items = list(_visible(tank, [hull for _, hull in parts], scene.layers.equipment))
    first, second = sorted(parts, key=lambda part: _lowest(part[1]))
    items += [*_visible(first[0], [second[1]], scene.layers.equipment), *second[0]]
    items += _feet(made, tank_hull, long)
    area = _joined([tank_hull, *(hull for _, hull in parts)])
    return Outline(tuple(items), area, made.place(0.34 * long, 0.0, top + 6.5))


def _lowest(hull: list[Point]) -> float:
    """Of things at one height what is seen lower stands nearer."""
    return -min(point.y for point in hull)


def _visible(items: list[Item], hulls: list[list[Point]], layer: str) -> Iterator[Item]:
    """The lines of a thing that others do not hide."""
    from shapely import LineString, Polygon, unary_union

    before = unary_union([Polygon(hull) for hull in hulls])
    for item in items:
        match item:
            case Line():
                points = [item.start, item.end]
            case Polyline():
                points = [*item.points, *([item.points[0]] if item.closed else [])]
            case _:
                continue
        rest = LineString(points).difference(before)
        for part in getattr(rest, "geoms", [rest]):
            if len(part.coords) > 1:
                yield Polyline(layer, tuple(Point(*at) for at in part.coords))


def _feet(made: _Set, hull: list[Point], long: float) -> Iterator[Item]:
    """Four short legs down to the floor, as far as the tank does not hide them."""
    from shapely import LineString, Polygon

    floor = -made.at.z - made.axis_up
    for along in (0.15 * long, 0.85 * long):
        for across in (-0.6 * made.radius, 0.6 * made.radius):
            line = LineString([made.place(along, across, 0.0), made.place(along, across, floor)])
            rest = line.difference(Polygon(hull))
            for part in getattr(rest, "geoms", [rest]):
                if len(part.coords) > 1:
                    yield Polyline(made.layer, tuple(Point(*at) for at in part.coords))


def _joined(hulls: list[list[Point]]) -> tuple[Point, ...]:
    from shapely import Polygon, unary_union

    whole = unary_union([Polygon(hull) for hull in hulls]).convex_hull
    return tuple(Point(*at) for at in whole.exterior.coords[:-1])
