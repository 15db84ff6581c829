"""Dimensions of the plan: running ones to the piping along each outer wall, then the room overall."""

from __future__ import annotations

from typing import Literal

from drafter.drawing import Dimension, Item, Line, Ordinate
from drafter.geometry import Point
from drafter.layout.graph import NodeKind, RunKind
from drafter.lettering import text_width_mm
from drafter.sheets.placing import spread
from drafter.sheets.scene import Scene, mm
from drafter.site.wall import Wall

FIRST_MM = 9.0
STEP_MM = 8.0
LEAST_PITCH_MM = 3.8


def plan_dimensions(scene: Scene, scale: int) -> list[Item]:
    """Draw the dimensions outside each wall that stands free; walls between rooms are dimensioned in elevation."""
    found: list[Item] = []
    for walls in scene.site.walls.values():
        free = [wall for wall in walls if _square(wall) and _outside_free(scene, wall, scale)]
        free.sort(key=lambda wall: not _stops(scene, wall))
        said: set[tuple[bool, int]] = set()
        for wall in free:
            measure = (abs(wall.along.x) > 0.5, round(wall.length_m * 1000.0))
            found += _wall_dimensions(scene, wall, scale, overall=measure not in said)
            said.add(measure)
    return found


def _square(wall: Wall) -> bool:
    return min(abs(wall.along.x), abs(wall.along.y)) < 1e-6


def _outside_free(scene: Scene, wall: Wall, scale: int) -> bool:
    from shapely import LineString, Polygon

    out = wall.thickness_m + 30.0 * scale / 1000.0
    band = LineString([wall.at(0.3, -out), wall.at(wall.length_m - 0.3, -out), wall.at(wall.length_m / 2, -0.3)])
    return not any(
        band.intersects(Polygon([w.left for w in walls]).buffer(0.05)) for walls in scene.site.walls.values()
    )


def _wall_dimensions(scene: Scene, wall: Wall, scale: int, overall: bool) -> list[Item]:
    units, layer = scene.units, scene.layers.dims
    along, out = wall.along, Point(-wall.inward.x, -wall.inward.y)
    axis: Literal["x", "y"] = "x" if abs(along.x) > 0.5 else "y"
    face = wall.thickness_m * 1000.0
    stops = _stops(scene, wall)
    found: list[Item] = []
    reach = FIRST_MM
    if stops:
        origin = mm(wall.left).plus(out, face)
        shown = [units.length(s) for s in stops]
        places = spread([s * 1000.0 / scale for s in stops], LEAST_PITCH_MM)
        for s, text, place in zip(stops, shown, places, strict=True):
            feature = origin.plus(along, s * 1000.0).plus(out, 1.0 * scale)
            end = origin.plus(along, place * scale).plus(out, FIRST_MM * scale)
            found.append(Ordinate(layer, origin, feature, end, axis, text))
        found.append(Line(layer, origin.plus(out, 1.0 * scale), origin.plus(out, FIRST_MM * scale)))
        reach = FIRST_MM + 4.0 + max(text_width_mm(text, 2.5) for text in shown) + 3.0
    if not overall:
        return found
    start, end = mm(wall.left).plus(out, face), mm(wall.right).plus(out, face)
    line_at = start.plus(out, (reach + 2.0) * scale)
    angle = 0.0 if axis == "x" else 90.0
    found.append(Dimension(layer, start, end, line_at, angle, units.length(wall.length_m)))
    return found


def _stops(scene: Scene, wall: Wall) -> list[float]:
    """Distances from the left-hand corner of what must be set out on a wall, on the grid of dimensions."""
    layout, found = scene.layout, set()
    for node in layout.nodes.values():
        if (node.room, node.wall) != (wall.room, wall.name):
            continue
        runs = layout.runs_at[node.id]
        riser = node.kind is NodeKind.TEE and runs[0].kind is RunKind.RISER
        low_end = node.kind is NodeKind.BEND and runs[-1].kind is RunKind.DRIP_LEG
        sleeve = any(run.kind is RunKind.SLEEVE for run in runs)
        if node.kind is NodeKind.COUPLING or riser or low_end or sleeve:
            found.add(scene.units.snapped_m(layout.from_left_m(node)))
    return sorted(found)
