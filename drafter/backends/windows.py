"""What a window of a sheet shows of a view: nothing past its edge is written, so that no search finds it there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from drafter.backends.poses import Shape, shape_box
from drafter.drawing import Arc, Circle, Line, Polyline
from drafter.geometry import Box, Point

STEP_DEG = 3.0


def seen(shapes: Iterable[Shape], window: Box) -> Iterator[Shape]:
    """Yield shapes [mm on paper] that lie in a window; lines end at its edge, other shapes over it stay whole."""
    for shape in shapes:
        box = shape_box(shape)
        if window.contains(Point(box.left, box.bottom)) and window.contains(Point(box.right, box.top)):
            yield shape
        elif box.left > window.right or box.right < window.left or box.bottom > window.top or box.top < window.bottom:
            continue
        elif isinstance(shape, Line):
            yield from _inside(shape.layer, [(shape.start, shape.end)], window)
        elif isinstance(shape, Polyline):
            points = [*shape.points, *(shape.points[:1] if shape.closed else ())]
            yield from _inside(shape.layer, pairwise(points), window)
        elif isinstance(shape, (Arc, Circle)) and not (isinstance(shape, Circle) and shape.filled):
            yield from _inside(shape.layer, pairwise(_round(shape)), window)
        else:
            yield shape


def _round(shape: Arc | Circle) -> list[Point]:
    """Points along an arc or a circle, few degrees apart."""
    first, last = (0.0, 360.0) if isinstance(shape, Circle) else (shape.start_deg, shape.end_deg)
    sweep = (last - first) % 360.0 or 360.0
    count = max(2, int(sweep / STEP_DEG))
    return [shape.centre.plus(Point(shape.radius, 0.0).turned(first + sweep * i / count)) for i in range(count + 1)]


def _inside(layer: str, lines: Iterable[tuple[Point, Point]], window: Box) -> Iterator[Line]:
    for start, end in lines:
        ends = _cut(start, end, window)
        if ends is not None:
            yield Line(layer, *ends)


def _cut(start: Point, end: Point, window: Box) -> tuple[Point, Point] | None:
    """The piece of a line inside a window, after Liang and Barsky (from memory)."""
    way, first, last = end.minus(start), 0.0, 1.0
    for step, room in (
        (-way.x, start.x - window.left),
        (way.x, window.right - start.x),
        (-way.y, start.y - window.bottom),
        (way.y, window.top - start.y),
    ):
        if step == 0.0:
            if room < 0.0:
                return None
        elif step < 0.0:
            first = max(first, room / step)
        else:
            last = min(last, room / step)
    return (start.plus(way, first), start.plus(way, last)) if first < last else None
