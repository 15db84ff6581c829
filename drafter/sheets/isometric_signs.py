"""How much of an isometric is misread: signs, bends and ends seen on lines of another pipe, and lines that cross.

Many ways to draw one isometric are judged at once, as arrays, whose last axis is the number of the way.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drafter.layout.graph import Layout
from drafter.sheets.isometric_axes import on_paper, turned
from drafter.sheets.isometric_parts import Part
from drafter.sheets.isometric_space import IsometricSpace, IsometricSpacing
from drafter.sheets.isometric_spots import Spot, SpotsAndStrokes, Stroke
from drafter.sheets.scene import Scene
from drafter.sheets.segments import Points, crossed, distances
from drafter.sheets.shortened_axis import hung

Floats = NDArray[np.float64]
Numbers = NDArray[np.intp]
Flags = NDArray[np.bool_]
Axes = tuple[Floats, Floats, Floats]
"""Where the places of the axes to the east, the north and up are drawn, places x ways [mm on paper]."""

NEAR_MM = 4.0
"""A sign, bend or end nearer than this to a line seems to stand on it."""

CROWDED_MM = 8.0
"""Nearer than this there is little room to write between them."""

MISTAKEN, DEEPER, CROWDED, CROSSED = 3.0, 2.0, 0.8, 1.0
"""What a sign on another line counts, how much more right on it, one just off it at most, a line across another."""

ROWS_AT_ONCE = 256
"""Spots or strokes that are set against all strokes at a time, which bounds the memory."""


@dataclass(frozen=True, slots=True)
class Pairs:
    """Numbers of the spots and strokes, and of the strokes and strokes, that are looked at."""

    spots: Numbers
    strokes: Numbers
    one: Numbers
    other: Numbers


class SignsAmongLines:
    """The signs, bends and ends of a part, and its lines, as they hang on the places of the axes."""

    def __init__(self, scene: Scene, part: Part, spacing: IsometricSpacing) -> None:
        marks = SpotsAndStrokes(scene, part)
        spots, strokes = marks.spots, marks.strokes
        number = {node.id: index for index, node in enumerate(part.nodes)}
        points = [*spots, *(stroke.start for stroke in strokes), *(stroke.end for stroke in strokes)]
        self._node = np.array([number[point.node] for point in points])
        self._off = np.array([point.off_mm for point in points])
        self._first, self._last = len(spots), len(spots) + len(strokes)
        at = np.array([(node.at.x, node.at.y, spacing.heights_m[node.id]) for node in part.nodes]).T
        axes = (spacing.east, spacing.north, spacing.up)
        self._on = [axis.hanging(places) for axis, places in zip(axes, at, strict=True)]
        self._foreign = _foreign(scene.layout, spots, strokes)
        self._apart = _apart(strokes)

    def badness(self, axes: Axes, turn: int, pairs: Pairs) -> Floats:
        """Return how much is misread among some pairs, for each way to draw it."""
        off = self._off_mm(axes, turn, pairs)
        mistaken = (MISTAKEN * (off < NEAR_MM) + DEEPER * np.clip(1.0 - off / NEAR_MM, 0.0, None)).sum(axis=0)
        crowded = CROWDED * np.clip(1.0 - off / CROWDED_MM, 0.0, None).sum(axis=0)
        ends = [numbers + end for numbers in (pairs.one, pairs.other) for end in (self._first, self._last)]
        crossings = crossed(*self._seen(axes, turn, ends)).sum(axis=0)
        return np.asarray(mistaken + crowded + CROSSED * crossings)

    def misread(self, space: IsometricSpace) -> float:
        """Return how much is misread in a space."""
        axes = axes_of(space)
        return float(self.badness(axes, space.turn, self.near(axes, space.turn, CROWDED_MM))[0])

    def count(self, space: IsometricSpace) -> int:
        """Return how many signs, bends and ends are seen on a line of another pipe."""
        axes = axes_of(space)
        return len(self.mistaken(axes, space.turn, self.near(axes, space.turn, NEAR_MM)).spots)

    def mistaken(self, axes: Axes, turn: int, pairs: Pairs) -> Pairs:
        """Return the pairs of a sign, bend or end and a line of another pipe that it is seen on, first way."""
        on = self._off_mm(axes, turn, pairs)[:, 0] < NEAR_MM
        return Pairs(pairs.spots[on], pairs.strokes[on], pairs.one[:0], pairs.other[:0])

    def near(self, axes: Axes, turn: int, reach_mm: float) -> Pairs:
        """Return the pairs whose boxes are so near to each other in the first way to draw it."""
        ((across, rise),) = self._seen(axes, turn, [np.arange(len(self._node))])
        boxes = [_Boxes.of(each[:, 0], self._first, self._last) for each in (across, rise)]

        def on_spots(rows: slice) -> Flags:
            return boxes[0].spots_near(rows, reach_mm) & boxes[1].spots_near(rows, reach_mm) & self._foreign[rows]

        def on_strokes(rows: slice) -> Flags:
            return boxes[0].strokes_near(rows, reach_mm) & boxes[1].strokes_near(rows, reach_mm) & self._apart[rows]

        count = len(self._node) - self._last
        return Pairs(*_in_rows(self._first, on_spots), *_in_rows(count, on_strokes))

    def between(self, pairs: Pairs) -> list[tuple[int, int]]:
        """Return the axes and places after which more or less room parts spots and strokes, of most pairs first."""
        points = (pairs.spots, pairs.strokes + self._first, pairs.strokes + self._last)
        found = Counter[tuple[int, int]]()
        for axis, (index, _) in enumerate(self._on):
            on = index[np.column_stack([self._node[each] for each in points])]
            spans = zip(on.min(axis=1).tolist(), on.max(axis=1).tolist(), strict=True)
            found.update((axis, place) for low, high in spans for place in range(low, high))
        return sorted(found, key=lambda each: (-found[each], each))

    def _off_mm(self, axes: Axes, turn: int, pairs: Pairs) -> Floats:
        """How far spots are from strokes, pairs x ways [mm on paper]."""
        points = (pairs.spots, pairs.strokes + self._first, pairs.strokes + self._last)
        return distances(*self._seen(axes, turn, points))

    def _seen(self, axes: Axes, turn: int, groups: Sequence[Numbers]) -> list[Points]:
        """Where groups of points are seen: of the spots, then the first and the last ends of the strokes."""
        used, number = np.unique(np.concatenate(groups), return_inverse=True)
        nodes = self._node[used]
        x, y, z = (
            hung(axis, index[nodes], share[nodes]) + off[used, None]
            for axis, (index, share), off in zip(axes, self._on, self._off.T, strict=True)
        )
        across, rise = on_paper(*turned(x, y, turn), z)
        ends = np.cumsum([len(group) for group in groups])[:-1]
        return [(across[each], rise[each]) for each in np.split(number, ends)]


@dataclass(frozen=True, slots=True)
class _Boxes:
    """Where spots are along one direction of the paper, and the low and high ends of strokes."""

    spots: Floats
    low: Floats
    high: Floats

    @classmethod
    def of(cls, places: Floats, first: int, last: int) -> _Boxes:
        return cls(places[:first], *(pick(places[first:last], places[last:]) for pick in (np.minimum, np.maximum)))

    def spots_near(self, rows: slice, reach_mm: float) -> Flags:
        spots = self.spots[rows, None]
        return np.asarray((spots > self.low - reach_mm) & (spots < self.high + reach_mm))

    def strokes_near(self, rows: slice, reach_mm: float) -> Flags:
        low, high = self.low[rows, None], self.high[rows, None]
        return np.asarray((high > self.low - reach_mm) & (low < self.high + reach_mm))


def axes_of(space: IsometricSpace) -> Axes:
    """Return where a space has the places of its axes, as one way to draw it."""
    east, north, up = (np.array(axis.drawn_mm)[:, None] for axis in (space.east, space.north, space.up))
    return east, north, up


def _foreign(layout: Layout, spots: Sequence[Spot], strokes: Sequence[Stroke]) -> Flags:
    """Whether a spot and a stroke have nothing to do with each other, spots x strokes."""
    by_node, by_outlet = _by_node(strokes), dict[str, list[int]]()
    for index, stroke in enumerate(strokes):
        if stroke.outlet:
            by_outlet.setdefault(stroke.outlet, []).append(index)
    foreign = np.ones((len(spots), len(strokes)), dtype=bool)
    for number, spot in enumerate(spots):
        for run in layout.runs_at[spot.node]:
            for own in (by_node.get(run.start, []), by_node.get(run.end, []), by_outlet.get(run.outlet, [])):
                foreign[number, own] = False
    return foreign


def _apart(strokes: Sequence[Stroke]) -> Flags:
    """Whether two strokes do not meet at a node and one at least is pipe, each pair but once."""
    by_node = _by_node(strokes)
    apart = np.triu(np.ones((len(strokes), len(strokes)), dtype=bool), 1)
    signs = [not stroke.run for stroke in strokes]
    apart[np.ix_(signs, signs)] = False
    for index, stroke in enumerate(strokes):
        for node in stroke.nodes:
            apart[index, by_node[node]] = False
    return apart


def _by_node(strokes: Sequence[Stroke]) -> dict[str, list[int]]:
    found: dict[str, list[int]] = {}
    for index, stroke in enumerate(strokes):
        for node in stroke.nodes:
            found.setdefault(node, []).append(index)
    return found


def _in_rows(count: int, flags: Callable[[slice], Flags]) -> tuple[Numbers, Numbers]:
    """Rows and columns of the flags that are set, some rows at a time."""
    found = [np.zeros((2, 0), dtype=np.intp)]
    for start in range(0, count, ROWS_AT_ONCE):
        row, column = np.nonzero(flags(slice(start, start + ROWS_AT_ONCE)))
        found.append(np.stack([row + start, column]))
    rows, columns = np.concatenate(found, axis=1)
    return rows, columns
