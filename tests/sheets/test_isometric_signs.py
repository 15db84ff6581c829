"""Signs of the isometric on lines that are not theirs are counted, and couplings keep off the next drop."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from shapely import LineString
from shapely import Point as ShapelyPoint

from drafter.geometry import Point
from drafter.layout.graph import NodeKind
from drafter.pipeline import design
from drafter.sheets.isometric_parts import whole
from drafter.sheets.isometric_signs import NEAR_MM, SignsAmongLines
from drafter.sheets.isometric_space import APART_MM, DRAIN_SIGN_MM, IsometricSpace, IsometricSpacing, Shape
from drafter.sheets.layers import Layers
from drafter.sheets.scene import Scene
from drafter.symbol_library import load_all

SIGNS = (NodeKind.COUPLING, NodeKind.SERVICE, NodeKind.DRAIN, NodeKind.TREATMENT, NodeKind.VALVE)
EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))


def scene_of(name: str) -> Scene:
    path = next(path for path in EXAMPLES if path.stem == name)
    done = design(path.read_bytes(), path.name)
    assert done.design is not None
    assert done.takeoff is not None
    return Scene(done.design, done.takeoff, dict(load_all()), Layers("M"), {})


def space_of(scene: Scene, width_mm: float = 500.0, height_mm: float = 300.0) -> IsometricSpace:
    spacing = IsometricSpacing(scene, whole(scene.layout))
    return spacing.fitted(width_mm, height_mm, Shape(2, 0.3, 0.6, 1.0))


@pytest.mark.parametrize("name", [path.stem for path in EXAMPLES])
def test_the_count_is_that_of_a_plain_search(name: str) -> None:
    """Each sign against each run with no part of its own outlet, by the distance of a point from a segment."""
    scene = scene_of(name)
    layout, part, space = scene.layout, whole(scene.layout), space_of(scene)
    signs = SignsAmongLines(layout, part)
    counted = signs.mistaken(space)
    assert signs.mistaken(replace(space, scale=50.0)) == counted
    lines = [
        (LineString([space.at_node(layout.nodes[id]) for id in (r.start, r.end)]), {r.start, r.end}) for r in part.runs
    ]
    for node in (node for node in part.nodes if node.kind is NodeKind.DRAIN):
        at = space.at_node(node)
        lines.append((LineString([at, at.plus(Point(0.0, -DRAIN_SIGN_MM))]), {node.id}))
    found = 0
    for sign in (node for node in part.nodes if node.kind in SIGNS):
        joined = layout.runs_at[sign.id]
        beside = {id for run in joined for id in (run.start, run.end)}
        outlets = {run.outlet for run in joined if run.outlet}
        for line, ends in lines:
            own = ends & beside or outlets & {run.outlet for id in ends for run in layout.runs_at[id]}
            found += not own and line.distance(ShapelyPoint(space.at_node(sign))) < NEAR_MM
    assert counted == found


def test_units_along_the_wall_end_off_the_next_drop() -> None:
    """In the bus depot N1's filter, regulator and coupling lead towards N2."""
    scene = scene_of("bus_depot")
    space, layout = space_of(scene, 200.0, 120.0), scene.layout
    coupling = next(node for node in layout.couplings if node.tag == "N1")
    drop = next(
        node for node in layout.nodes.values() if node.kind is NodeKind.TAKE_OFF and layout.outlet_at(node) == "N2"
    )
    apart_mm = abs(space.node(coupling).x - space.node(drop).x) + abs(space.node(coupling).y - space.node(drop).y)
    assert apart_mm > APART_MM * 0.99 > NEAR_MM
