"""Which line of an isometric a text is read with: the nearest one, or the one that its leader points at."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drafter.geometry import Box, Point
from drafter.layout.graph import Node
from drafter.sheets.isometric_parts import Part
from drafter.sheets.isometric_space import IsometricSpace
from drafter.sheets.isometric_spots import SpotsAndStrokes
from drafter.sheets.scene import Scene
from drafter.sheets.segments import Points, crossed, distances

Floats = NDArray[np.float64]

NEARER_MM = 0.3
"""How much nearer a text stands to its own line than to any other."""

BESIDE_MM = 1.5
"""How far a text with a leader stands off lines of others, if there is room."""

LOOKED_MM = 45.0
"""Lines further off than this are not looked at."""


@dataclass(frozen=True, eq=False, slots=True)
class Whose:
    """The lines of a text and those of others, each N x 2 x 2: ends, across and up [mm on paper]."""

    own: Floats
    others: Floats

    def is_told(self, box: Box, is_led: bool) -> bool:
        """Whether a text in a box is read with its own line, with a leader or without one."""
        if is_led:
            return nearest_mm(box.corners, self.others, BESIDE_MM) >= BESIDE_MM
        return self.is_nearest(box.corners)

    def is_nearest(self, corners: Sequence[Point]) -> bool:
        """Whether the own line is nearer to a rectangle than any other."""
        own_mm = nearest_mm(corners, self.own, LOOKED_MM) + NEARER_MM
        return nearest_mm(corners, self.others, own_mm) >= own_mm

    def clear_mm(self, at: Point) -> float:
        """How far a point is from lines of others."""
        return nearest_mm((at,), self.others, LOOKED_MM)


class IsometricOwners:
    """All lines of an isometric, by the thing that they belong to."""

    def __init__(self, scene: Scene, part: Part, space: IsometricSpace) -> None:
        self._layout = layout = scene.layout
        self._strokes = SpotsAndStrokes(scene, part).strokes
        ends = [(each.start, each.end) for each in self._strokes]
        self._ends = np.array([[end.seen(space, layout.nodes[end.node]) for end in each] for each in ends])

    def of_outlet(self, outlet: str) -> Whose:
        """Return the lines of an outlet, from the main down."""
        return self._whose([stroke.outlet == outlet for stroke in self._strokes])

    def of_node(self, node: Node) -> Whose:
        """Return the lines that something at a node belongs to: those of its outlet, or of the main there."""
        if outlet := self._layout.outlet_at(node):
            return self.of_outlet(outlet)
        return self._whose([node.id in stroke.nodes for stroke in self._strokes])

    def of_runs(self, runs: Collection[str]) -> Whose:
        """Return the lines of some runs."""
        return self._whose([stroke.run in runs for stroke in self._strokes])

    def _whose(self, own: list[bool]) -> Whose:
        """Some lines, and of the others those that do not go on from there as the same pipe."""
        mine = [stroke for stroke, is_own in zip(self._strokes, own, strict=True) if is_own]
        ends, outlets = {node for stroke in mine for node in stroke.nodes}, {stroke.outlet for stroke in mine}
        others = [
            not is_own and (stroke.outlet not in outlets or stroke.nodes.isdisjoint(ends))
            for stroke, is_own in zip(self._strokes, own, strict=True)
        ]
        return Whose(self._ends[own], self._ends[others])


def nearest_mm(corners: Sequence[Point], lines: Floats, within_mm: float) -> float:
    """Return how far the nearest of some lines is from a convex shape, or the limit where none is nearer.

    Args:
        corners: of the shape; none of the lines is to lie within it.
        lines: N x 2 x 2: ends, across and up.
        within_mm: the limit.
    """
    shape = np.array(corners)
    low, high = shape.min(axis=0) - within_mm, shape.max(axis=0) + within_mm
    first, last = lines[:, 0], lines[:, 1]
    near = ((np.maximum(first, last) >= low) & (np.minimum(first, last) <= high)).all(axis=1)
    if not near.any():
        return within_mm
    first, last = first[near], last[near]
    edges = np.roll(shape, -1, axis=0)
    begin, end = _points(first), _points(last)
    corner, next_corner = _points(shape[:, None]), _points(edges[:, None])
    ends = _points(np.concatenate([first, last]))
    off = min(distances(corner, begin, end).min(), distances(ends, corner, next_corner).min(), within_mm)
    return 0.0 if bool(crossed(begin, end, corner, next_corner).any()) else float(off)


def _points(at: Floats) -> Points:
    return at[..., 0], at[..., 1]
