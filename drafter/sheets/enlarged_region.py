"""Whether the compressor and its treatment stand too close on the plan, and what an enlarged plan of them shows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from drafter.geometry import Box, Point
from drafter.layout.graph import Node, NodeKind, RunKind
from drafter.sheets.paper import paper, scales
from drafter.sheets.scene import Scene, mm
from drafter.sheets.title_strip import drawing_area

LEAST_UNIT_MM = 7.0
"""Units of the treatment nearer to each other on paper leave no place for their tags: their signs are 5.6 mm wide."""

ROOMY_UNIT_MM, WIDEST_UNIT_MM = 9.0, 30.0
"""How far apart they stand on an enlarged plan, at least and at most."""

ROUND_VIEW_MM = (50.0, 65.0)
"""About what labels, dimensions, the title and the sheet's margins take beside and above what is shown."""

SMALL_ROOM_M2 = 30.0
"""A room no larger is shown whole."""

PAST_WALL_M, ROUND_THINGS_M, ROUND_NODE_M, NEAR_ROOM_M = 0.2, 0.7, 0.25, 0.7
"""What is shown past the walls, round the plant in a larger room, and round what lies near the room past its walls."""


@dataclass(frozen=True, slots=True)
class Region:
    """What an enlarged plan shows.

    Attributes:
        room: where the compressor stands.
        box: of the plan, in its millimetres.
        unit_m: the least distance of two units of the treatment, middle to middle.
    """

    room: str
    box: Box
    unit_m: float

    @property
    def title(self) -> str:
        return f"ENLARGED PLAN, {self.room.upper()}"

    def holds(self, at: Point) -> bool:
        return self.box.contains(at)


def crowded_region(scene: Scene, scale: float) -> Region | None:
    """What is to be drawn larger because two units of the treatment stand too close at a scale.

    None if none do, or if the paper is too small for it at a scale at which they have room.
    """
    units = [node for node in scene.layout.nodes.values() if node.kind is NodeKind.TREATMENT]
    if len(units) < 2:
        return None
    unit_m = min(b.at.plan.minus(a.at.plan).length for a, b in pairwise(units))
    if unit_m * 1000.0 / scale >= LEAST_UNIT_MM:
        return None
    room = scene.site.compressor.room
    region = Region(room, _box(scene, room), unit_m)
    area = drawing_area(paper(scene.site.drawing.paper))
    most = max(roomy_scales(scene, region, scale), default=0)
    wide, high = region.box.width + ROUND_VIEW_MM[0] * most, region.box.height + ROUND_VIEW_MM[1] * most
    return region if most and wide <= area.width * most and high <= area.height * most else None


def roomy_scales(scene: Scene, region: Region, plan_scale: float) -> list[int]:
    """Standard scales larger than the plan's at which each unit has room for its tag, the largest first."""
    larger = (n for n in scales(scene.site.imperial) if n < plan_scale)
    return [n for n in larger if ROOMY_UNIT_MM <= region.unit_m * 1000.0 / n <= WIDEST_UNIT_MM]


def _box(scene: Scene, room: str) -> Box:
    """The whole of a small room with its walls, of a larger one what stands about the plant; and what lies near it."""
    walls = scene.site.walls[room]
    inside = Box.around([wall.left for wall in walls])
    outside = inside.grown(walls[0].thickness_m + PAST_WALL_M)
    box = outside
    if inside.width * inside.height > SMALL_ROOM_M2:
        things = Box.around(list(_plant(scene))).grown(ROUND_THINGS_M)
        box = Box(
            max(things.left, outside.left), max(things.bottom, outside.bottom),
            min(things.right, outside.right), min(things.top, outside.top),
        )  # fmt: skip
    for node in scene.layout.nodes.values():
        at = node.at.plan
        if _shows(scene, node) and box.distance(at) < NEAR_ROOM_M:
            box = box.joined(Box(at.x, at.y, at.x, at.y).grown(ROUND_NODE_M))
    return Box.around([mm(corner) for corner in box.corners])


def _plant(scene: Scene) -> Iterator[Point]:
    """The corners of the compressor, and what stands between it and the main."""
    plant = scene.site.compressor
    wall = scene.site.wall(plant.room, plant.wall)
    yield from wall.footprint(plant.from_left_m, plant.off_wall_m, plant.width_m, plant.depth_m)
    for run in scene.layout.runs:
        if run.kind in (RunKind.CONNECTION, RunKind.FLEXIBLE, RunKind.RISER, RunKind.TREATMENT):
            yield from (scene.layout.nodes[id].at.plan for id in (run.start, run.end))


def _shows(scene: Scene, node: Node) -> bool:
    """Whether a node is a valve of the line, or an end of a sleeve."""
    sleeve = any(run.kind is RunKind.SLEEVE for run in scene.layout.runs_at[node.id])
    return sleeve or scene.is_valve_of_line(node)
