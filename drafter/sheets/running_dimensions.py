"""Running dimensions: what is set out on a wall, and a row of them from the wall's left-hand corner."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from drafter.drawing import Item, Ordinate
from drafter.geometry import Point
from drafter.layout.graph import Node, NodeKind, RunKind
from drafter.sheets.placing import Ground
from drafter.sheets.scene import Scene
from drafter.sheets.spreading import spread_between, too_close
from drafter.site.wall import CROSSING, Wall

STRIP_MM = 7.0
LEAST_PITCH_MM = 3.6
FROM_EDGE_MM = 1.0
CROWDED = "running dimensions, too close together"


def set_out(scene: Scene, wall: Wall, nodes: Iterable[Node], devices: Collection[NodeKind]) -> list[float]:
    """Return where a wall's riser, low points, ring valves, sleeves, turns into the room and the given devices stand.

    They are on the grid of dimensions [m].
    """
    stops: set[float] = set()
    for node in nodes:
        runs = scene.layout.runs_at[node.id]
        kinds = {run.kind for run in runs}
        riser = kinds >= {RunKind.RISER, RunKind.MAIN} or (node.kind is NodeKind.TEE and runs[0].kind is RunKind.RISER)
        low_point = scene.layout.is_low_point(node)
        ring_valve = node.kind is NodeKind.VALVE and scene.layout.is_on_main(node)
        sleeve = any(run.kind is RunKind.SLEEVE for run in runs)
        step = scene.layout.steps_out_to_m(node) > 0.0
        across = not wall.is_crossing and any(run.wall.startswith(CROSSING) for run in runs)
        if riser or low_point or ring_valve or sleeve or step or across or node.kind in devices:
            foot = scene.layout.outlet_foot(node)
            stops.add(scene.units.snapped_m(wall.measure(foot.at.plan)[0]))
    return sorted(stops)


def row(
    scene: Scene, stops: list[float], base_mm: float, up: float, ground: Ground, cuts: tuple[float, ...] = ()
) -> tuple[list[Item], list[float]]:
    """Draw running dimensions on a view with x along the wall; say in the ground where they are too close to read.

    Args:
        stops: from the left-hand corner [m].
        base_mm: height of the line they are measured on, in the view.
        up: 1 for a row above that line, -1 for one below.
        cuts: upright match lines of the view [mm], which no dimension crosses.

    Returns:
        The dimensions, and the x of each one's text in the view [mm].
    """
    scale = ground.scale
    places = spread_between([s * 1000.0 / scale for s in stops], LEAST_PITCH_MM, [cut / scale for cut in cuts])
    if too_close([s * 1000.0 / scale for s in stops], places, LEAST_PITCH_MM):
        ground.homeless.append(CROWDED)
    xs = [place * scale for place in places]
    end_y = base_mm + up * STRIP_MM * scale
    origin, y = Point(0.0, base_mm), base_mm + up * FROM_EDGE_MM * scale
    items: list[Item] = [
        Ordinate(scene.layers.dims, origin, Point(s * 1000.0, y), Point(x, end_y), "x", scene.units.length(s))
        for s, x in zip(stops, xs, strict=True)
    ]
    return items, xs
