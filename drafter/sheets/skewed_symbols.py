"""Symbols laid into a plane of the isometric: along a pipe one way, along another axis the other."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from drafter.drawing import Arc, Area, Circle, Item, Line, Polyline, Symbol, Text
from drafter.geometry import Point

STEP_DEG = 15.0


@dataclass(frozen=True, slots=True)
class Plane:
    """A plane as it is seen: where a symbol's own directions go.

    Attributes:
        at: the symbol's insertion point in the view.
        along, up: what a millimetre of its x and y axis becomes in the view.
    """

    at: Point
    along: Point
    up: Point

    def point(self, point: Point) -> Point:
        return self.at.plus(self.along, point.x).plus(self.up, point.y)


def plane(at: Point, along: Point, up: Point, size: float) -> Plane:
    """Return the plane of two directions, unit vectors of the view, with symbols grown by ``size``."""
    return Plane(at, Point(along.x * size, along.y * size), Point(up.x * size, up.y * size))


def skewed(symbol: Symbol, layer: str, into: Plane) -> Iterator[Item]:
    """Yield the shapes of a symbol in a plane; circles become closed lines, texts stay upright."""
    for shape in symbol.shapes:
        match shape:
            case Line():
                yield Line(layer, into.point(shape.start), into.point(shape.end))
            case Polyline():
                yield Polyline(layer, tuple(map(into.point, shape.points)), shape.closed)
            case Circle():
                ring = tuple(map(into.point, _round(shape.centre, shape.radius, 0.0, 360.0)[:-1]))
                yield Area(layer, ring) if shape.filled else Polyline(layer, ring, True)
            case Arc():
                points = _round(shape.centre, shape.radius, shape.start_deg, shape.end_deg)
                yield Polyline(layer, tuple(map(into.point, points)))
            case Area():
                holes = tuple(tuple(map(into.point, hole)) for hole in shape.holes)
                yield Area(layer, tuple(map(into.point, shape.boundary)), holes, shape.fill, shape.spacing_mm)
            case Text():
                yield Text(
                    layer, into.point(shape.at), shape.text, shape.height_mm * 0.6, "centre", weight=shape.weight
                )


def _round(centre: Point, radius: float, start_deg: float, end_deg: float) -> list[Point]:
    end_deg += 360.0 if end_deg <= start_deg else 0.0
    count = max(2, math.ceil((end_deg - start_deg) / STEP_DEG))
    return [
        centre.plus(Point(radius, 0.0).turned(start_deg + (end_deg - start_deg) * i / count)) for i in range(count + 1)
    ]
