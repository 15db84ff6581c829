"""What of a view's items lies within a box: lines and outlines end at its edge, signs and texts stand in it whole."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from drafter.drawing import Arc, Area, Circle, Insert, Item, Line, Polyline, Text
from drafter.geometry import Box, Point

ARC_STEPS = 24
WHOLE_MM = 2000.0
"""What is shorter than this from end to end may stay whole."""


def clipped(items: Iterable[Item], box: Box, whole: str = "") -> Iterator[Item]:
    """Yield what of some items lies within a box; inserts and texts where their points do, other items not at all.

    Args:
        whole: a layer whose short lines and arcs, such as leaves of doors, stay whole where they reach into the box.
    """
    from shapely import LineString, Polygon
    from shapely import box as rectangle

    frame = rectangle(box.left, box.bottom, box.right, box.top)
    for item in items:
        if item.layer == whole and _reaches_in(item, box):
            yield item
            continue
        match item:
            case Line():
                piece = LineString([item.start, item.end]).intersection(frame)
                if piece.length > 0.0:
                    start, end = (Point(*at) for at in piece.coords)
                    yield Line(item.layer, start, end, item.id)
            case Polyline():
                points = [*item.points, *(item.points[:1] if item.closed else ())]
                if frame.covers(LineString(points)):
                    yield item
                else:
                    yield from _pieces(item.layer, LineString(points).intersection(frame))
            case Arc() | Circle():
                if frame.covers(LineString(_round(item))):
                    yield item
                else:
                    yield from _pieces(item.layer, LineString(_round(item)).intersection(frame))
            case Area():
                shape = Polygon(item.boundary, item.holes).intersection(frame)
                for part in getattr(shape, "geoms", [shape]):
                    if part.area > 0.0:
                        rings = [tuple(Point(*at) for at in r.coords[:-1]) for r in (part.exterior, *part.interiors)]
                        yield Area(item.layer, rings[0], tuple(rings[1:]), item.fill, item.spacing_mm)
            case Insert() | Text():
                if box.contains(item.at):
                    yield item


def _reaches_in(item: Item, box: Box) -> bool:
    ends = _round(item) if isinstance(item, Arc) else [item.start, item.end] if isinstance(item, Line) else []
    return bool(ends) and any(map(box.contains, ends)) and ends[-1].minus(ends[0]).length < WHOLE_MM


def _pieces(layer: str, shape: object) -> Iterator[Polyline]:
    for piece in getattr(shape, "geoms", [shape]):
        if piece.length > 0.0 and piece.geom_type == "LineString":
            yield Polyline(layer, tuple(Point(*at) for at in piece.coords))


def _round(item: Arc | Circle) -> list[Point]:
    first, last = (0.0, 360.0) if isinstance(item, Circle) else (item.start_deg, item.end_deg)
    sweep = (last - first) % 360.0 or 360.0
    return [
        item.centre.plus(Point(item.radius, 0.0).turned(first + sweep * i / ARC_STEPS)) for i in range(ARC_STEPS + 1)
    ]
