"""Bent tube in a view: lines end where a bend begins, an arc joins them, where the bend is seen from its side."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator

from drafter.drawing import Arc
from drafter.geometry import Point
from drafter.layout.graph import Node, Run
from drafter.sheets.scene import Scene
from drafter.sizing.bends import Bend

SEEN = 0.5
"""A bend is seen from its side where both its legs are seen in this share of their length and more."""

At = Callable[[Node], Point]


def straight_part(scene: Scene, run: Run, start: Point, end: Point, at: At) -> tuple[Point, Point]:
    """Return the ends of a run's line in a view, from ``start`` to ``end``, less the bends that are drawn there."""
    ends = []
    for node, here, there in ((run.start, start, end), (run.end, end, start)):
        bend = scene.design.network.bends.get(node)
        drawn = bend is not None and _is_seen(scene, bend, at)
        ends.append(_tangent_point(scene, bend, run, here, there) if bend and drawn else here)
    return ends[0], ends[1]


def on_tube(scene: Scene, node: Node, at: At) -> Point:
    """Return where a label of a node points: the node, or the middle of the arc that leaves it out."""
    bend, corner = scene.design.network.bends.get(node.id), at(node)
    if bend is None or not _is_seen(scene, bend, at):
        return corner
    arc = _arc("", corner, *_tangent_points(scene, bend, at))
    return arc.centre.plus(corner.minus(arc.centre).unit, arc.radius)


def bend_arcs(scene: Scene, runs: Iterable[Run], at: At, layer_of: Callable[[Run], str]) -> Iterator[Arc]:
    """Yield the arc of each bend between two of some runs that is seen from its side, on the layer of the first."""
    shown = {run.id: run for run in runs}
    for bend in scene.design.network.bends.values():
        if all(id in shown for id in bend.runs) and _is_seen(scene, bend, at):
            corner = at(scene.layout.nodes[bend.node])
            yield _arc(layer_of(shown[bend.runs[0]]), corner, *_tangent_points(scene, bend, at))


def _is_seen(scene: Scene, bend: Bend, at: At) -> bool:
    layout = scene.layout
    for id in bend.runs:
        run = layout.run_by_id[id]
        start, end = (at(layout.nodes[node]) for node in (run.start, run.end))
        if end.minus(start).length < SEEN * layout.length_m(run) * 1000.0:
            return False
    return True


def _tangent_points(scene: Scene, bend: Bend, at: At) -> tuple[Point, Point]:
    nodes = scene.layout.nodes
    into, out = (scene.layout.run_by_id[id] for id in bend.runs)
    corner = at(nodes[bend.node])
    return (
        _tangent_point(scene, bend, into, corner, at(nodes[into.start])),
        _tangent_point(scene, bend, out, corner, at(nodes[out.end])),
    )


def _tangent_point(scene: Scene, bend: Bend, run: Run, corner: Point, far: Point) -> Point:
    """Where a bend ends on a leg, as the view shows it."""
    return corner.plus(far.minus(corner), bend.tangent_m / scene.layout.length_m(run))


def _arc(layer: str, corner: Point, begins: Point, ends: Point) -> Arc:
    """The arc that touches both legs where the bend ends on them."""
    back, on = begins.minus(corner), ends.minus(corner)
    tangent = (back.length + on.length) / 2
    half = math.acos(max(-1.0, min(1.0, back.unit.dot(on.unit)))) / 2
    radius = tangent * math.tan(half)
    centre = corner.plus(back.unit.plus(on.unit).unit, tangent / math.cos(half))
    first, last = begins.minus(centre).angle_deg, ends.minus(centre).angle_deg
    if back.cross(on) > 0.0:
        first, last = last, first
    return Arc(layer, centre, radius, first, last)
