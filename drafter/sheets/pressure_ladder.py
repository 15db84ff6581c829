"""The pressure ladder of the tool with the least to spare: each step from the compressor down, at one scale."""

from __future__ import annotations

import math
from collections.abc import Iterator

from drafter.drawing import Area, Item, Line, Polyline, Text
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm, wrapped
from drafter.quantity import Units
from drafter.sheets.charts import GAP_MM, PITCH_MM, TEXT_MM, TITLE_MM, Axis, round_step
from drafter.sheets.layers import Layers
from drafter.sheets.paragraph import paragraph
from drafter.sheets.scene import Scene
from drafter.sizing.network import Network, OutletFlow

HIGHEST_ROW_MM, BAR_SHARE = 16.0, 0.4
WIDEST_MM = 460.0
WORDS_SHARE = 0.32
NARROWEST_WORDS_MM, WIDEST_WORDS_MM = 62.0, 105.0
PANEL_GAP_MM, WORDS_PITCH_MM = 8.0, 3.7
LEAST_BAR_MM = 0.4
TICK_APART_MM = 16.0


def ladder_panel(scene: Scene, box: Box) -> list[Item]:
    """Draw the ladder at the left of a rectangle, and say at the right what it means."""
    network, units, layers = scene.design.network, scene.units, scene.layers
    words_width = min(max(WORDS_SHARE * box.width, NARROWEST_WORDS_MM), WIDEST_WORDS_MM)
    width = min(box.width - words_width - PANEL_GAP_MM, WIDEST_MM)
    beside = Box(box.left + width + PANEL_GAP_MM, box.bottom, box.left + width + PANEL_GAP_MM + words_width, box.top)
    return [
        *_ladder(network, units, Box(box.left, box.bottom, box.left + width, box.top), layers),
        *_words(network, units, beside, layers),
    ]


def _ladder(network: Network, units: Units, box: Box, layers: Layers) -> Iterator[Item]:
    flow = network.least_to_spare
    title = f"PRESSURE LADDER OF {flow.tag}, THE TOOL WITH THE LEAST TO SPARE"
    yield Text(layers.chart, Point(box.left, box.top - TITLE_MM), title, TITLE_MM, weight="bold")
    names = [step.what for step in flow.ladder]
    row = min(HIGHEST_ROW_MM, (box.height - TITLE_MM - 4 * PITCH_MM) / (len(names) + 1))
    left = box.left + max(text_width_mm(name, TEXT_MM) for name in (*names, "at the tool")) + GAP_MM
    drop_width = max(text_width_mm(units.pressure_drop(step.drop_pa), TEXT_MM) for step in flow.ladder) + 2 * GAP_MM
    top = box.top - TITLE_MM - PITCH_MM - 2.0
    grid = Box(left + drop_width, top - row * (len(names) + 1), box.right - 4.0, top)
    axis = _axis(network, flow, units, grid.width)
    yield from _grid(axis, grid, layers)
    yield from _steps(network, flow, units, axis, grid, row, box.left, layers)
    yield from _needed(flow, units, axis, grid, layers)


def _axis(network: Network, flow: OutletFlow, units: Units, width_mm: float) -> Axis:
    bar, bar_pa = units.pressure_unit
    high = network.layout.site.compressor.cut_in_pa / bar_pa
    low = min(step.gauge_pressure_pa for step in flow.ladder) / bar_pa
    low = min(low, flow.needed_pa / bar_pa) if flow.needed_pa else low
    step = round_step((high - low) * 1.1, max(2, int(width_mm / TICK_APART_MM)))
    return Axis(
        f"pressure, {bar} gauge", math.floor(low / step - 0.1) * step, math.ceil(high / step + 0.1) * step, step
    )


def _across(axis: Axis, grid: Box, value: float) -> float:
    return grid.left + grid.width * (value - axis.low) / (axis.high - axis.low)


def _grid(axis: Axis, grid: Box, layers: Layers) -> Iterator[Item]:
    for tick in axis.ticks:
        x = _across(axis, grid, tick)
        yield Line(layers.chart_grid, Point(x, grid.bottom), Point(x, grid.top))
        yield Text(layers.chart, Point(x, grid.bottom - 1.2), axis.tick_text(tick), TEXT_MM, "top")
    yield Text(layers.chart, Point(grid.centre.x, grid.bottom - 1.2 - PITCH_MM), axis.label, TEXT_MM, "top")
    yield Polyline(layers.chart, grid.corners, True)


