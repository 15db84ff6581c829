"""Parts of a view that is too large for one sheet: where match lines run, so that they cut no text and no sign."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise, product
from math import ceil
from typing import TYPE_CHECKING, Literal

from drafter.drawing import (
    Area,
    Circle,
    Dimension,
    Insert,
    Item,
    Leader,
    Ordinate,
    Polyline,
    Record,
    Symbol,
    Text,
    View,
)
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm
from drafter.sheets.cuts import Cuts
from drafter.sheets.item_boxes import boxes_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

Side = Literal["left", "right", "bottom", "top"]

STEP_MM = 0.5
CLEAR_MM = 1.2
"""Kept between a match line and what it must not cut."""

LEAST_SHARE = 0.2
"""The least size of a part, as a share of what its sheet holds."""

OFF_EVEN = 0.01
"""What a millimetre off even parts counts, where a label that is cut counts `MOVABLE`."""

FIXED, SIGN, THING, MOVABLE, ALONG = 120.0, 30.0, 10.0, 2.0, 0.5
LARGEST_THING_MM = 50.0
"""Larger outlines may be cut."""

ONE_MORE = 40.0
"""What it counts to have one part more than the sheet's size asks for."""


@dataclass(frozen=True)
class Part:
    """What one window shows of a view: the whole, or a part that ends at match lines.

    Attributes:
        box: of the view, in its own millimetres.
        number, count: which part, from 1, of how many.
        beyond: the numbers of the parts that go on past match lines.
        lost: what found no room in the whole view.
    """

    view: View
    box: Box
    number: int = 1
    count: int = 1
    beyond: tuple[tuple[Side, int], ...] = ()
    lost: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """Which part it is, to follow a title."""
        return f", PART {self.number} OF {self.count}" if self.count > 1 else ""

    @property
    def is_cut_across(self) -> bool:
        """Whether the view goes on above or below."""
        return any(side in ("bottom", "top") for side, _ in self.beyond)

    @property
    def title(self) -> str:
        return self.view.title + self.words

    @property
    def key(self) -> str:
        return key_of(self.view.name, self.number)


def key_of(view: str, number: int) -> str:
    """Name a part among all parts of a set."""
    return f"{view}/{number}"


def whole(view: View, lost: Sequence[str] = ()) -> tuple[Part, ...]:
    """A view as its only part."""
    return (Part(view, view.box, lost=tuple(lost)),)


def cuts_of(view: View, width_mm: float, height_mm: float, symbols: Mapping[str, Symbol]) -> Cuts:
    """Choose match lines so that each part fits a width and a height on paper and little is cut."""
    scale, box = view.scale, view.box
    weights = _Weights(view, symbols)
    upright = _positions(weights.across, box.width / scale, width_mm)
    level = _positions(weights.up, box.height / scale, height_mm)
    return Cuts(tuple(box.left + at * scale for at in upright), tuple(box.bottom + at * scale for at in level), box)


def parts_of(view: View, cuts: Cuts, lost: Sequence[str], symbols: Mapping[str, Symbol]) -> tuple[Part, ...]:
    """Cut a view at match lines; parts with nothing on them are left out."""
    box = view.box
    columns = list(pairwise([box.left, *cuts.upright, box.right]))
    rows = list(pairwise([box.bottom, *cuts.level, box.top]))[::-1]
    middles = [at for item in view.items for at in _middles(item, view.scale, symbols)]
    shown: dict[tuple[int, int], Box] = {}
    for (row, (bottom, top)), (column, (left, right)) in product(enumerate(rows), enumerate(columns)):
        cell = Box(left, bottom, right, top)
        if any(cell.contains(at) for at in middles):
            shown[row, column] = cell
    numbers = {place: number for number, place in enumerate(shown, 1)}
    ways: tuple[tuple[Side, int, int], ...] = (("left", 0, -1), ("right", 0, 1), ("bottom", 1, 0), ("top", -1, 0))
    return tuple(
        Part(
            view, cell, numbers[row, column], len(shown),
            tuple((side, numbers[row + i, column + j]) for side, i, j in ways if (row + i, column + j) in numbers),
            tuple(lost),
        )
        for (row, column), cell in shown.items()
    )  # fmt: skip


def _middles(item: Item, scale: float, symbols: Mapping[str, Symbol]) -> Iterable[Point]:
    if isinstance(item, (Area, Record)):
        return ()
    if isinstance(item, Dimension):
        number = boxes_of(item, scale, dict(symbols))[0].centre
        return (Point(number.x * scale, number.y * scale),)
    boxes = boxes_of(item, 1.0 if isinstance(item, Circle) else scale, dict(symbols))
    grown = 1.0 if isinstance(item, Circle) else scale
    return (Point(box.centre.x * grown, box.centre.y * grown) for box in boxes)


