"""Numbers of the cutting list beside the pieces of an elevation, where there is room for them."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from drafter.drawing import Item, Text
from drafter.geometry import Box, Point
from drafter.layout.graph import Node, Run
from drafter.lettering import text_width_mm
from drafter.sheets.placing import Ground
from drafter.sheets.scene import Scene

TEXT_MM = 2.0
CLEAR_MM = 0.7
SHARES = (0.5, 0.35, 0.65, 0.2, 0.8)


def piece_numbers(scene: Scene, ground: Ground, runs: Sequence[Run], at: Callable[[Node], Point]) -> list[Item]:
    """Return the numbers that find free ground beside their piece; the others stand in the cutting list alone.

    Args:
        at: where a node stands in the view.
    """
    pieces: dict[str, list[tuple[int, float]]] = {}
    for piece in scene.takeoff.pieces:
        pieces.setdefault(piece.run, []).append((piece.number, piece.cut_m))
    found: list[Item] = []
    for run in runs:
        start, end = (at(scene.layout.nodes[id]) for id in (run.start, run.end))
        held, done = pieces.get(run.id, []), 0.0
        total = sum(cut_m for _, cut_m in held)
        for number, cut_m in held:
            way = end.minus(start)
            first = start.plus(way, done / total)
            done += cut_m
            found += _number(scene, ground, f"pc {number}", first, start.plus(way, done / total))
    return found


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
            room = Box.around([ground.paper(left), ground.paper(corner)]).grown(0.4)
            if ground.free(room):
                ground.take(room, words=True)
                return [Text(scene.layers.tag, left, words, TEXT_MM, angle_deg=angle)]
    return []
