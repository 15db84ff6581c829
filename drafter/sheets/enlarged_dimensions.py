"""Dimensions of an enlarged plan: where compressor, units and sleeves stand along their walls and off them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from drafter.drawing import Dimension, Item, Ordinate
from drafter.geometry import Box, Point
from drafter.layout.graph import Node, NodeKind
from drafter.lettering import text_width_mm
from drafter.sheets.enlarged_region import Region
from drafter.sheets.placing import Ground
from drafter.sheets.plan_dimensions import PAST_LEAF_MM, is_side_free, is_square, swing_out_m
from drafter.sheets.plan_within import LEAST_PITCH_MM, ring_at_corner
from drafter.sheets.running_dimensions import CROWDED, set_out
from drafter.sheets.scene import Scene, mm
from drafter.sheets.spreading import spread_between, too_close
from drafter.site.wall import Wall

PAST_TAG_MM, PAST_SLEEVE_MM, PAST_FRONT_MM, ROW_MM = 17.0, 3.0, 1.0, 6.0
"""Lines begin so far before the middle of a sign, past its tag, before the main where it passes a wall or turns, and
before the compressor; so long is the shortest."""

BESIDE_MM, OVERALL_MM = 5.0, 8.0
"""From a thing to the dimension of how far off its wall it stands; from the frame to the room's own size."""

PAST_NUMBER_MM = 1.0


def enlarged_dimensions(scene: Scene, region: Region, ground: Ground) -> list[Item]:
    """Draw running dimensions before each wall with plant on it, how far off it stands, and the size of the room."""
    found: list[Item] = []
    for wall in scene.site.walls[region.room]:
        if is_square(wall):
            found += _row(scene, wall, region, ground)
            found += _off_wall(scene, wall, region, ground)
    return [*found, *_overall(scene, region, ground)]


def _row(scene: Scene, wall: Wall, region: Region, ground: Ground) -> list[Item]:
    """Running dimensions from the left-hand corner, in the room before what they measure."""
    scale, units, layer = ground.scale, scene.units, scene.layers.dims
    stops = _stops(scene, wall, region, scale)
    if not stops:
        return []
    axis: Literal["x", "y"] = "x" if abs(wall.along.x) > 0.5 else "y"
    row_mm = max(stops.values()) + ROW_MM * scale
    number_mm = max(text_width_mm(units.length(s), 2.5) for s in stops)
    if not region.holds(mm(wall.at(wall.length_m / 2)).plus(wall.inward, row_mm + number_mm * scale)):
        ground.homeless.append(CROWDED)
        return []
    wanted = [s * 1000.0 / scale for s in stops]
    places = spread_between(wanted, LEAST_PITCH_MM, [0.0, wall.length_m * 1000.0 / scale])
    if too_close(wanted, places, LEAST_PITCH_MM):
        ground.homeless.append(CROWDED)
    origin = mm(wall.left)
    found: list[Item] = []
    if region.holds(origin):
        found.append(ring_at_corner(scene, wall, scale))
    for (s, off_mm), place in zip(stops.items(), places, strict=True):
        feature = origin.plus(wall.along, s * 1000.0).plus(wall.inward, off_mm)
        end = origin.plus(wall.along, place * scale).plus(wall.inward, row_mm)
        found.append(Ordinate(layer, origin, feature, end, axis, units.length(s)))
    return found


def _stops(scene: Scene, wall: Wall, region: Region, scale: float) -> dict[float, float]:
    """What is set out along a wall [m], in order, and how far off the wall its line begins [mm in the view]."""
    found: dict[float, float] = {}
    for node in scene.layout.nodes.values():
        on_wall = (node.room, node.wall) == (wall.room, wall.name) and region.holds(mm(node.at.plan))
        if on_wall and not scene.layout.outlet_at(node):
            for stop in set_out(scene, wall, [node], (NodeKind.TREATMENT, NodeKind.SPARE_TEE, NodeKind.DRAIN)):
                past_mm = PAST_SLEEVE_MM if scene.layout.is_on_main(node) else PAST_TAG_MM
                off_mm = wall.measure(node.at.plan)[1] * 1000.0 + past_mm * scale
                found[stop] = max(found.get(stop, 0.0), off_mm)
    plant = scene.site.compressor
    if (plant.room, plant.wall) == (wall.room, wall.name):
        for end_m in (plant.from_left_m, plant.from_left_m + plant.width_m):
            stop, off_mm = (
                scene.units.snapped_m(end_m),
                (plant.off_wall_m + plant.depth_m) * 1000.0 + PAST_FRONT_MM * scale,
            )
            found[stop] = max(found.get(stop, 0.0), off_mm)
    return dict(sorted(found.items()))


