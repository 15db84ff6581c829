"""The installation in space: every pipe with its true fall and size, and what stands and hangs round it as blocks."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from drafter.geometry import Point3
from drafter.layout.graph import Node, NodeKind, Run, RunKind
from drafter.quantity import Units
from drafter.quantity.kinds import INCH_M
from drafter.sheets.scene import Scene, blocks, mm
from drafter.site.wall import Wall
from drafter.solids import Edge, Fitting, Pipe, Solid, Volume
from drafter.standards.components import component

UNIT_ACROSS_M = 0.12
"""Width and height that a treatment unit is drawn with; its data sheet says more (common practice)."""

HEAVY_ACROSS_M = 0.35
"""The same for a dryer or cooler (common practice, from memory)."""

ACROSS_PIPE = 2.0
"""How thick the body of a valve, drain or coupling is drawn, in outside diameters of its pipe (common practice)."""


def solids(scene: Scene) -> tuple[Solid, ...]:
    """Return the installation and its rooms in space, from the datum corner at floor level."""
    return (*_pipes(scene), *_rooms(scene), *_things(scene), *_units(scene), *_fittings(scene))


def _up(at: Point3) -> Point3:
    return Point3(at.x * 1000.0, at.y * 1000.0, at.z * 1000.0)


def _pipes(scene: Scene) -> Iterator[Pipe]:
    layout, units = scene.layout, scene.units
    for run in layout.runs:
        start, end = (layout.nodes[id].at for id in (run.start, run.end))
        if end.minus(start).length > 1e-3:
            size = scene.design.network.sizes[run.id]
            data = (
                ("PIPE", f"RUN-{run.id[1:]}"),
                ("KIND", run.kind.value),
                ("SIZE", scene.size_of(run)),
                ("OUTSIDE", _diameter(size.outside_m, units)),
                ("LENGTH", units.length_with_unit(layout.length_m(run))),
                ("LEVEL_START", units.level(start.z)),
                ("LEVEL_END", units.level(end.z)),
            )
            yield Pipe(
                _layer(scene, run), scene.layers.body, run.id, _up(start), _up(end), size.outside_m * 1000.0, data
            )


def _diameter(outside_m: float, units: Units) -> str:
    return f"{outside_m / INCH_M:.3f} in" if units.imperial else f"{outside_m * 1000.0:.2f} mm"


def _layer(scene: Scene, run: Run) -> str:
    if run.kind is RunKind.FLEXIBLE:
        return scene.layers.hose
    return scene.layers.drop if run.outlet or run.kind is RunKind.DRIP_LEG else scene.layers.main


def _rooms(scene: Scene) -> Iterator[Edge]:
    """The edges of each room, each once, and of each opening in the face of its wall."""
    drawn: set[frozenset[Point3]] = set()
    for edge in _edges(scene):
        ends = frozenset(Point3(*(round(axis, 3) for axis in end)) for end in (edge.start, edge.end))
        if ends not in drawn:
            yield edge
        drawn.add(ends)


def _edges(scene: Scene) -> Iterator[Edge]:
    for room, walls in scene.site.walls.items():
        for wall in walls:
            yield from _frame(scene.layers.wall, wall, 0.0, wall.length_m, 0.0, wall.ceiling_m)
        for opening in scene.site.rooms[room].openings:
            layer = scene.layers.window if opening.kind == "window" else scene.layers.door
            left_m, right_m = opening.from_left_m, opening.from_left_m + opening.width_m
            wall = scene.site.wall(room, opening.wall)
            yield from _frame(layer, wall, left_m, right_m, opening.bottom_m, opening.height_m)


def _frame(layer: str, wall: Wall, left_m: float, right_m: float, bottom_m: float, top_m: float) -> Iterator[Edge]:
    spots = [(left_m, bottom_m), (right_m, bottom_m), (right_m, top_m), (left_m, top_m), (left_m, bottom_m)]
    corners = [_up(Point3(*wall.at(s), z)) for s, z in spots]
    for start, end in pairwise(corners):
        yield Edge(layer, start, end)


def _things(scene: Scene) -> Iterator[Volume]:
    """The compressor, columns, decks, and what else stands or hangs in the rooms."""
    site, layers, plant = scene.site, scene.layers, scene.site.compressor
    outline = site.wall(plant.room, plant.wall).footprint(
        plant.from_left_m, plant.off_wall_m, plant.width_m, plant.depth_m
    )
    yield Volume(layers.equipment, "compressor", tuple(map(mm, outline)), 0.0, plant.height_m * 1000.0, "C-01")
    for room, data in site.rooms.items():
        for column in data.columns:
            wall = site.wall(room, column.wall)
            outline = wall.footprint(column.from_left_m, column.off_wall_m, column.width_m, column.depth_m)
            yield Volume(layers.column, "column", tuple(map(mm, outline)), 0.0, wall.ceiling_m * 1000.0)
        for deck in data.decks:
            outline = site.wall(room, deck.wall).footprint(*deck.placed)
            bottom, top = deck.underside_m * 1000.0, deck.top_m * 1000.0
            yield Volume(layers.column, deck.name, tuple(map(mm, outline)), bottom, top)
        for block in blocks(site, room):
            layer = layers.keep if block.keep_clear else layers.furniture
            words = " ".join(block.words)
            yield Volume(layer, words, block.footprint, block.bottom_m * 1000.0, block.top_m * 1000.0)


def _units(scene: Scene) -> Iterator[Volume]:
    """Treatment units in the line, as long as they are and as wide as is usual."""
    for node in scene.layout.nodes.values():
        if node.kind is NodeKind.TREATMENT:
            wall = scene.wall_of(node)
            along_m, off_m = wall.measure(node.at.plan)
            long_m = component(node.what).length_m
            across_m = HEAVY_ACROSS_M if component(node.what).heavy else UNIT_ACROSS_M
            outline = wall.footprint(along_m - long_m / 2, max(0.0, off_m - across_m / 2), long_m, across_m)
            low, high = ((node.at.z + side * across_m / 2) * 1000.0 for side in (-1, 1))
            yield Volume(
                scene.layers.equipment, node.what, tuple(map(mm, outline)), low, high, node.tag, _data(scene, node)
            )


def _fittings(scene: Scene) -> Iterator[Fitting]:
    """Valves, drains and outlets with their units, for others to keep off or to join on."""
    layers, sizes = scene.layers, scene.design.network.sizes
    layer_of = {
        NodeKind.VALVE: layers.valve,
        NodeKind.DRAIN: layers.drain,
        NodeKind.COUPLING: layers.outlet,
        NodeKind.SERVICE: layers.outlet,
    }
    for node in scene.layout.nodes.values():
        if node.kind in layer_of:
            outside_mm = max(sizes[run.id].outside_m for run in scene.layout.runs_at[node.id]) * 1000.0
            kind, across_mm = node.what or node.kind.value, ACROSS_PIPE * outside_mm
            yield Fitting(layer_of[node.kind], kind, _up(node.at), across_mm, _data(scene, node))


def _data(scene: Scene, node: Node) -> tuple[tuple[str, str], ...]:
    return scene.attributes(scene.used_symbol(node), node)
