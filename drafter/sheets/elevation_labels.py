"""What an elevation writes beside its pipes: tags, levels and sizes, and the heights of brackets on uprights."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from drafter.geometry import Point
from drafter.layout.graph import Node, NodeKind, RunKind
from drafter.sheets.bends import on_tube
from drafter.sheets.framing import on_board
from drafter.sheets.placing import Label
from drafter.sheets.scene import RIMS_MM, SYMBOL, Scene
from drafter.site.wall import Wall

LEVEL, BRACKET = "level", "bracket"
"""Kinds of labels that are no nodes."""

UPRIGHT, LEVEL_WAY = Point(0.0, 1.0), Point(1.0, 0.0)
PIPE_POINTS_MM, DRAIN_SIGN_MM, OUTLET_REACH_MM = 4.0, 8.0, 10.0 * SYMBOL
"""How far apart the points of a pipe are that labels stand nearest to; how far down the sign of a drain reaches, and
how far beside its drop that of an outlet."""


class ElevationLabels:
    """Names what stands on a wall.

    Args:
        nodes: those that the elevation shows.
        at: where a node is in it.
        side: the side of its drop on which an outlet is seen: 1 on the right, -1 on the left.
        coupling_at: where the sign of an outlet with units is drawn.
    """

    def __init__(
        self, scene: Scene, wall: Wall, scale: int, nodes: Sequence[Node], at: Callable[[Node], Point],
        side: Callable[[Node], int], coupling_at: Callable[[Node], Point],
    ) -> None:  # fmt: skip
        self.scene, self.wall, self.scale, self.nodes = scene, wall, scale, nodes
        self._at, self._side, self._coupling_at = at, side, coupling_at
        self.layers, self.layout, self.units = scene.layers, scene.layout, scene.units

    def labels(self) -> list[Label]:
        """Return a label for each outlet, drain, valve, unit and bracket of an upright, and the levels of the main."""
        here = [n for n in self.nodes if n.room == self.wall.room]
        main = [n for n in here if any(r.kind is RunKind.MAIN for r in self.layout.runs_at[n.id])]
        main = [n for n in main if all(r.kind is not RunKind.SLEEVE for r in self.layout.runs_at[n.id])]
        ends = _ends(main, self._at)
        between = [n for n in main if n.kind in (NodeKind.TEE, NodeKind.BEND) and n not in ends]
        return [
            *(self._level(node, self._at(node)) for node in between if self._is_high_or_low(node)),
            *filter(None, map(self._tag, here)),
            *(self._level(node, on_tube(self.scene, node, self._at)) for node in ends),
            *self._brackets(),
        ]

    def _level(self, node: Node, at: Point) -> Label:
        """The level of the main at a node, where it goes on from there, and how far off the wall it turns."""
        lines = (self.units.level(node.at.z), *self._continued(node), *self._stepping(node))
        return self._label(at, lines, 2.5, LEVEL, along=LEVEL_WAY)

    def _stepping(self, node: Node) -> tuple[str, ...]:
        """How far off the wall the main turns out at a node, or back to."""
        if not (out_m := self.layout.steps_out_to_m(node)):
            return ()
        back = self.layout.goes_across(self.layout.runs_at[node.id][0])
        to_m = self.wall.measure(node.at.plan)[1] if back else out_m
        return (f"{'back' if back else 'out'} to {self.units.length_with_unit(to_m)}",)

    def _tag(self, node: Node) -> Label | None:
        """The tag of what stands at a node, with its level where it stands on an upright."""
        at = self._at(node)
        if node.kind is NodeKind.COUPLING:
            return self._outlet(node)
        if node.kind is NodeKind.DRAIN:
            sign = DRAIN_SIGN_MM * self.scale
            foot, middle = Point(at.x, max(at.y - sign, 0.0)), Point(at.x, max(at.y - sign / 2, sign / 2))
            along = self._up_to(foot, self.layout.nodes[self.layout.runs_at[node.id][0].start])
            below = at.plus(Point(0.0, -sign / 4))
            return self._tagged(node, below, belongs=along, along=UPRIGHT, upright=middle)
        if node.kind in (NodeKind.VALVE, NodeKind.SPARE_TEE):
            if self.layout.is_upright(self.layout.runs_at[node.id][0]):
                return self._tagged(node, at, along=UPRIGHT, upright=at)
            return self._tagged(node, at, along=LEVEL_WAY)
        if node.kind is NodeKind.TREATMENT:
            return self._tagged(node, at)
        return None

    def _outlet(self, node: Node) -> Label:
        """The tag of an outlet with its level, size and board: beside its drop, or by its coupling behind units."""
        foot = self._at(self.layout.outlet_foot(node))
        level, size = self.units.level(node.at.z), self.scene.size_of(self.layout.runs_at[node.id][0])
        lines: tuple[str, ...] = (size, *self._board_of(node))
        along = self._up_to(foot, self.layout.take_offs[node.tag])
        if any(unit.kind is NodeKind.SERVICE and self.layout.outlet_at(unit) == node.tag for unit in self.nodes):
            at, upright, along = self._coupling_at(node), None, ()
            from_left_m = self.units.snapped_m(self._at(node).x / 1000.0)
            lines = (*lines, f"from left {self.units.length(from_left_m)}")
        else:
            at, upright = foot.plus(Point(2.5 * self.scale * self._side(node), 0.0)), foot
        return self._label(
            at, (f"{node.tag}  {level}", *lines), 3.0, node.kind.value,
            belongs=along, upright=upright, short=(node.tag, level, *lines), reach_mm=OUTLET_REACH_MM,
        )  # fmt: skip

    def _tagged(self, node: Node, at: Point, **more: Any) -> Label:
        """A tag with its level beside it, or below it where that takes too much room; below both its board."""
        level, board = self.units.level(node.at.z), self._board_of(node)
        short = (node.tag, level, *board)
        return self._label(at, (f"{node.tag}  {level}", *board), 2.5, node.kind.value, short=short, **more)

    def _board_of(self, node: Node) -> tuple[str, ...]:
        """The board that carries an outlet or a unit."""
        console = self.scene.consoles.get(node.id)
        return on_board(self.scene, console.board) if console is not None else ()

    def _brackets(self) -> Iterator[Label]:
        """The brackets of uprights; those of level pipes stand in the rows above the ceiling."""
        for bracket in self.scene.design.brackets:
            on_wall = (bracket.room, bracket.wall) == (self.wall.room, self.wall.name)
            if on_wall and self.layout.is_upright(self.layout.run_by_id[bracket.run]):
                at = Point(bracket.from_left_m * 1000.0, bracket.at.z * 1000.0)
                height, board = self.units.length(bracket.at.z), on_board(self.scene, bracket.board)
                lines, short = (f"{bracket.tag}  {height}", *board), (bracket.tag, height, *board)
                yield self._label(at, lines, 2.5, BRACKET, False, along=UPRIGHT, upright=at, short=short)

    def _is_high_or_low(self, node: Node) -> bool:
        """Whether an upright meets the main at a node, it drains there, or leaves for another elevation."""
        runs = self.layout.runs_at[node.id]
        upright = any(run.kind in (RunKind.RISER, RunKind.RISE) for run in runs)
        leaves = any(run.kind is RunKind.MAIN and run.wall != self.wall.name for run in runs)
        steps = self.layout.steps_out_to_m(node) > 0.0
        return upright or leaves or steps or self.layout.is_low_point(node)

    def _continued(self, node: Node) -> tuple[str, ...]:
        """Where the main goes on, if it leaves this wall here."""
        mains = [run for run in self.layout.runs_at[node.id] if run.kind in (RunKind.MAIN, RunKind.RISE)]
        others = {(run.room, run.wall) for run in mains} - {(self.wall.room, self.wall.name)}
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
