"""What was computed, drawn: the tank's pressure over time, with the answer in words."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from drafter.drawing import Item, Text
from drafter.geometry import Box, Point
from drafter.lettering import wrapped
from drafter.quantity import Units, duration
from drafter.sheets.charts import Axis, Chart, Limit, Row, Series, chart_items, round_step
from drafter.sheets.layers import Layers
from drafter.sheets.paragraph import paragraph
from drafter.sheets.pressure_ladder import ladder_panel
from drafter.sheets.scene import Scene
from drafter.sizing.tank import Stretch
from drafter.sizing.tank_over_time import TankOverTime
from drafter.sizing.tank_words import tank_words
from drafter.sizing.work import WorkCourse

RESULTS_TITLE = "Pressure and tank"
TEXT_MM = 2.5
PITCH_MM = 3.7
LEAST_PANEL_MM, HIGHEST_PANEL_MM = 94.0, 125.0
PANEL_GAP_MM = 8.0
WIDEST_CHART_MM = 460.0
WORDS_SHARE = 0.32
NARROWEST_WORDS_MM, WIDEST_WORDS_MM = 62.0, 105.0
MOST_CYCLES = 60
"""Runs of the motor that are still told apart; of a longer course the beginning is drawn."""

ALIKE_PA = 2000.0
"""Steps lower than this are no wider than the line and are not drawn."""

_MINUTE_STEPS = (0.5, 1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 60.0)
_CLOCK_S = ((180.0, "s", 1.0), (10_800.0, "min", 60.0), (math.inf, "h", 3600.0))


def results_pages(scene: Scene, area: Box) -> list[tuple[list[Item], tuple[Box, ...]]]:
    """Set the panels one below the other, as many on a sheet as keep a legible height; also return what is free."""
    panels = (ladder_panel, tank_panel)
    each = max(1, int((area.height + PANEL_GAP_MM) // (LEAST_PANEL_MM + PANEL_GAP_MM)))
    pages = list[tuple[list[Item], tuple[Box, ...]]]()
    for first in range(0, len(panels), each):
        here = panels[first : first + each]
        height = min(HIGHEST_PANEL_MM, (area.height - (len(here) - 1) * PANEL_GAP_MM) / len(here))
        items, free = list[Item](), list[Box]()
        for number, panel in enumerate(here):
            top = area.top - number * (height + PANEL_GAP_MM)
            drawn = panel(scene, Box(area.left, top - height, area.right, top))
            items += drawn
            free.append(_below_words(scene, drawn, Box(area.left, top - height, area.right, top)))
        low = area.top - len(here) * (height + PANEL_GAP_MM)
        pages.append((items, (*free, Box(area.left, area.bottom, area.right, max(low, area.bottom)))))
    return pages


def _below_words(scene: Scene, panel: list[Item], box: Box) -> Box:
    """What a panel leaves free of its box, below its words."""
    words = [item.at for item in panel if isinstance(item, Text) and item.layer == scene.layers.note]
    return Box(min(at.x for at in words), box.bottom, box.right, min(at.y for at in words) - PANEL_GAP_MM)


def tank_panel(scene: Scene, box: Box) -> list[Item]:
    """Draw the tank's pressure over time at the left of a rectangle, and say at the right what it means."""
    tank, units, layers = scene.design.network.tank, scene.units, scene.layers
    words_width = min(max(WORDS_SHARE * box.width, NARROWEST_WORDS_MM), WIDEST_WORDS_MM)
    width = min(box.width - words_width - PANEL_GAP_MM, WIDEST_CHART_MM)
    place = Box(box.left, box.bottom, box.left + width, box.top)
    beside = Box(place.right + PANEL_GAP_MM, place.bottom, place.right + PANEL_GAP_MM + words_width, box.top)
    return [*chart_items(tank_chart(tank, units, width), place, layers), *_words(tank, units, beside, layers)]


