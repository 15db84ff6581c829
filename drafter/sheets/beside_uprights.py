"""Sets what is written beside upright pipes in columns, each label level with its own thing and in their order."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

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

RIM_MM = 1.4
"""Where a leader ends: so far beside the middle of the pipe, on the rim of its thing."""


@dataclass(frozen=True, slots=True)
class _Row:
    """A label at a place in a column: how much lower or higher than its thing, and how far beside the pipe."""

    label: Label
    box: Box
    led: tuple[Point, Point] | None


def set_beside_uprights(
    ground: Ground, labels: Iterable[Label], uprights: Iterable[tuple[Point, Point]]
) -> tuple[list[Item], list[Label]]:
    """Set the labels of things on upright pipes; also return those that are left, which find a place by themselves.

    Args:
        uprights: ends of all upright pipes of the view, none of which stands between a label and its pipe.
    """
    standing = [ground.around(ends) for ends in uprights]
    items: list[Item] = []
    left: list[Label] = []
    pipes: dict[int, list[Label]] = {}
    for label in labels:
        if label.upright is None:
            left.append(label)
        else:
            pipes.setdefault(round(ground.paper(label.upright).x / SAME_MM), []).append(label)
    for x in sorted(pipes):
        rows, homeless = _best(ground, pipes[x], standing)
        for row in rows:
            items += ground.put(replace(row.label, rim_mm=0.0), row.box, row.led)
            ground.name(row.label)
        left += [label.shortened for label in homeless]
    return items, left


def _best(ground: Ground, labels: Sequence[Label], standing: Sequence[Box]) -> tuple[list[_Row], list[Label]]:
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
            set_here, over = _column(ground, mine, at_side, standing)
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


def _column(
    ground: Ground, labels: Sequence[Label], side: int, standing: Sequence[Box]
) -> tuple[list[_Row], list[Label]]:
    """Set labels beside a pipe from the top down, each as nearly level with its thing as the others leave room."""
    at = {id(label): ground.paper(label.upright) for label in labels if label.upright is not None}
    ordered = sorted(labels, key=lambda label: (-at[id(label)].y, label.lines))
    rows: list[_Row] = []
    homeless: list[Label] = []
    ceiling = math.inf
    for label, top in zip(ordered, _tops([at[id(label)].y for label in ordered], ordered), strict=True):
        for shift in SHIFTS_MM:
            row = _row(ground, label, at[id(label)], top + shift, side) if top + shift <= ceiling else None
            if row is not None and not _past_another(row.box, at[id(label)].x, standing):
                rows.append(row)
                ceiling = row.box.bottom - BETWEEN_MM
                break
        else:
            homeless.append(label)
    return rows, homeless


def _past_another(box: Box, x: float, standing: Sequence[Box]) -> bool:
    """Whether another pipe stands between a label and its own."""
    low, high = sorted((x, (box.left + box.right) / 2))
    return any(
        low + SAME_MM < pipe.left < high - SAME_MM and pipe.bottom < box.top and box.bottom < pipe.top
        for pipe in standing
    )


def _tops(levels: Sequence[float], labels: Sequence[Label]) -> list[float]:
    """Tops of labels from above down, whose first lines stand as nearly as they can at some levels [mm on paper]."""
    wanted = [level + label.height_mm / 2 for level, label in zip(levels, labels, strict=True)]
    return stacked(wanted, [label.size_mm()[1] + BETWEEN_MM for label in labels])


def _row(ground: Ground, label: Label, at: Point, top: float, side: int) -> _Row | None:
    """A label at its height, as near to the pipe as there is room."""
    width, height = label.size_mm()
    middle = top - label.height_mm / 2
    if abs(middle - at.y) > MOST_ASIDE_MM:
        return None
    led = abs(middle - at.y) > LEVEL_MM
    off = LED_MM if led else NEAREST_MM
    while off <= FARTHEST_MM:
        left = at.x + off if side > 0 else at.x - off - width
        box = Box(left, top - height, left + width, top)
        if ground.free(box.grown(PAD_MM)):
            line = _leader(at, box, middle, side) if led else None
            if line is None or ground.line_free(*line):
                return _Row(label, box, line)
        off += STEP_MM
    return None


def _leader(at: Point, box: Box, middle: float, side: int) -> tuple[Point, Point]:
    """From the rim of a thing to the near end of a label's first line."""
    return Point(at.x + side * RIM_MM, at.y), Point(box.left - 0.6 if side > 0 else box.right + 0.6, middle)