class _Weights:
    """How much a match line would cut at each half millimetre across a view and up it."""

    def __init__(self, view: View, symbols: Mapping[str, Symbol]) -> None:
        import numpy as np

        self.scale, self.box = view.scale, view.box
        self.across: NDArray[np.float64] = np.zeros(ceil(view.box.width / view.scale / STEP_MM) + 1)
        self.up: NDArray[np.float64] = np.zeros(ceil(view.box.height / view.scale / STEP_MM) + 1)
        for item in view.items:
            for box, weight in _weighed(item, view.scale, dict(symbols)):
                self._add(box, weight)

    def _add(self, box: Box, weight: float) -> None:
        left, bottom = self.box.left / self.scale, self.box.bottom / self.scale
        flat, thin = box.height < 0.5, box.width < 0.5
        for array, low, high, over in (
            (self.across, box.left - left, box.right - left, flat),
            (self.up, box.bottom - bottom, box.top - bottom, thin),
        ):
            first, last = int((low - CLEAR_MM) / STEP_MM), ceil((high + CLEAR_MM) / STEP_MM)
            if not over:
                array[max(first, 0) : last + 1] += weight


def _weighed(item: Item, scale: float, symbols: dict[str, Symbol]) -> Iterable[tuple[Box, float]]:
    match item:
        case Text():
            return ((box, FIXED if item.angle_deg else MOVABLE) for box in boxes_of(item, scale, symbols))
        case Ordinate():
            *_, text = boxes_of(item, scale, symbols)
            ends = [Point(end.x / scale, end.y / scale) for end in (item.feature, item.end)]
            return ((Box.around([*text.corners, *ends]), FIXED),)
        case Dimension():
            number = boxes_of(item, scale, symbols)[0]
            half, middle = text_width_mm(item.text, 2.5) / 2, number.centre
            if item.angle_deg == 0:
                return ((Box(middle.x - half, number.bottom, middle.x + half, number.top), FIXED),)
            return ((Box(number.left, middle.y - half, number.right, middle.y + half), FIXED),)
        case Insert():
            return ((box, SIGN) for box in boxes_of(item, scale, symbols))
        case Leader():
            return ((box, MOVABLE / 2) for box in boxes_of(item, scale, symbols))
        case Area() | Record() | Circle():
            return ()
        case Polyline(closed=True) if _is_thing(item, scale):
            return ((Box.around([Point(p.x / scale, p.y / scale) for p in item.points]), THING),)
        case _:
            boxes = boxes_of(item, scale, symbols)
            return ((box, ALONG * max(box.width, box.height)) for box in boxes if min(box.width, box.height) < 0.5)


def _is_thing(outline: Polyline, scale: float) -> bool:
    """Whether an outline is of something small enough to be kept whole."""
    box = Box.around(outline.points)
    return max(box.width, box.height) / scale < LARGEST_THING_MM


def _positions(weights: NDArray, length_mm: float, most_mm: float) -> list[float]:  # type: ignore[type-arg]
    """Where a length is cut into as few pieces as fit, or one more where that cuts less."""
    count = max(1, ceil(length_mm / most_mm - 1e-9))
    if count == 1:
        return []
    tries = [_cut(weights, length_mm, most_mm, number) for number in (count, count + 1)]
    return min(tries, key=lambda each: each[0] + ONE_MORE * len(each[1]))[1]


def _cut(weights: NDArray, length_mm: float, most_mm: float, count: int) -> tuple[float, list[float]]:  # type: ignore[type-arg]
    import numpy as np

    at = np.arange(len(weights)) * STEP_MM
    cost, before, found = 0.0, 0.0, list[float]()
    for left_over in range(count - 1, 0, -1):
        low = max(before + LEAST_SHARE * most_mm, length_mm - left_over * most_mm)
        high = min(before + most_mm, length_mm - LEAST_SHARE * most_mm * left_over)
        even = before + (length_mm - before) / (left_over + 1)
        allowed = (at >= low - 1e-9) & (at <= high + 1e-9)
        if not allowed.any():
            allowed = np.abs(at - min(high, before + most_mm)) <= STEP_MM / 2
        costs = np.where(allowed, weights + OFF_EVEN * np.abs(at - even), np.inf)
        best = int(np.argmin(costs))
        cost += float(weights[best])
        before = float(at[best])
        found.append(before)
    return cost, found
