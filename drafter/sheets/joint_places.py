"""Where the joints are, wall by wall: to be gone over with leak fluid."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping

from drafter.geometry import Point3
from drafter.layout.graph import Layout, NodeKind, RunKind
from drafter.sheets.scene import Scene
from drafter.takeoff.numbers_told import ranges
from drafter.takeoff.part import TUBE
from drafter.takeoff.posing import put_together
from drafter.takeoff.working_height import IN_REACH_M

STEP_M = 0.25
"""How far apart the points of pipes are that joints are looked for at."""


def part_places(scene: Scene) -> Mapping[str, Point3]:
    """Return where each part is; what stands between tank and riser, joined by the hose, at the tank."""
    layout, takeoff = scene.layout, scene.takeoff
    begins = next(run.end for run in layout.runs if run.kind is RunKind.FLEXIBLE)
    at, _ = put_together(takeoff.instances, takeoff.joints, (takeoff.start, layout.nodes[begins].at))
    tank = next(node for node in layout.nodes.values() if node.kind is NodeKind.TANK)
    return {part.id: at.get(part.id, tank.at) for part in takeoff.instances}


def joint_rows(scene: Scene) -> list[tuple[str, str, str, str]]:
    """Return for each wall how many joints there are, where, and how many of them are out of reach from the floor.

    A joint is known by the number of the piece of tube whose end it is; the others are told by their count.
    """
    from scipy.spatial import cKDTree

    places, (points, faces) = part_places(scene), _along_pipes(scene.layout)
    tubes = {part.id: int(part.tag) for part in scene.takeoff.instances if part.group == TUBE}
    spots = [
        places[next((id for id, _ in (joint.first, joint.second) if id not in tubes), joint.first[0])]
        for joint in scene.takeoff.joints
    ]
    _, nearest = cKDTree(points).query(spots)
    count, high = Counter[tuple[str, str]](), Counter[tuple[str, str]]()
    pieces, others = defaultdict[tuple[str, str], set[int]](set), Counter[tuple[str, str]]()
    for joint, at, index in zip(scene.takeoff.joints, spots, nearest, strict=True):
        wall = faces[index]
        count[wall] += 1
        high[wall] += at.z > IN_REACH_M
        ends = {tubes[id] for id, _ in (joint.first, joint.second) if id in tubes}
        pieces[wall] |= ends
        others[wall] += not ends
    return [
        (
            scene.site.wall_words(*wall),
            f"{count[wall]}",
            _where(pieces[wall], others[wall]),
            f"{high[wall]}" if high[wall] else "none",
        )
        for face in scene.site.faces
        if count[wall := (face.room, face.name)]
    ]


def _along_pipes(layout: Layout) -> tuple[list[Point3], list[tuple[str, str]]]:
    """Points of all nodes, and between them along all runs, with the room and wall that each is at."""
    points = [node.at for node in layout.nodes.values()]
    faces = [(node.room, node.wall) for node in layout.nodes.values()]
    for run in layout.runs:
        start, end = (layout.nodes[id].at for id in (run.start, run.end))
        count = int(layout.length_m(run) / STEP_M)
        points += [start.towards(end, end.minus(start).length * number / (count + 1)) for number in range(1, count + 1)]
        faces += [(run.room, run.wall)] * count
    return points, faces


def _where(pieces: set[int], others: int) -> str:
    """The pieces at whose ends joints are, and how many more lie between fittings, valves and units."""
    ends = f"ends of pc {ranges(pieces)}" if pieces else ""
    more = f"{others} between fittings, valves, units" if others else ""
    return "; ".join(filter(None, (ends, more)))
