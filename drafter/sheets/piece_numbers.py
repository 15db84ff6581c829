"""Numbers of the cutting list beside the pieces of an elevation, where there is room for them."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from drafter.drawing import Item, Text
from drafter.geometry import Point
from drafter.layout.graph import Node, Run
from drafter.lettering import text_width_mm
from drafter.sheets.placing import Ground
from drafter.sheets.scene import Scene
from drafter.takeoff.pieces import Span

TEXT_MM = 2.5
CLEAR_MM = 0.7
SHARES = (0.5, 0.35, 0.65, 0.2, 0.8)


def piece_numbers(scene: Scene, ground: Ground, runs: Sequence[Run], at: Callable[[Node], Point]) -> list[Item]:
    """Return the numbers that find free ground beside their piece; the others stand in the cutting list alone.

    A piece that is bent round a corner of the view is numbered on its longest part there.

    Args:
        at: where a node stands in the view.
    """
    nodes = scene.layout.nodes
    ends = {run.id: (at(nodes[run.start]), at(nodes[run.end])) for run in runs}
    pieces: dict[str, list[tuple[int, Point, Point]]] = {}
    for piece in scene.takeoff.pieces:
        parts = [(span.run, *_between(*ends[span.run], span)) for span in piece.spans if span.run in ends]
        if parts:
            longest, first, last = max(parts, key=lambda part: round(part[2].minus(part[1]).length))
            pieces.setdefault(longest, []).append((piece.number, first, last))
    found: list[Item] = []
    for run in runs:
        for number, first, last in pieces.get(run.id, []):
            found += _number(scene, ground, f"pc {number}", first, last)
    return found


def _between(start: Point, end: Point, span: Span) -> tuple[Point, Point]:
    way = end.minus(start)
    return start.plus(way, span.start), start.plus(way, span.end)


def _number(scene: Scene, ground: Ground, words: str, start: Point, end: Point) -> list[Item]:
    scale, way = ground.scale, end.minus(start)
    width = text_width_mm(words, TEXT_MM)
    if way.length < (width + 2 * CLEAR_MM) * scale:
        return []
    upright = abs(way.y) > abs(way.x)
    angle, along = (90.0, Point(0.0, 1.0)) if upright else (0.0, Point(1.0, 0.0))
    for share in SHARES:
        for off in (CLEAR_MM, -CLEAR_MM - TEXT_MM):
            left = start.plus(way, share).plus(along, -width / 2 * scale).plus(along.left, off * scale)
            corner = left.plus(along, width * scale).plus(along.left, TEXT_MM * scale)
            room = ground.around([left, corner]).grown(0.4)
            if ground.free(room):
                ground.take(room, words=True)
                return [Text(scene.layers.tag, left, words, TEXT_MM, angle_deg=angle)]
    return []
