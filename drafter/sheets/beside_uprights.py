"""Sets what is written beside upright pipes in columns, each label level with its own thing and in their order."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

from drafter.drawing import Item
from drafter.geometry import Box, Point
from drafter.sheets.placing import PAD_MM, Ground, Label
from drafter.sheets.spreading import stacked

SAME_MM = 0.3
"""Things whose places differ less from side to side stand on one pipe."""

NEAREST_MM, LED_MM, FARTHEST_MM, STEP_MM = 2.4, 4.8, 15.0, 0.4
"""From a pipe to a label beside it, level with its thing or led to it: what is tried."""

SHIFTS_MM = tuple(sign * step * 0.75 for step in range(9) for sign in ((-1, 1) if step else (1,)))
"""How much lower or higher than wanted a label is tried, where something is in its way."""

BETWEEN_MM = 1.2
"""Kept free between the labels of a column."""

LEVEL_MM, MOST_ASIDE_MM = 0.8, 7.0
"""A label farther above or below its thing has a leader; one farther still is no label of the column."""

UNLED_MM, NEARER_MM = 5.0, 1.0
"""A label farther beside its pipe has a leader, and one that is not so much nearer to it than to any other pipe."""

RIM_MM = 1.4
"""Where a leader ends: so far beside the middle of the pipe, on the rim of its thing."""


@dataclass(frozen=True, slots=True)
class _Row:
    """A label at a place in a column: how much lower or higher than its thing, and how far beside the pipe."""

    label: Label
    box: Box
    led: tuple[Point, Point] | None


@dataclass(frozen=True)
class _Beside:
    """What stands beside a pipe [mm on paper]: all upright pipes, and faces of openings and of things at the wall."""

    pipes: Sequence[Box]
    faces: Sequence[Box]

    def between(self, box: Box, x: float) -> bool:
        """Whether another pipe stands between a label and its own at ``x``."""
        low, high = sorted((x, (box.left + box.right) / 2))
        return any(low + SAME_MM < pipe.left < high - SAME_MM for pipe in self._level_with(box))

    def misleads(self, box: Box, x: float) -> bool:
        """Whether a label seems to be of something else than its pipe at ``x``: in its face, or as near to it."""
        own = max(box.left - x, x - box.right)
        others = [pipe.left for pipe in self._level_with(box) if abs(pipe.left - x) > SAME_MM]
        near = any(max(box.left - other, other - box.right) < own + NEARER_MM for other in others)
        return near or any(face.overlaps(box) and not face.left < x < face.right for face in self.faces)

    def _level_with(self, box: Box) -> Iterator[Box]:
        return (pipe for pipe in self.pipes if pipe.bottom < box.top and box.bottom < pipe.top)


def set_beside_uprights(
    ground: Ground,
    labels: Iterable[Label],
    uprights: Iterable[tuple[Point, Point]],
    faces: Iterable[Sequence[Point]] = (),
) -> tuple[list[Item], list[Label]]:
    """Set the labels of things on upright pipes; also return those that are left, which find a place by themselves.

    Args:
        uprights: ends of all upright pipes of the view, none of which stands between a label and its pipe.
        faces: corners of openings and of things at the wall; a label in one of them has a leader to its pipe.
    """
    beside = _Beside([ground.around(ends) for ends in uprights], [ground.around(corners) for corners in faces])
    items: list[Item] = []
    left: list[Label] = []
    pipes: dict[int, list[Label]] = {}
    for label in labels:
        if label.upright is None:
            left.append(label)
        else:
            pipes.setdefault(round(ground.paper(label.upright).x / SAME_MM), []).append(label)
    for x in sorted(pipes):
        rows, homeless = _best(ground, pipes[x], beside)
        for row in rows:
            items += ground.put(replace(row.label, rim_mm=0.0), row.box, row.led)
            ground.name(row.label)
        left += homeless
    return items, left


def _best(ground: Ground, labels: Sequence[Label], beside: _Beside) -> tuple[list[_Row], list[Label]]:
    """The best of the ways to share the labels of a pipe between its sides: fewest left over, then fewest leaders."""
    best: tuple[tuple[int, int, int], list[_Row], list[Label]] | None = None
    side = _side_of_outlet(labels)
    tags, others = [each for each in labels if each.bold], [each for each in labels if not each.bold]
    ways: tuple[dict[int, Sequence[Label]], ...] = (
        {side: tags, -side: others}, {-side: tags, side: others}, {side: labels}, {-side: labels},
    )  # fmt: skip
    for number, way in enumerate(ways):
        rows, homeless = list[_Row](), list[Label]()
        for at_side, mine in way.items():
            set_here, over = _column(ground, mine, at_side, beside)
            rows += set_here
            homeless += over
        cost = len(homeless), sum(row.led is not None for row in rows), number
        if best is None or cost < best[0]:
            best = cost, rows, homeless
    assert best is not None
    return best[1:]


def _side_of_outlet(labels: Sequence[Label]) -> int:
    """The side of a pipe to which its outlet is turned: 1 on the right, where it has none, -1 on the left."""
    aside = [label.anchor.x - label.upright.x for label in labels if label.upright is not None]
    return -1 if any(each < -SAME_MM for each in aside) else 1


def _column(ground: Ground, labels: Sequence[Label], side: int, beside: _Beside) -> tuple[list[_Row], list[Label]]:
    """Set labels beside a pipe from the top down, each as nearly level with its thing as the others leave room."""
    at = {id(label): ground.paper(label.upright) for label in labels if label.upright is not None}
    ordered = sorted(labels, key=lambda label: (-at[id(label)].y, label.lines))
    rows: list[_Row] = []
    homeless: list[Label] = []
    ceiling = math.inf
    for label, top in zip(ordered, _tops([at[id(label)].y for label in ordered], ordered), strict=True):
        forms = [label, label.shortened] if label.short else [label]
        tops = [top + shift for shift in SHIFTS_MM if top + shift <= ceiling]
        tried = (_row(ground, form, at[id(label)], high, side, beside) for form, high in product(forms, tops))
        row = next(filter(None, tried), None)
        if row is None:
            homeless.append(label)
        else:
            rows.append(row)
            ceiling = row.box.bottom - BETWEEN_MM
    return rows, homeless


def _tops(levels: Sequence[float], labels: Sequence[Label]) -> list[float]:
    """Tops of labels from above down, whose first lines stand as nearly as they can at some levels [mm on paper]."""
    wanted = [level + label.height_mm / 2 for level, label in zip(levels, labels, strict=True)]
    return stacked(wanted, [label.size_mm()[1] + BETWEEN_MM for label in labels])


def _row(ground: Ground, label: Label, at: Point, top: float, side: int, beside: _Beside) -> _Row | None:
    """A label at its height, as near to the pipe as there is room."""
    width, height = label.size_mm()
    middle = top - label.height_mm / 2
    if abs(middle - at.y) > MOST_ASIDE_MM:
        return None
    reach = label.reach_mm if (ground.paper(label.anchor).x - at.x) * side > SAME_MM else 0.0
    aside, off = abs(middle - at.y) > LEVEL_MM, NEAREST_MM
    while off <= FARTHEST_MM:
        left = at.x + off if side > 0 else at.x - off - width
        box = Box(left, top - height, left + width, top)
        if ground.free(box.grown(PAD_MM)) and not beside.between(box, at.x):
            if not (aside or off > reach + UNLED_MM or beside.misleads(box, at.x)):
                return _Row(label, box, None)
            line = _leader(at, box, middle, side * max(RIM_MM, reach))
            if off >= reach + LED_MM and ground.line_free(*line):
                return _Row(label, box, line)
        off += STEP_MM
    return None


def _leader(at: Point, box: Box, middle: float, off: float) -> tuple[Point, Point]:
    """From the rim of a thing, so far to the right of its pipe, to the near end of a label's first line."""
    return Point(at.x + off, at.y), Point(box.left - 0.6 if off > 0.0 else box.right + 0.6, middle)
