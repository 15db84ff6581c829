"""Line charts over a common scale: lines, level limits with their names, and rows of bars below; black on white.

A chart is data in its own units; `chart_items` sets it in a rectangle of a sheet.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from drafter.drawing import Area, Item, Line, Polyline, Text
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm
from drafter.sheets.layers import Layers

TEXT_MM = 2.5
TITLE_MM = 3.5
PITCH_MM = 4.2
ROW_MM = 5.0
BAR_MM = 2.6
GAP_MM = 2.0
ROWS_GAP_MM = 3.5
KEY_LINE_MM = 10.0
KEY_GAP_MM = 7.0
TICK_APART_MM = 14.0
LABEL_SHARE = 0.3
"""The names of rows take at most this share of the width; longer ones are cut short."""

ROWS_SHARE = 0.45
_STEPS = (1.0, 2.0, 5.0)


@dataclass(frozen=True, slots=True)
class Axis:
    """A scale with its range and the step of its ticks.

    Attributes:
        label: what is measured, with its unit.
    """

    label: str
    low: float
    high: float
    step: float

    @property
    def ticks(self) -> list[float]:
        first = math.ceil(self.low / self.step - 1e-9)
        last = math.floor(self.high / self.step + 1e-9)
        return [number * self.step for number in range(first, last + 1)]

    def tick_text(self, value: float) -> str:
        decimals = max(0, -math.floor(math.log10(self.step) + 1e-9))
        return f"{value + 0.0:.{decimals}f}"


@dataclass(frozen=True, slots=True)
class Series:
    """Lines of one meaning; ``layer`` is the short name of the layer that says how they look."""

    name: str
    layer: str
    lines: tuple[tuple[Point, ...], ...]


@dataclass(frozen=True, slots=True)
class Limit:
    """A level line over the whole width, named at its right end."""

    name: str
    value: float


@dataclass(frozen=True, slots=True)
class Row:
    """Bars on one line below the chart, open ones and filled ones, each from a start to an end."""

    name: str
    open: tuple[tuple[float, float], ...] = ()
    filled: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Chart:
    """A chart before it has a place.

    Attributes:
        open_means, filled_means: what the two kinds of bars say; empty where there are none.
    """

    title: str
    across: Axis
    up: Axis
    series: tuple[Series, ...]
    limits: tuple[Limit, ...] = ()
    rows: tuple[Row, ...] = ()
    open_means: str = ""
    filled_means: str = ""


def round_step(span: float, most: int, steps: Sequence[float] = ()) -> float:
    """Return a round step that divides a span into no more than so many: the first of ``steps`` that does, if any."""
    least = span / max(1, most)
    for step in steps:
        if step >= least - 1e-12:
            return step
    power = 10.0 ** math.floor(math.log10(least))
    return next(step * power for step in (*_STEPS, 10.0) if step * power >= least - 1e-12)


def chart_items(chart: Chart, box: Box, layers: Layers) -> list[Item]:
    """Set a chart in a rectangle: title and key above, names of limits right, bars below, all inside it."""
    shown = _rows_that_fit(chart, box)
    labels = [chart.up.tick_text(tick) for tick in chart.up.ticks] + [row.name for row in shown]
    left = box.left + min(max(map(_width, labels)), LABEL_SHARE * box.width) + GAP_MM
    right = box.right - max((_width(limit.name) + 6.0 for limit in chart.limits), default=4.0)
    key, key_bottom = _key(chart, Box(box.left, box.bottom, box.right, box.top - TITLE_MM - 2.5), layers)
    bottom = box.bottom + 2 * PITCH_MM + len(shown) * ROW_MM + ROWS_GAP_MM
    plot = Box(left, bottom, right, key_bottom - PITCH_MM - 3.5)
    grid = Box(left, bottom - len(shown) * ROW_MM - ROWS_GAP_MM, right, plot.top)
    return [
        Text(layers.chart, Point(box.left, box.top - TITLE_MM), chart.title, TITLE_MM, weight="bold"),
        *key,
        *_across(chart.across, grid, layers),
        *_up(chart.up, plot, layers),
        *_limits(chart, plot, layers),
        *_series(chart, plot, layers),
        *_rows(shown, chart.across, plot, box.left, layers),
        Polyline(layers.chart, plot.corners, True),
    ]


def _width(text: str) -> float:
    return text_width_mm(text, TEXT_MM)


def _rows_that_fit(chart: Chart, box: Box) -> list[Row]:
    most = max(1, int(ROWS_SHARE * box.height / ROW_MM))
    if len(chart.rows) <= most:
        return list(chart.rows)
    left_out = len(chart.rows) - most + 1
    return [chart.rows[0], *chart.rows[1 : most - 1], Row(f"and {left_out} more")]


def _place(axis: Axis, low_mm: float, high_mm: float) -> Callable[[float], float]:
    return lambda value: low_mm + (high_mm - low_mm) * (value - axis.low) / (axis.high - axis.low)


def _key(chart: Chart, box: Box, layers: Layers) -> tuple[list[Item], float]:
    """Name the kinds of lines and bars from left to right, on as many lines as they need."""
    items: list[Item] = []
    x, base = box.left, box.top - TEXT_MM
    kinds = [(series.name, series.layer) for series in chart.series]
    kinds += [(chart.open_means, "open")] if chart.open_means else []
    kinds += [(chart.filled_means, "filled")] if chart.filled_means else []
    for name, kind in kinds:
        if x > box.left and x + KEY_LINE_MM + GAP_MM + _width(name) > box.right:
            x, base = box.left, base - PITCH_MM
        middle = base + TEXT_MM / 2
        if kind in ("open", "filled"):
            items += _bar(Box(x, middle - BAR_MM / 2, x + KEY_LINE_MM, middle + BAR_MM / 2), kind == "filled", layers)
        else:
            items.append(Line(getattr(layers, kind), Point(x, middle), Point(x + KEY_LINE_MM, middle)))
        items.append(Text(layers.chart, Point(x + KEY_LINE_MM + GAP_MM, base), name, TEXT_MM))
        x += KEY_LINE_MM + GAP_MM + _width(name) + KEY_GAP_MM
    return items, base


def _across(axis: Axis, grid: Box, layers: Layers) -> Iterator[Item]:
    """Upright grid lines through chart and bars, their numbers below, and what is measured under them."""
    place = _place(axis, grid.left, grid.right)
    for tick in axis.ticks:
        x = place(tick)
        yield Line(layers.chart_grid, Point(x, grid.bottom), Point(x, grid.top))
        yield Text(layers.chart, Point(x, grid.bottom - 1.2), axis.tick_text(tick), TEXT_MM, "top")
    yield Text(layers.chart, Point(grid.centre.x, grid.bottom - 1.2 - PITCH_MM), axis.label, TEXT_MM, "top")


def _up(axis: Axis, plot: Box, layers: Layers) -> Iterator[Item]:
    """Level grid lines, their numbers left of the chart, as many as stand apart in a low one."""
    place = _place(axis, plot.bottom, plot.top)
    apart = max(1, math.ceil(PITCH_MM / (place(axis.low + axis.step) - plot.bottom)))
    for number, tick in enumerate(axis.ticks):
        y = place(tick)
        yield Line(layers.chart_grid, Point(plot.left, y), Point(plot.right, y))
        if number % apart == 0:
            yield Text(layers.chart, Point(plot.left - GAP_MM, y), axis.tick_text(tick), TEXT_MM, "right")
    yield Text(layers.chart, Point(plot.left, plot.top + 2.2), axis.label, TEXT_MM)


def _limits(chart: Chart, plot: Box, layers: Layers) -> Iterator[Item]:
    """Limit lines, and their names right of the chart, pushed apart where the lines lie close."""
    place = _place(chart.up, plot.bottom, plot.top)
    below = -math.inf
    for limit in sorted(chart.limits, key=lambda limit: limit.value):
        y = place(limit.value)
        name_y = max(y, below + PITCH_MM)
        below = name_y
        yield Line(layers.chart_limit, Point(plot.left, y), Point(plot.right, y))
        yield Line(layers.chart, Point(plot.right, y), Point(plot.right + 4.0, name_y))
        yield Text(layers.chart, Point(plot.right + 5.0, name_y), limit.name, TEXT_MM, "left")


def _series(chart: Chart, plot: Box, layers: Layers) -> Iterator[Item]:
    across, up = _place(chart.across, plot.left, plot.right), _place(chart.up, plot.bottom, plot.top)
    for series in chart.series:
        for line in series.lines:
            yield Polyline(getattr(layers, series.layer), tuple(Point(across(p.x), up(p.y)) for p in line))


def _rows(rows: Sequence[Row], axis: Axis, plot: Box, left: float, layers: Layers) -> Iterator[Item]:
    place = _place(axis, plot.left, plot.right)
    for number, row in enumerate(rows):
        middle = plot.bottom - ROWS_GAP_MM - (number + 0.5) * ROW_MM
        name = _shortened(row.name, plot.left - GAP_MM - left)
        yield Text(layers.chart, Point(plot.left - GAP_MM, middle), name, TEXT_MM, "right")
        for spans, filled in ((row.open, False), (row.filled, True)):
            for start, end in spans:
                bar = Box(place(start), middle - BAR_MM / 2, place(end), middle + BAR_MM / 2)
                yield from _bar(bar, filled, layers)


def _bar(box: Box, filled: bool, layers: Layers) -> Iterator[Item]:
    if filled:
        yield Area(layers.chart, box.corners)
    yield Polyline(layers.chart, box.corners, True)


def _shortened(name: str, width: float) -> str:
    if _width(name) <= width + 0.01:
        return name
    kept = name
    while kept and _width(kept + "...") > width:
        kept = kept[:-1]
    return kept.rstrip() + "..."
