"""Dimensions of the plan: running ones to the piping along each outer wall, then the room overall."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Literal

from drafter.drawing import Circle, Dimension, Item, Line, Ordinate
from drafter.geometry import Box, Point
from drafter.layout.graph import NodeKind
from drafter.lettering import text_width_mm
from drafter.sheets.cuts import Cuts
from drafter.sheets.enlarged_region import Region
from drafter.sheets.item_boxes import boxes_of
from drafter.sheets.placing import Ground
from drafter.sheets.plan_within import DATUM_MM, LEAST_PITCH_MM, ring_at_corner, within_room
from drafter.sheets.running_dimensions import CROWDED, set_out
from drafter.sheets.scene import Scene, mm
from drafter.sheets.spreading import spread_between, too_close
from drafter.site.wall import Wall

FIRST_MM = 9.0
STEP_MM = 8.0
OFF_CUT_MM, PAST_LEAF_MM = 1.0, 3.0
NEXT_ROW_MM = 0.8
"""Kept between the running dimensions of two walls."""


def plan_dimensions(scene: Scene, ground: Ground, cuts: Cuts, elsewhere: Region | None = None) -> list[Item]:
    """Draw running dimensions outside each wall that stands free, and each room's corners in chains.

    What is set out where another room lies behind the wall, or where dimensions would stand in those of another wall,
    is dimensioned within the room, beside that wall, or where there is no room either, in its elevation. Where
    dimensions are too close together to be read, the ground is told.

    Args:
        ground: with all pipes and signs.
        elsewhere: what is dimensioned on its enlarged plan.
    """
    found: list[Item] = []
    taken = Ground(ground.scale)
    scale = int(ground.scale)
    partly, full = list[Wall](), list[Wall]()
    for room, walls in scene.site.walls.items():
        for wall in walls:
            if not is_square(wall):
                continue
            if not _outside_free(scene, wall, scale):
                partly.append(wall)
                continue
            row, crowded = _to_piping(scene, wall, scale, cuts, _stops(scene, wall, elsewhere))
            boxes = [box for item in row for box in boxes_of(item, scale, {})]
            if all(taken.free(box) for box in boxes):
                found += row
                for box in boxes:
                    taken.take(box.grown(NEXT_ROW_MM))
                if crowded:
                    ground.homeless.append(CROWDED)
            else:
                full.append(wall)
        if all(is_square(wall) for wall in walls):
            found += _chains(scene, room, scale, cuts)
    beside = _beside_rooms(scene, partly, ground.scale, cuts, found, elsewhere)
    for wall in partly:
        found += beside[wall]
    for wall in (*partly, *full):
        left = [stop for stop in _stops(scene, wall, elsewhere) if not _is_set_out(scene, stop, beside.get(wall))]
        found += within_room(scene, wall, left, ground, cuts, found, not beside.get(wall))
    return found


def _is_set_out(scene: Scene, stop: float, row: list[Item] | None) -> bool:
    words = scene.units.length(stop)
    return any(isinstance(item, Ordinate) and item.text == words for item in row or ())


def _beside_rooms(
    scene: Scene, walls: list[Wall], scale: float, cuts: Cuts, drawn: list[Item], elsewhere: Region | None
) -> dict[Wall, list[Item]]:
    """Running dimensions of walls that another room lies behind, of what is set out beside that room."""
    taken = Ground(scale)
    for item in drawn:
        for box in boxes_of(item, int(scale), {}):
            taken.take(box.grown(NEXT_ROW_MM))
    found: dict[Wall, list[Item]] = {}
    for wall in walls:
        stops = [s for s in _stops(scene, wall, elsewhere) if _outside_free(scene, wall, int(scale), s)]
        stops = [
            stop for stop in stops if _finds_room(_to_piping(scene, wall, int(scale), cuts, [stop])[0], taken, cuts)
        ]
        row, crowded = _to_piping(scene, wall, int(scale), cuts, stops)
        found[wall] = row if not crowded and _finds_room(row, taken, cuts) else []
        for item in found[wall]:
            for box in boxes_of(item, int(scale), {}):
                taken.take(box.grown(NEXT_ROW_MM))
    return found


def _finds_room(row: list[Item], taken: Ground, cuts: Cuts) -> bool:
    """Whether dimensions stand in nothing and are cut by no match line."""
    boxes = [box for item in row for box in boxes_of(item, int(taken.scale), {})]
    across, up = ([at / taken.scale for at in each] for each in (cuts.upright, cuts.level))
    cut = any(
        any(box.left < at < box.right for at in across) or any(box.bottom < at < box.top for at in up) for box in boxes
    )
    return not cut and all(map(taken.free, boxes))


def _chains(scene: Scene, room: str, scale: int, cuts: Cuts) -> list[Item]:
    """Chains over the corners of a room and its overall size, below or above it and to its right or left."""
    walls = scene.site.walls[room]
    box = Box.around([wall.left for wall in walls])
    found: list[Item] = []
    for axis in ("x", "y"):
        stops = sorted({round(wall.left.x if axis == "x" else wall.left.y, 6) for wall in walls})
        for low_side in (axis == "x", axis != "x"):
            if is_side_free(scene, room, box, axis, low_side, scale):
                found += _chain(scene, walls, box, axis, low_side, stops, scale, cuts)
                break
    return found


def is_side_free(scene: Scene, room: str, box: Box, axis: str, low_side: bool, scale: int) -> bool:
    from shapely import Polygon
    from shapely import box as rectangle

    out = 40.0 * scale / 1000.0
    if axis == "x":
        edge = box.bottom if low_side else box.top
        band = rectangle(box.left, edge - out * low_side, box.right, edge + out * (not low_side))
    else:
        edge = box.left if low_side else box.right
        band = rectangle(edge - out * low_side, box.bottom, edge + out * (not low_side), box.top)
    others = [Polygon([w.left for w in walls]) for name, walls in scene.site.walls.items() if name != room]
    return not any(band.intersects(other) for other in others)


def _chain(
    scene: Scene,
    walls: tuple[Wall, ...],
    box: Box,
    axis: str,
    low_side: bool,
    stops: list[float],
    scale: int,
    cuts: Cuts,
) -> list[Item]:
    units, layer = scene.units, scene.layers.dims
    edge = (box.bottom if low_side else box.top) if axis == "x" else (box.left if low_side else box.right)
    sign = -1.0 if low_side else 1.0
    face = edge + sign * walls[0].thickness_m
    beside = [
        wall for wall in walls
        if abs((wall.left.y if axis == "x" else wall.left.x) - edge) < 1e-6
        and abs(wall.along.x if axis == "x" else wall.along.y) > 0.5
    ]  # fmt: skip
    texts = [text_width_mm(units.length(s), 2.5) for wall in beside for s in _stops(scene, wall)]
    first = (FIRST_MM + 6.0 + max(texts)) if texts else FIRST_MM + 1.0
    if (leaf_m := swing_out_m(scene, beside)) > 0.0:
        first = max(first, leaf_m * 1000.0 / scale + PAST_LEAF_MM)

    def dimension(start: float, end: float, row: int) -> Dimension:
        line = face * 1000.0 + sign * (first + row * STEP_MM) * scale
        if axis == "x":
            a, b, at = Point(start * 1000.0, face * 1000.0), Point(end * 1000.0, face * 1000.0), Point(0.0, line)
        else:
            a, b, at = Point(face * 1000.0, start * 1000.0), Point(face * 1000.0, end * 1000.0), Point(line, 0.0)
        text, crossed = units.length(end - start), cuts.upright if axis == "x" else cuts.level
        shift_mm = _off(crossed, (start + end) * 500.0, text_width_mm(text, 2.5) / 2 + OFF_CUT_MM, scale)
        return Dimension(layer, a, b, at, 0.0 if axis == "x" else 90.0, text, shift_mm)

    found: list[Item] = [dimension(a, b, 0) for a, b in pairwise(stops)]
    if len(stops) > 2:
        found.append(dimension(stops[0], stops[-1], 1))
    return found


def swing_out_m(scene: Scene, walls: Sequence[Wall]) -> float:
    """How far the widest leaf of a door swings out through some walls of a room; 0 where none does."""
    return max(
        (
            opening.width_m
            for wall in walls
            for opening in scene.site.rooms[wall.room].openings
            if (opening.kind, opening.swing) == ("door", "out") and scene.site.wall(wall.room, opening.wall) is wall
        ),
        default=0.0,
    )


def _off(cuts: Sequence[float], middle: float, half_mm: float, scale: int) -> float:
    """How far a number in the middle of its dimension moves so that no match line cuts it [mm on paper]."""
    for cut in cuts:
        off_mm = (middle - cut) / scale
        if abs(off_mm) < half_mm:
            return half_mm - off_mm if off_mm >= 0.0 else -half_mm - off_mm
    return 0.0


def is_square(wall: Wall) -> bool:
    return min(abs(wall.along.x), abs(wall.along.y)) < 1e-6


def _outside_free(scene: Scene, wall: Wall, scale: int, at_m: float | None = None) -> bool:
    """Whether no room lies behind a wall, or behind a place on it, as far out as dimensions reach."""
    from shapely import LineString, Polygon

    out = wall.thickness_m + 30.0 * scale / 1000.0
    ends = (0.3, wall.length_m - 0.3) if at_m is None else (at_m - 0.3, at_m + 0.3)
    band = LineString([wall.at(ends[0], -out), wall.at(ends[1], -out), wall.at(sum(ends) / 2, -0.3)])
    return not any(
        band.intersects(Polygon([w.left for w in walls]).buffer(0.05)) for walls in scene.site.walls.values()
    )


def _is_on_wall(scene: Scene, at: Point) -> bool:
    """Whether a point of the plan lies on a wall, where it would seem to be of that wall."""
    for walls in scene.site.walls.values():
        for wall in walls:
            along_m, off_m = wall.measure(Point(at.x / 1000.0, at.y / 1000.0))
            if -0.01 <= along_m <= wall.length_m + 0.01 and -wall.thickness_m - 0.01 <= off_m <= 0.01:
                return True
    return False


def _to_piping(scene: Scene, wall: Wall, scale: int, cuts: Cuts, stops: list[float]) -> tuple[list[Item], bool]:
    """Running dimensions from a wall's left-hand corner to what must be set out on it; and whether they are too close.

    They stay abreast of the wall, so that those of the next one have room, and off lines from the room's corners.
    """
    units, layer = scene.units, scene.layers.dims
    along, out = wall.along, Point(-wall.inward.x, -wall.inward.y)
    axis: Literal["x", "y"] = "x" if abs(along.x) > 0.5 else "y"
    if not stops:
        return [], False
    origin = mm(wall.left).plus(out, wall.thickness_m * 1000.0)
    wanted, ends = [s * 1000.0 / scale for s in stops], [0.0, wall.length_m * 1000.0 / scale]
    crossed = cuts.upright if axis == "x" else cuts.level
    from_left = [((cut - (origin.x if axis == "x" else origin.y)) * (along.x + along.y)) / scale for cut in crossed]
    corners = [wall.measure(each.left)[0] * 1000.0 / scale for each in scene.site.walls[wall.room]]
    inside = [at for at in (*from_left, *corners) if ends[0] + 0.1 < at < ends[1] - 0.1]
    places = spread_between(wanted, LEAST_PITCH_MM, [*ends, *inside])
    datum, end = origin.plus(out, 1.0 * scale), origin.plus(out, FIRST_MM * scale)
    found: list[Item] = [Line(layer, datum, end), Circle(layer, end, DATUM_MM * scale)]
    if _is_on_wall(scene, end):
        found = [ring_at_corner(scene, wall, scale)]
    for s, place in zip(stops, places, strict=True):
        feature = origin.plus(along, s * 1000.0).plus(out, 1.0 * scale)
        end = origin.plus(along, place * scale).plus(out, FIRST_MM * scale)
        found.append(Ordinate(layer, origin, feature, end, axis, units.length(s)))
    return found, too_close(wanted, places, LEAST_PITCH_MM)


def _stops(scene: Scene, wall: Wall, elsewhere: Region | None = None) -> list[float]:
    """What is set out on a wall [m], but for what an enlarged plan shows; outlets are."""
    nodes = [n for n in scene.layout.nodes.values() if (n.room, n.wall) == (wall.room, wall.name)]
    if elsewhere is not None:
        nodes = [n for n in nodes if n.kind is NodeKind.COUPLING or not elsewhere.holds(mm(n.at.plan))]
    stops = set_out(scene, wall, nodes, (NodeKind.COUPLING, NodeKind.SPARE_TEE))
    panels = (
        keep.from_left_m + far * keep.width_m
        for keep in scene.site.rooms[wall.room].keep_clear
        for far in (0, 1)
        if keep.kind == "electrical panel" and keep.wall == wall.name
    )
    return sorted({*stops, *map(scene.units.snapped_m, panels)})
