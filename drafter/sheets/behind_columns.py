"""Pipes that pass behind columns, as one who faces the wall sees them: dashed there."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.geometry import Point
from drafter.layout.graph import Run
from drafter.sheets.scene import Scene
from drafter.sheets.wall_face import fronts_shown
from drafter.site.wall import Wall


def parted(scene: Scene, wall: Wall, run: Run, start: Point, end: Point) -> Iterator[tuple[Point, Point, bool]]:
    """Yield the pieces of a run's line in an elevation from its start on, and whether a column stands before each.

    Args:
        start, end: of the line, in the view's millimetres.
    """
    nodes = scene.layout.nodes
    off_m = max(wall.measure(nodes[id].at.plan)[1] for id in (run.start, run.end))
    way, at = end.minus(start), 0.0
    for low, high in _shares(scene, wall, off_m, start, way):
        if low > at:
            yield start.plus(way, at), start.plus(way, low), False
        yield start.plus(way, low), start.plus(way, high), True
        at = high
    if at < 1.0:
        yield start.plus(way, at), end, False


def _shares(scene: Scene, wall: Wall, off_m: float, start: Point, way: Point) -> list[tuple[float, float]]:
    """The shares of a line that are behind columns, in its order."""
    found = []
    for front in fronts_shown(scene.site, wall):
        if front.back_m < off_m:
            continue
        left, right = front.low_m * 1000.0, front.high_m * 1000.0
        if abs(way.x) < 1.0:
            found += [(0.0, 1.0)] if left < start.x < right else []
            continue
        low, high = sorted(((left - start.x) / way.x, (right - start.x) / way.x))
        if max(low, 0.0) < min(high, 1.0):
            found.append((max(low, 0.0), min(high, 1.0)))
    return sorted(found)