def tank_chart(tank: TankOverTime, units: Units, width_mm: float = WIDEST_CHART_MM) -> Chart:
    """Return the chart of the tank: pressure, what the tools need, cut-in and cut-out, what runs when."""
    course = tank.shown
    window_s = _window_s(course)
    stretches = [stretch for stretch in course.stretches if stretch.start_s < window_s]
    clock, second = next((name, 1.0 / size) for most, name, size in _CLOCK_S if window_s <= most)
    bar, bar_pa = units.pressure_unit
    needs = [max((need for need in each if math.isfinite(need)), default=0.0) for each in course.needs_pa]
    needs = needs[: len(stretches)]
    marks = [(name, pa) for name, pa in (("cut-in", tank.tank.cut_in_pa), ("cut-out", tank.tank.cut_out_pa))]
    levels = [pa for _, pa in marks] + [s.end_pa for s in stretches] + [need for need in needs if need > 0.0]
    step = round_step((max(levels) - min(levels)) / bar_pa * 1.1, 8)
    up = Axis(
        f"pressure in the tank, {bar} gauge",
        math.floor(min(levels) / bar_pa / step - 0.1) * step if min(levels) > 0.0 else 0.0,
        math.ceil(max(levels) / bar_pa / step + 0.1) * step,
        step,
    )
    most = max(2, int(width_mm * 0.6 / 16.0))
    length = window_s * second
    across = Axis(f"time, {clock}", 0.0, length, round_step(length, most, _MINUTE_STEPS if clock == "min" else ()))
    curve = tuple(Point(time * second, pa / bar_pa) for time, pa in _vertices(stretches))
    series = [Series("pressure in the tank", "chart_curve", (curve,))]
    steps = tuple(tuple(Point(p.x * second, p.y / bar_pa) for p in line) for line in _step_lines(stretches, needs))
    if steps:
        series.append(Series("what the tools that run need in the tank", "chart_step", steps))
    runs = "compressor loaded" if tank.unloads else "motor runs"
    rows = [Row(runs, filled=_scaled(_motor_spans(stretches), second)), *_tool_rows(course, window_s, second)]
    return Chart(
        _title(tank, window_s),
        across,
        up,
        tuple(series),
        tuple(Limit(f"{name} {units.pressure(pa)}", pa / bar_pa) for name, pa in marks),
        tuple(rows),
        "tool runs",
        f"{runs}; tool runs short of pressure" if course.shortages else runs,
    )


def _title(tank: TankOverTime, window_s: float) -> str:
    course = tank.shown
    pattern = "WORK PATTERN, ITS HARDEST PASS" if tank.later else "WORK PATTERN"
    what = pattern if tank.work else "HUNGRIEST TOOLS TOGETHER"
    part = f", FIRST {duration(window_s)} OF {duration(course.length_s)}" if window_s < course.length_s else ""
    return f"TANK OVER TIME: {what}{part}"


def _window_s(course: WorkCourse) -> float:
    starts = [b.start_s for a, b in pairwise(course.stretches) if b.motor_runs and not a.motor_runs]
    return starts[MOST_CYCLES] if len(starts) > MOST_CYCLES else course.length_s


def _vertices(stretches: list[Stretch]) -> list[tuple[float, float]]:
    return [(stretches[0].start_s, stretches[0].start_pa), *((s.end_s, s.end_pa) for s in stretches)]


def _step_lines(stretches: list[Stretch], needs: list[float]) -> list[list[Point]]:
    """What is needed as lines of steps, broken where nothing is."""
    lines: list[list[Point]] = []
    for stretch, need in zip(stretches, needs, strict=True):
        if need <= 0.0:
            continue
        if not lines or lines[-1][-1].x < stretch.start_s:
            lines.append([Point(stretch.start_s, need)])
        level = lines[-1][-1].y
        if abs(level - need) > ALIKE_PA:
            level = need
            lines[-1].append(Point(stretch.start_s, level))
        lines[-1].append(Point(stretch.end_s, level))
    return lines


def _motor_spans(stretches: list[Stretch]) -> list[tuple[float, float]]:
    spans: list[tuple[float, float]] = []
    for stretch in stretches:
        if stretch.motor_runs and spans and spans[-1][1] == stretch.start_s:
            spans[-1] = (spans[-1][0], stretch.end_s)
        elif stretch.motor_runs:
            spans.append((stretch.start_s, stretch.end_s))
    return spans


def _tool_rows(course: WorkCourse, window_s: float, second: float) -> Iterator[Row]:
    for tool in dict.fromkeys(run.tool for run in course.runs):
        runs = [(run.start_s, min(run.end_s, window_s)) for run in course.runs if run.tool == tool]
        spans = [(start, end) for start, end in runs if start < end]
        short = [(start, end) for start, end in course.short_spans(tool) if end <= window_s]
        yield Row(f"{tool.tool} {tool.outlet}", _scaled(spans, second), _scaled(short, second))


def _scaled(spans: list[tuple[float, float]], second: float) -> tuple[tuple[float, float], ...]:
    return tuple((start * second, end * second) for start, end in spans)


def _words(tank: TankOverTime, units: Units, box: Box, layers: Layers) -> list[Item]:
    """Set the answer in words from the top of a rectangle as far as it holds them."""
    items: list[Item] = [Text(layers.note, Point(box.left, box.top - 3.5), "IN WORDS", 3.5, weight="bold")]
    y = box.top - 9.0
    told = tank_words(tank, units)
    for number, sentence in enumerate(told):
        lines = wrapped(sentence, box.width, TEXT_MM)
        rest = PITCH_MM + 1.2 if number + 1 < len(told) else 0.0
        if y - (len(lines) - 1) * PITCH_MM - rest < box.bottom:
            items.append(Text(layers.note, Point(box.left, y), "More in the report.", TEXT_MM))
            break
        items += paragraph(layers.note, Point(box.left, y), lines, TEXT_MM, PITCH_MM)
        y -= len(lines) * PITCH_MM + 1.2
    return items
