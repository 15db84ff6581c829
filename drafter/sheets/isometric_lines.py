"""The pipes and signs of the isometric: heavy single lines, broken where they pass behind, symbols laid along them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from drafter.drawing import Item, Line, Polyline
from drafter.geometry import Box, Point, Point3
from drafter.layout.graph import Node, NodeKind, Run, RunKind
from drafter.sheets.isometric_crossings import SpaceLine
from drafter.sheets.isometric_parts import Part
from drafter.sheets.isometric_space import TANK_MM, IsometricSpace
from drafter.sheets.scene import Scene, wave
from drafter.sheets.skewed_symbols import plane, skewed

SIGN, UNIT, SLEEVE_SIGN = 0.55, 0.42, 0.6
GAP_MM = 1.7
"""Half of what a line behind is broken by: together five line widths of the heaviest (ISO 6412-1, from memory)."""

UP = Point(0.0, 1.0)
STROKE_MM = 1.6
REDUCER_OFF_MM = 3.5
UNION_OFF_MM = 3.6


class IsometricLines:
    """Draws a part of a scene in a space; ``gaps`` are shares of runs at which they pass behind others."""

    def __init__(self, scene: Scene, part: Part, space: IsometricSpace, gaps: Mapping[str, tuple[float, ...]]) -> None:
        self.scene, self.part, self.space, self.gaps = scene, part, space, gaps
        self.layers, self.layout = scene.layers, scene.layout

    def items(self) -> list[Item]:
        return [*self._pipes(), *self._signs(), *self._sleeves(), *self._reducers(), *self._unions()]

    def ends(self, run: Run) -> tuple[Point, Point]:
        """Return where the nodes of a run are seen."""
        return self.space.at_node(self.layout.nodes[run.start]), self.space.at_node(self.layout.nodes[run.end])

    def way(self, run: Run) -> Point:
        start, end = self.ends(run)
        return end.minus(start).unit

    def layer(self, run: Run) -> str:
        return self.layers.drop if run.outlet or run.kind is RunKind.DRIP_LEG else self.layers.main

    def sign_at(self, node: Node) -> Point:
        """Return the middle of the sign at a node."""
        at, step = self.space.at_node(node), self.space.scale
        if node.kind is NodeKind.DRAIN:
            return at.plus(UP, -self._half(node) * step)
        if node.kind is NodeKind.COUPLING:
            return at.plus(self.out_of(node), self._half(node) * step)
        return at

    def sign_rooms(self) -> Iterator[Box]:
        """The boxes of the signs at nodes [mm on paper]."""
        for node in self.part.own_nodes:
            if half := self._half(node):
                at, scale = self.sign_at(node), self.space.scale
                yield Box(at.x / scale, at.y / scale, at.x / scale, at.y / scale).grown(half)

    def out_of(self, node: Node) -> Point:
        """Return the way in which a coupling points."""
        way = self.way(self.layout.runs_at[node.id][0])
        return way if abs(way.x) > 0.1 else self.space.way(self.scene.wall_of(node).inward).unit

    def _half(self, node: Node) -> float:
        """From the middle of a node's sign to its end along the pipe [mm on paper]."""
        symbol = self.scene.used_symbol(node)
        if not symbol:
            return 0.0
        size = self.scene.symbols[symbol].size
        if node.kind in (NodeKind.DRAIN, NodeKind.COUPLING):
            return size[1] / 2 * SIGN
        return size[0] / 2 * (SIGN if node.kind is NodeKind.VALVE else UNIT)

    def _pipes(self) -> Iterator[Item]:
        step = self.space.scale
        for run in self.part.runs:
            start, end = self.ends(run)
            if run.kind is RunKind.FLEXIBLE:
                yield Polyline(self.layers.hose, wave(start, end, 1.1 * step))
                continue
            length = end.minus(start).length
            if length < 1e-6:
                continue
            off = [self._taken(self.layout.nodes[id]) * step / length for id in (run.start, run.end)]
            half = GAP_MM * step / length
            cuts = [(share - half, share + half) for share in self.gaps.get(run.id, ())]
            for low, high in _left(off[0], 1.0 - off[1], cuts):
                way = end.minus(start)
                yield Line(self.layer(run), start.plus(way, low), start.plus(way, high), run.id)

    def _taken(self, node: Node) -> float:
        """How much of a pipe the sign at its end takes [mm on paper]."""
        in_line = (NodeKind.VALVE, NodeKind.TREATMENT, NodeKind.SERVICE)
        return self._half(node) if node.kind in in_line else 0.0

    def _signs(self) -> Iterator[Item]:
        for node in self.part.own_nodes:
            runs, at = self.layout.runs_at[node.id], self.sign_at(node)
            if node.kind in (NodeKind.TAKE_OFF, NodeKind.SPARE_TEE) or len(runs) > 2:
                yield self.scene.insert(self.layers.main, "tee_joint", self.space.at_node(node), scale=0.45)
            if node.kind is NodeKind.SPARE_TEE:
                yield from self._sign("plug", self.layers.drop, at.plus(UP, 1.6 * self.space.scale), UP, 0.4, node)
            elif node.kind is NodeKind.DRAIN:
                along = self.space.way(self.scene.wall_of(node).along).unit
                yield from self._laid(self.scene.used_symbol(node), self.layers.drain, at, along, UP, SIGN)
            elif node.kind is NodeKind.COUPLING:
                out = self.out_of(node)
                back = Point(-out.x, -out.y)
                yield from self._laid("outlet", self.layers.outlet, at, UP, back, SIGN)
            elif self.scene.used_symbol(node):
                layer = {NodeKind.VALVE: self.layers.valve, NodeKind.TREATMENT: self.layers.equipment}
                size = SIGN if node.kind is NodeKind.VALVE else UNIT
                way = self.way(runs[0])
                yield from self._sign(
                    self.scene.used_symbol(node), layer.get(node.kind, self.layers.outlet), at, way, size, node
                )

    def _sign(self, symbol: str, layer: str, at: Point, way: Point, size: float, node: Node) -> Iterator[Item]:
        """A symbol laid along a pipe, in the plane of the wall where that holds the pipe."""
        upright = abs(way.x) < 0.1
        across = self.space.way(self.scene.wall_of(node).along).unit if upright else UP
        yield from self._laid(symbol, layer, at, way, across, size)

    def _laid(self, symbol: str, layer: str, at: Point, along: Point, up: Point, size: float) -> Iterator[Item]:
        return skewed(self.scene.symbols[symbol], layer, plane(at, along, up, size * self.space.scale))

    def _sleeves(self) -> Iterator[Item]:
        for run in self.part.runs:
            if run.kind is RunKind.SLEEVE:
                start, end = self.ends(run)
                middle = start.plus(end.minus(start), 0.5)
                yield from self._laid("sleeve", self.layers.sign, middle, self.way(run), UP, SLEEVE_SIGN)

    def _reducers(self) -> Iterator[Item]:
        """Where the main goes on in another size."""
        for run in self.part.runs:
            before = self.layout.runs_at[run.start][0]
            kinds = (RunKind.MAIN, RunKind.RISE, RunKind.SLEEVE)
            if run.kind in kinds and before.kind in kinds and self.scene.size_of(run) != self.scene.size_of(before):
                at = self.ends(run)[0].plus(self.way(run), REDUCER_OFF_MM * self.space.scale)
                node = self.layout.nodes[run.start]
                yield from self._sign("reducer", self.layers.main, at, self.way(run), 0.5, node)

    def _unions(self) -> Iterator[Item]:
        runs = {run.id: run for run in self.part.runs}
        for union in self.scene.takeoff.unions:
            run = runs.get(union.run)
            if run is None:
                continue
            node = self.layout.nodes[union.node]
            start, end = self.ends(run)
            here, there = (start, end) if run.start == node.id else (end, start)
            off = min(UNION_OFF_MM * self.space.scale, there.minus(here).length * 0.5)
            at = here.plus(there.minus(here).unit, off)
            yield from self._sign("union", self.layers.valve, at, self.way(run), 0.4, node)