def _off_wall(scene: Scene, wall: Wall, region: Region, ground: Ground) -> Iterator[Item]:
    """How far off a wall the compressor stands and the treatment hangs, beside them where nothing else is drawn."""
    plant, scale = scene.site.compressor, ground.scale
    beside = BESIDE_MM * scale / 1000.0
    if (plant.room, plant.wall) == (wall.room, wall.name) and plant.off_wall_m > 0.0:
        ends = (plant.from_left_m, plant.from_left_m + plant.width_m)
        yield from _first_free(scene, wall, ground, plant.off_wall_m, (ends[0] - beside, ends[1] + beside))
    units = [node for node in _treatment(scene) if (node.room, node.wall) == (wall.room, wall.name)]
    if units:
        along, offs = zip(*(wall.measure(node.at.plan) for node in units), strict=True)
        between = [(a + b) / 2 for a, b in zip(sorted(along), sorted(along)[1:], strict=False)]
        at = [s for s in (min(along) - beside, max(along) + beside, *between) if region.holds(mm(wall.at(s)))]
        yield from _first_free(scene, wall, ground, scene.units.set_out_m(offs[0]), at)


def _treatment(scene: Scene) -> Iterator[Node]:
    return (node for node in scene.layout.nodes.values() if node.kind is NodeKind.TREATMENT)


def _first_free(
    scene: Scene, wall: Wall, ground: Ground, off_m: float, places_m: tuple[float, ...] | list[float]
) -> list[Item]:
    """A dimension off a wall at the first of some places along it whose number covers nothing; its room is taken."""
    for s in places_m:
        if 0.0 < s < wall.length_m:
            item, number = _off_dimension(scene, wall, s, off_m, ground.scale)
            if ground.free(number):
                ground.take(number, words=True)
                return [item]
    return []


def _off_dimension(scene: Scene, wall: Wall, s: float, off_m: float, scale: float) -> tuple[Dimension, Box]:
    """A dimension from a wall's face into the room, its number past the end where it is short; and that one's room."""
    text = scene.units.length(off_m)
    start, end = mm(wall.at(s)), mm(wall.at(s, off_m))
    upright = abs(wall.inward.y) > 0.5
    width, long = text_width_mm(text, 2.5), off_m * 1000.0 / scale
    way = wall.inward.y if upright else wall.inward.x
    past = width + 2 * PAST_NUMBER_MM > long
    shift = way * (long / 2 + width / 2 + PAST_NUMBER_MM) if past else 0.0
    middle = Point((start.x + end.x) / 2 / scale, (start.y + end.y) / 2 / scale)
    if upright:
        at = middle.plus(Point(0.0, shift))
        number = Box(at.x - 3.5, at.y - width / 2, at.x, at.y + width / 2)
        return Dimension(scene.layers.dims, start, end, start, 90.0, text, shift), number
    at = middle.plus(Point(shift, 0.0))
    number = Box(at.x - width / 2, at.y, at.x + width / 2, at.y + 3.5)
    return Dimension(scene.layers.dims, start, end, start, 0.0, text, shift), number


def _overall(scene: Scene, region: Region, ground: Ground) -> Iterator[Item]:
    """The size of a room that is shown whole, on sides where no other room lies."""
    walls, scale = scene.site.walls[region.room], int(ground.scale)
    room = Box.around([wall.left for wall in walls])
    low, high = mm(Point(room.left, room.bottom)), mm(Point(room.right, room.top))
    if not (region.holds(low) and region.holds(high)) or not all(map(is_square, walls)):
        return
    units, layer = scene.units, scene.layers.dims
    x_low = is_side_free(scene, region.room, room, "x", True, scale)
    y_low = not is_side_free(scene, region.room, room, "y", False, scale)
    face_y, face_x = (low.y if x_low else high.y), (low.x if y_low else high.x)
    along_x = [wall for wall in walls if abs(wall.left.y * 1000.0 - face_y) + abs(wall.right.y * 1000.0 - face_y) < 1.0]
    along_y = [wall for wall in walls if abs(wall.left.x * 1000.0 - face_x) + abs(wall.right.x * 1000.0 - face_x) < 1.0]
    edge_y, edge_x = (region.box.bottom if x_low else region.box.top), (region.box.left if y_low else region.box.right)
    y = _past(edge_y, along_x, scene, scale, -1.0 if x_low else 1.0)
    x = _past(edge_x, along_y, scene, scale, -1.0 if y_low else 1.0)
    yield Dimension(layer, Point(low.x, face_y), Point(high.x, face_y), Point(0.0, y), 0.0, units.length(room.width))
    yield Dimension(layer, Point(face_x, low.y), Point(face_x, high.y), Point(x, 0.0), 90.0, units.length(room.height))


def _past(edge: float, walls: list[Wall], scene: Scene, scale: int, way: float) -> float:
    """Where a dimension line lies past an edge of what is shown, and past the leaves of doors that swing out there."""
    leaf = swing_out_m(scene, walls) * 1000.0
    return edge + way * max(OVERALL_MM * scale, leaf + PAST_LEAF_MM * scale if leaf else 0.0)
