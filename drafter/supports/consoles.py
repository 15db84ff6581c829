"""Consoles of outlets and units: where each is fixed; heavy units stand on the floor where it is free."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.geometry import Point
from drafter.layout.graph import Layout, Node, NodeKind
from drafter.site.model import Column, Standing
from drafter.site.wall import Wall
from drafter.standards.components import component
from drafter.supports.design import Console
from drafter.supports.framing import posts_at, stud_at

CARRIED = (NodeKind.COUPLING, NodeKind.TREATMENT, NodeKind.SERVICE)

AT_WALL_M = 0.001
STAND_AHEAD_M = 0.2
"""How far before the pipe a stand reaches into the room: half a dryer (common practice, from memory)."""


def consoles_of(layout: Layout) -> Iterator[Console]:
    """Yield a console or stand for each outlet and unit that has its own, wall by wall from the left."""
    order = {(face.room, face.name): number for number, face in enumerate(layout.site.faces)}
    nodes = [node for node in layout.nodes.values() if node.kind in CARRIED and is_carried(layout, node)]
    for node in sorted(nodes, key=lambda each: (order[each.room, each.wall], layout.from_left_m(each), -each.at.z)):
        wall, from_left_m = layout.site.wall(node.room, node.wall), layout.from_left_m(node)
        on_floor = _stands_on_floor(layout, node)
        framed = not on_floor and layout.site.rooms[node.room].studs_of(node.wall) is not None
        stud = stud_at(posts_at(layout.site, wall, node.at.z), from_left_m) if framed else 0
        tag = node.tag or layout.outlet_at(node)
        yield Console(node.id, tag, node.at, node.room, node.wall, from_left_m, stud, on_floor=on_floor)


def is_carried(layout: Layout, node: Node) -> bool:
    """Whether a node has a console of its own: units that stand out into the room share that of their outlet."""
    return node.kind is not NodeKind.SERVICE or is_at_wall(layout, node)


def is_at_wall(layout: Layout, node: Node) -> bool:
    """Whether a unit or coupling of an outlet stands beside its drop along the wall."""
    wall, foot = layout.site.wall(node.room, node.wall), layout.outlet_foot(node)
    return abs(wall.measure(node.at.plan)[1] - wall.measure(foot.at.plan)[1]) < AT_WALL_M


def _stands_on_floor(layout: Layout, node: Node) -> bool:
    """Whether a heavy unit has free floor below it for a stand; over machines and benches a console carries it."""
    if node.kind is not NodeKind.TREATMENT or not component(node.what).heavy:
        return False
    wall, half_m = layout.site.wall(node.room, node.wall), component(node.what).length_m / 2
    along_m, off_m = wall.measure(node.at.plan)
    room = layout.site.rooms[node.room]
    things: list[Standing | Column] = [*room.equipment, *room.columns]
    boxes = [
        layout.site.wall(node.room, each.wall).footprint(each.from_left_m, each.off_wall_m, each.width_m, each.depth_m)
        for each in things
    ]
    set_ = layout.site.compressor
    if set_.room == node.room:
        own = layout.site.wall(set_.room, set_.wall)
        boxes.append(own.footprint(set_.from_left_m, set_.off_wall_m, set_.width_m, set_.depth_m))
    return not any(_meets(wall, box, along_m - half_m, along_m + half_m, off_m + STAND_AHEAD_M) for box in boxes)


def _meets(wall: Wall, box: tuple[Point, ...], low_m: float, high_m: float, off_m: float) -> bool:
    along, off = zip(*(wall.measure(corner) for corner in box), strict=True)
    return bool(min(along) < high_m and max(along) > low_m and min(off) < off_m and max(off) > 0.0)
