"""Where the joints are, wall by wall: to be gone over with leak fluid."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from drafter.geometry import Point3
from drafter.layout.graph import NodeKind, RunKind
from drafter.sheets.scene import Scene
from drafter.site.wall import in_words
from drafter.takeoff.part import TUBE
from drafter.takeoff.posing import put_together
from drafter.takeoff.working_height import IN_REACH_M


def part_places(scene: Scene) -> Mapping[str, Point3]:
    """Return where each part is; what stands between tank and riser, joined by the hose, at the tank."""
    layout, takeoff = scene.layout, scene.takeoff
    begins = next(run.end for run in layout.runs if run.kind is RunKind.FLEXIBLE)
    at, _ = put_together(takeoff.instances, takeoff.joints, (takeoff.start, layout.nodes[begins].at))
    tank = next(node for node in layout.nodes.values() if node.kind is NodeKind.TANK)
    return {part.id: at.get(part.id, tank.at) for part in takeoff.instances}


def joint_rows(scene: Scene) -> list[tuple[str, str, str]]:
    """Return for each wall how many joints there are, and how many of them are out of reach from the floor."""
    layout, places, tubes = scene.layout, part_places(scene), _tubes(scene)
    nodes = list(layout.nodes.values())
    count, high = Counter[tuple[str, str]](), Counter[tuple[str, str]]()
    for joint in scene.takeoff.joints:
        part = next((id for id, _ in (joint.first, joint.second) if id not in tubes), joint.first[0])
        at = places[part]
        node = min(nodes, key=lambda node: node.at.minus(at).length)
        count[node.room, node.wall] += 1
        high[node.room, node.wall] += at.z > IN_REACH_M
    several = len(scene.site.rooms) > 1
    order = [(face.room, face.name) for face in scene.site.faces]
    return [
        (
            f"{in_words(wall)}{f' of {room}' * several}",
            f"{count[room, wall]}",
            f"{high[room, wall]}" if high[room, wall] else "none",
        )
        for room, wall in order
        if count[room, wall]
    ]


def _tubes(scene: Scene) -> frozenset[str]:
    return frozenset(part.id for part in scene.takeoff.instances if part.group == TUBE)
