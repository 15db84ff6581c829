"""What can be misread on an isometric: spots, the bends, ends and signs, and strokes, the lines of pipes and signs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from drafter.geometry import Point, Point3
from drafter.layout.graph import Node, NodeKind
from drafter.sheets.isometric_lines import SIGN, UNIT
from drafter.sheets.isometric_parts import Part
from drafter.sheets.isometric_space import DRAIN_SIGN_MM, TANK_MM, IsometricSpace
from drafter.sheets.scene import Scene

COUPLING_MM = 5.5
TANK_UP_MM = (-14.0, -7.0, 0.0, 7.0, 12.0)
"""Where lines along the tank and what stands on it lie, above its connection."""

NEARLY_ALONG = 0.9
"""A pipe whose way has more than this cosine with that of an axis goes along it, as the main with its fall."""

NO_WAY = Point3(0.0, 0.0, 0.0)
DOWN = Point3(0.0, 0.0, -1.0)


@dataclass(frozen=True, slots=True)
class Spot:
    """A point that lies off a node: so far to the east, the north and up [mm on paper]."""

    node: str
    off_mm: Point3 = NO_WAY

    def seen(self, space: IsometricSpace, node: Node) -> Point:
        """Where its node and it are seen [mm on paper]."""
        at, aside = space.at_node(node), space.way(Point(self.off_mm.x, self.off_mm.y))
        return Point(at.x / space.scale + aside.x, at.y / space.scale + aside.y + self.off_mm.z)


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line between two spots.

    Attributes:
        run: id of the run that it is; empty for the stroke of a sign.
        outlet: that it belongs to; empty for the main.
    """

    start: Spot
    end: Spot
    run: str
    outlet: str

    @property
    def nodes(self) -> frozenset[str]:
        return frozenset((self.start.node, self.end.node))


class SpotsAndStrokes:
    """Those of a part, in a fixed order."""

    def __init__(self, scene: Scene, part: Part) -> None:
        self._scene, self._layout = scene, scene.layout
        self.spots = [spot for node in part.nodes for spot in self._spots(node)]
        pipes = [Stroke(Spot(run.start), Spot(run.end), run.id, run.outlet) for run in part.runs]
        self.strokes = [*pipes, *(stroke for node in part.own_nodes for stroke in self._strokes(node))]

    def _spots(self, node: Node) -> Iterator[Spot]:
        """The node itself, and the ends of its sign."""
        yield Spot(node.id)
        if node.kind is NodeKind.DRAIN:
            yield from (Spot(node.id, _times(DOWN, share * DRAIN_SIGN_MM)) for share in (0.5, 1.0))
        elif node.kind is NodeKind.COUPLING:
            yield Spot(node.id, _times(self._out_of(node), COUPLING_MM))
        elif symbol := self._scene.used_symbol(node):
            half = self._scene.symbols[symbol].size[0] / 2 * (SIGN if node.kind is NodeKind.VALVE else UNIT)
            yield from (Spot(node.id, _times(self._way(node), side * half)) for side in (-1, 1))

    def _strokes(self, node: Node) -> Iterator[Stroke]:
        """Of signs that reach past the end of their pipe: drains, couplings, the tank."""
        here, outlet = Spot(node.id), self._layout.outlet_at(node)
        if node.kind is NodeKind.DRAIN:
            yield Stroke(here, Spot(node.id, _times(DOWN, DRAIN_SIGN_MM)), "", outlet)
        elif node.kind is NodeKind.COUPLING:
            yield Stroke(here, Spot(node.id, _times(self._out_of(node), COUPLING_MM)), "", outlet)
        elif node.kind is NodeKind.TANK:
            x, y, z = _times(self._way(node), -TANK_MM)
            for up in TANK_UP_MM:
                yield Stroke(Spot(node.id, Point3(0.0, 0.0, up)), Spot(node.id, Point3(x, y, z + up)), "", outlet)

    def _way(self, node: Node) -> Point3:
        """The way of the pipe at a node, one long; along an axis where it is nearly so."""
        run = self._layout.runs_at[node.id][0]
        start, end = (self._layout.nodes[id].at for id in (run.start, run.end))
        way = NO_WAY.towards(end.minus(start), 1.0)
        most = max(range(3), key=lambda axis: abs(way[axis]))
        if abs(way[most]) < NEARLY_ALONG:
            return way
        return Point3(*((1.0 if way[most] > 0.0 else -1.0) if axis == most else 0.0 for axis in range(3)))

    def _out_of(self, node: Node) -> Point3:
        """The way in which a coupling points."""
        way, inward = self._way(node), self._scene.wall_of(node).inward
        return way if abs(way.z) < NEARLY_ALONG else Point3(inward.x, inward.y, 0.0)


def _times(way: Point3, mm: float) -> Point3:
    return Point3(way.x * mm, way.y * mm, way.z * mm)
