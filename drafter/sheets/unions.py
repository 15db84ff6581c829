"""The unions of a wall as its elevation shows them: beside the sign of what they free."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from drafter.drawing import Item
from drafter.geometry import Point
from drafter.layout.graph import Node, NodeKind, Run
from drafter.sheets.scene import Scene

SCALE = 0.45
BESIDE_SIGN_MM, BESIDE_JOINT_MM = 3.4, 1.2
"""From the middle of a device's sign, or of a fitting, to the middle of the union's on paper."""


def union_signs(scene: Scene, runs: Sequence[Run], at: Callable[[Node], Point], scale: int) -> list[Item]:
    """Draw the unions of some runs, each far enough from its node's sign; of runs seen end on, none."""
    found: list[Item] = []
    by_id = {run.id: run for run in runs}
    for union in scene.takeoff.unions:
        run = by_id.get(union.run)
        if run is None:
            continue
        node = scene.layout.nodes[union.node]
        other = scene.layout.nodes[run.end if run.start == node.id else run.start]
        start, end = at(node), at(other)
        if end.minus(start).length < 1.0:
            continue
        way = end.minus(start).unit
        least_mm = BESIDE_SIGN_MM if node.kind in (NodeKind.VALVE, NodeKind.TREATMENT) else BESIDE_JOINT_MM
        true_mm = union.at.minus(node.at).length * 1000.0
        place = start.plus(way, min(max(true_mm, least_mm * scale), end.minus(start).length / 2))
        found.append(scene.insert(scene.layers.valve, "union", place, way.angle_deg, SCALE))
    return found
