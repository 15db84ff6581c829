"""Running dimensions within a room, before the wall they belong to, where there is no place for them outside it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from drafter.drawing import Circle, Item, Ordinate
from drafter.sheets.cuts import Cuts
from drafter.sheets.item_boxes import boxes_of
from drafter.sheets.placing import Ground
from drafter.sheets.scene import Scene, mm
from drafter.sheets.spreading import spread_between, too_close
from drafter.site.wall import Wall

LEAST_PITCH_MM = 3.8
DATUM_MM = 0.8
"""Radius of the circle that marks where running dimensions begin (ISO 129-1, from memory)."""

LINE_MM = 3.0
"""Length of the line before each number."""

NEAREST_MM, FARTHEST_MM = 3, 24
"""How far off the wall the lines may begin."""


def within_room(
    scene: Scene, wall: Wall, stops: Sequence[float], ground: Ground, cuts: Cuts, drawn: Sequence[Item], alone: bool
) -> list[Item]:
    """Draw running dimensions before a wall, all as far off where that can be; what finds no place is left out.

    Args:
        stops: from the left-hand corner [m].
        ground: with all pipes and signs; the room of the dimensions is taken there.
        drawn: dimensions that are no part of the ground yet.
        alone: whether the wall has no others that show where it is measured from.
    """
    others = Ground(ground.scale)
    others.enter(drawn, {})
    if row := _nearest(scene, wall, stops, (ground, others), cuts, alone):
        return row
    found: list[Item] = []
    for stop in stops:
        found += _nearest(scene, wall, [stop], (ground, others), cuts, alone and not found)
    return found


def _nearest(
    scene: Scene, wall: Wall, stops: Sequence[float], grounds: tuple[Ground, Ground], cuts: Cuts, alone: bool
) -> list[Item]:
    """A row as near its wall as it covers nothing, entered on the first ground; nothing where it has no place."""
    scale = grounds[0].scale
    wanted = [stop * 1000.0 / scale for stop in stops]
    places = spread_between(wanted, LEAST_PITCH_MM, [0.0, wall.length_m * 1000.0 / scale])
    if not stops or too_close(wanted, places, LEAST_PITCH_MM):
        return []
    for off_mm in range(NEAREST_MM, FARTHEST_MM):
        row = _row(scene, wall, stops, places, off_mm * scale, scale)
        boxes = [box for item in row for box in boxes_of(item, scale, {})]
        across, up = ([at / scale for at in each] for each in (cuts.upright, cuts.level))
        cut = any(
            any(box.left < at < box.right for at in across) or any(box.bottom < at < box.top for at in up)
            for box in boxes
        )
        if not cut and all(ground.free(box) for ground in grounds for box in boxes):
            if alone:
                row.append(ring_at_corner(scene, wall, scale))
            grounds[0].enter(row, {})
            return row
    return []


def _row(
    scene: Scene, wall: Wall, stops: Sequence[float], places: Sequence[float], off: float, scale: float
) -> list[Item]:
    axis: Literal["x", "y"] = "x" if abs(wall.along.x) > 0.5 else "y"
    origin = mm(wall.left)
    found: list[Item] = []
    for stop, place in zip(stops, places, strict=True):
        feature = origin.plus(wall.along, stop * 1000.0).plus(wall.inward, off)
        end = origin.plus(wall.along, place * scale).plus(wall.inward, off + LINE_MM * scale)
        found.append(Ordinate(scene.layers.dims, origin, feature, end, axis, scene.units.length(stop)))
    return found


def ring_at_corner(scene: Scene, wall: Wall, scale: float) -> Circle:
    """The circle where the dimensions of a wall begin, in its left-hand corner itself."""
    return Circle(scene.layers.dims, mm(wall.left), DATUM_MM * scale)