def _steps(
    network: Network, flow: OutletFlow, units: Units, axis: Axis, grid: Box, row: float, left: float, layers: Layers
) -> Iterator[Item]:
    """One bar a step from the pressure before it down to that behind it, joined like rungs; its loss in figures."""
    _, bar_pa = units.pressure_unit
    before, half = network.layout.site.compressor.cut_in_pa, BAR_SHARE * row / 2
    for number, step in enumerate(flow.ladder):
        middle = grid.top - (number + 0.5) * row
        high, low = (_across(axis, grid, pa / bar_pa) for pa in (before, step.gauge_pressure_pa))
        bar = Box(min(low, high - LEAST_BAR_MM), middle - half, high, middle + half)
        yield Text(layers.chart, Point(left, middle), step.what, TEXT_MM, "left")
        yield Text(layers.chart, Point(grid.left - GAP_MM, middle), units.pressure_drop(step.drop_pa), TEXT_MM, "right")
        yield Area(layers.chart, bar.corners)
        yield Polyline(layers.chart, bar.corners, True)
        yield Line(layers.chart, Point(low, middle - half), Point(low, middle - row + half))
        before = step.gauge_pressure_pa
    middle = grid.top - (len(flow.ladder) + 0.5) * row
    at = _across(axis, grid, before / bar_pa)
    yield Text(layers.chart, Point(left, middle), "at the tool", TEXT_MM, "left", weight="bold")
    yield Text(layers.chart, Point(grid.left - GAP_MM, middle), units.pressure(before), TEXT_MM, "right", weight="bold")
    yield Line(layers.chart_curve, Point(at, middle - half), Point(at, middle + half))


def _needed(flow: OutletFlow, units: Units, axis: Axis, grid: Box, layers: Layers) -> Iterator[Item]:
    if flow.needed_pa:
        x = _across(axis, grid, flow.needed_pa / units.pressure_unit[1])
        name = f"needed {units.pressure(flow.needed_pa)}"
        half = text_width_mm(name, TEXT_MM) / 2
        yield Line(layers.chart_limit, Point(x, grid.bottom), Point(x, grid.top))
        at = min(max(x, grid.left + half), grid.right - half)
        yield Text(layers.chart, Point(at, grid.top + 1.0), name, TEXT_MM, "bottom")


def _words(network: Network, units: Units, box: Box, layers: Layers) -> Iterator[Item]:
    yield Text(layers.note, Point(box.left, box.top - TITLE_MM), "IN WORDS", TITLE_MM, weight="bold")
    y = box.top - 9.0
    for sentence in ladder_words(network, units):
        lines = wrapped(sentence, box.width, TEXT_MM)
        yield from paragraph(layers.note, Point(box.left, y), lines, TEXT_MM, WORDS_PITCH_MM)
        y -= len(lines) * WORDS_PITCH_MM + 1.2


def ladder_words(network: Network, units: Units) -> list[str]:
    """Say where the pressure goes on the way to the tool with the least to spare."""
    flow = network.least_to_spare
    together = f" with {', '.join(flow.together_with)} running too" if flow.together_with else ""
    cut_in, left = units.pressure(network.layout.site.compressor.cut_in_pa), units.pressure(flow.tool_pressure_pa)
    largest = sorted(flow.ladder, key=lambda step: -step.drop_pa)
    piping = sum(step.drop_pa for step in flow.ladder if step.what in ("flexible connection", "riser", "main", "drop"))
    needed = f"; it needs {units.pressure(flow.needed_pa)}" if flow.needed_pa else ""
    return [
        f"{flow.tag} takes {units.free_air(flow.free_air_m3_s)}{together}, compressor at its cut-in of {cut_in}: "
        f"{left} are left at the tool{needed}.",
        "Most is lost in: " + ", ".join(f"{s.what} {units.pressure_drop(s.drop_pa)}" for s in largest[:3]) + ".",
        f"The piping itself loses {units.pressure_drop(piping)}.",
        "Hose and coupling are typical ones where the site file gives none; units and coupling take what their data "
        "sheets say. All outlets: see WHERE THE PRESSURE GOES.",
    ]