def _left(start: float, end: float, cuts: Sequence[tuple[float, float]]) -> Iterator[tuple[float, float]]:
    """What is left of a line from start to end after the cuts."""
    edges = [start]
    for low, high in sorted(cuts):
        edges += [min(max(low, start), end), min(max(high, start), end)]
    edges.append(end)
    for low, high in zip(edges[::2], edges[1::2], strict=True):
        if high - low > 1e-6:
            yield low, high


def space_lines(scene: Scene, part: Part, space: IsometricSpace) -> list[SpaceLine]:
    """Return all that may be crossed on paper: the pipes, and strokes through the signs."""
    layout, found = scene.layout, list[SpaceLine]()
    for run in part.runs:
        start, end = (space.node(layout.nodes[id]) for id in (run.start, run.end))
        found.append(SpaceLine(run.id, (run.start, run.end), start, end))
    for node in part.own_nodes:
        at, near = space.node(node), tuple(end for run in layout.runs_at[node.id] for end in (run.start, run.end))
        if node.kind is NodeKind.DRAIN:
            found.append(SpaceLine("", near, at, Point3(at.x, at.y, at.z - 2 * 3.75)))
        elif node.kind in (NodeKind.VALVE, NodeKind.TREATMENT):
            low, high = (Point3(at.x, at.y, at.z + side * STROKE_MM) for side in (-1, 1))
            upright = layout.is_upright(layout.runs_at[node.id][0])
            if upright:
                low, high = (Point3(at.x + side * STROKE_MM, at.y - side * STROKE_MM, at.z) for side in (-1, 1))
            found.append(SpaceLine("", near, low, high))
        elif node.kind is NodeKind.TANK:
            out = space.node(layout.nodes[layout.runs_at[node.id][0].end])
            way = Point3(*(a - b for a, b in zip(at, out, strict=True)))
            far = Point3(*(a + w / max(way.length, 1e-9) * TANK_MM for a, w in zip(at, way, strict=True)))
            found += [
                SpaceLine("", near, Point3(at.x, at.y, at.z + up), Point3(far.x, far.y, far.z + up))
                for up in (-5.0, 0.0, 5.0)
            ]
    return found
