"""What an elevation writes beside its pipes: tags, levels and sizes, and the heights of brackets on uprights."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from drafter.geometry import Point
from drafter.layout.graph import Node, NodeKind, RunKind
from drafter.sheets.bends import on_tube
from drafter.sheets.framing import called
from drafter.sheets.placing import Label
from drafter.sheets.scene import RIMS_MM, Scene
from drafter.site.wall import Wall

LEVEL, BRACKET = "level", "bracket"
"""Kinds of labels that are no nodes."""

UPRIGHT, LEVEL_WAY = Point(0.0, 1.0), Point(1.0, 0.0)
PIPE_POINTS_MM, DRAIN_SIGN_MM = 4.0, 8.0
"""How far apart the points of a pipe are that labels stand nearest to; how far down the sign of a drain reaches."""


class ElevationLabels:
    """Names what stands on a wall.

    Args:
        nodes: those that the elevation shows.
        at: where a node is in it.
        side: the side of its drop on which an outlet is seen: 1 on the right, -1 on the left.
    """

    def __init__(
        self, scene: Scene, wall: Wall, scale: int, nodes: Sequence[Node], at: Callable[[Node], Point],
        side: Callable[[Node], int],
    ) -> None:  # fmt: skip
        self.scene, self.wall, self.scale, self.nodes = scene, wall, scale, nodes
        self._at, self._side = at, side
        self.layers, self.layout, self.units = scene.layers, scene.layout, scene.units

    def labels(self) -> list[Label]:
        """Return a label for each outlet, drain, valve, unit and bracket of an upright, and the levels of the main."""
        main = [n for n in self.nodes if any(r.kind is RunKind.MAIN for r in self.layout.runs_at[n.id])]
        ends = _ends(main, self._at)
        between = [n for n in main if n.kind in (NodeKind.TEE, NodeKind.BEND) and n not in ends]
        return [
            *(self._level(node, self._at(node)) for node in between if self._is_high_or_low(node)),
            *filter(None, map(self._tag, self.nodes)),
            *(self._level(node, on_tube(self.scene, node, self._at)) for node in ends),
            *self._brackets(),
        ]

    def _level(self, node: Node, at: Point) -> Label:
        return self._label(at, (self.units.level(node.at.z), *self._continued(node)), 2.5, LEVEL, along=LEVEL_WAY)

    def _tag(self, node: Node) -> Label | None:
        """The tag of what stands at a node, with its level where it stands on an upright."""
        at, kind, level = self._at(node), node.kind.value, self.units.level(node.at.z)
        if node.kind is NodeKind.COUPLING:
            foot, half = self._at(self.layout.outlet_foot(node)), 2.5 * self.scale * self._side(node)
            size = self.scene.size_of(self.layout.runs_at[node.id][0])
            lines = f"{node.tag}  {level}", size
            along = self._up_to(foot, self.layout.take_offs[node.tag])
            return self._label(
                foot.plus(Point(half, 0.0)),
                lines,
                3.0,
                kind,
                belongs=along,
                upright=foot,
                short=(node.tag, level, size),
            )
        if node.kind is NodeKind.DRAIN:
            sign = DRAIN_SIGN_MM * self.scale
            foot, middle = Point(at.x, max(at.y - sign, 0.0)), Point(at.x, max(at.y - sign / 2, sign / 2))
            along = self._up_to(foot, self.layout.nodes[self.layout.runs_at[node.id][0].start])
            below = at.plus(Point(0.0, -sign / 4))
            return self._label(
                below, (f"{node.tag}  {level}",), 2.5, kind, belongs=along, along=UPRIGHT, upright=middle
            )
        if node.kind in (NodeKind.VALVE, NodeKind.SPARE_TEE):
            upright = self.layout.is_upright(self.layout.runs_at[node.id][0])
            words = f"{node.tag}  {level}" if upright or node.tag == "V-01" else node.tag
            short = () if node.tag == "V-01" else (node.tag,)
            way, stands = (UPRIGHT, at) if upright else (LEVEL_WAY, None)
            return self._label(at, (words,), 2.5, kind, along=way, upright=stands, short=short)
        return self._label(at, (node.tag,), 2.5, kind) if node.kind is NodeKind.TREATMENT else None

    def _brackets(self) -> Iterator[Label]:
        """The brackets of uprights; those of level pipes stand in the rows above the ceiling."""
        for bracket in self.scene.design.brackets:
            on_wall = (bracket.room, bracket.wall) == (self.wall.room, self.wall.name)
            if on_wall and self.layout.is_upright(self.layout.run_by_id[bracket.run]):
                at = Point(bracket.from_left_m * 1000.0, bracket.at.z * 1000.0)
                words = f"{called(bracket)}  {self.units.length(bracket.at.z)}"
                yield self._label(at, (words,), 2.0, BRACKET, False, along=UPRIGHT, upright=at)

    def _is_high_or_low(self, node: Node) -> bool:
        """Whether an upright meets the main at a node, it drains there, or leaves for another elevation."""
        runs = self.layout.runs_at[node.id]
        upright = any(run.kind in (RunKind.RISER, RunKind.RISE) for run in runs)
        leaves = any(run.kind is RunKind.MAIN and run.wall != self.wall.name for run in runs)
        return upright or leaves or self.layout.is_low_point(node)

    def _continued(self, node: Node) -> tuple[str, ...]:
        """Where the main goes on, if it leaves this wall here."""
        of_main = (RunKind.MAIN, RunKind.RISE, RunKind.SLEEVE)
        mains = [run for run in self.layout.runs_at[node.id] if run.kind in of_main]
        walls = {(run.room, run.wall) for run in mains if run.kind is not RunKind.SLEEVE}
        passed = [run for run in mains if run.kind is RunKind.SLEEVE]
        behind = {(n.room, n.wall) for run in passed for n in map(self.layout.nodes.get, (run.start, run.end)) if n}
        others = (walls | behind) - {(self.wall.room, self.wall.name)}
        numbers = sorted(self.scene.marks[wall] for wall in others if wall in self.scene.marks)
        return (f"to {', '.join(numbers)}",) if numbers else ()

    def _label(
        self, at: Point, lines: tuple[str, ...], height_mm: float, kind: str, bold: bool = True, **more: Any
    ) -> Label:
        layer, rim_mm = self.layers.tag, RIMS_MM.get(kind, 0.0)
        return Label(layer, layer, at, lines, height_mm, bold, kind=kind, rim_mm=rim_mm, **more)

    def _up_to(self, foot: Point, top: Node) -> tuple[Point, ...]:
        """Points along the upright pipe between a foot and a node."""
        rise = self._at(top).y - foot.y
        count = max(1, int(abs(rise) / (PIPE_POINTS_MM * self.scale)))
        return tuple(foot.plus(Point(0.0, rise), number / count) for number in range(count + 1))


def _ends(nodes: Sequence[Node], at: Callable[[Node], Point]) -> list[Node]:
    """The leftmost and the rightmost of some nodes."""
    ordered = sorted(nodes, key=lambda node: at(node).x)
    return ordered if len(ordered) < 2 else [ordered[0], ordered[-1]]
