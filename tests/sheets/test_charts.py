"""Charts keep to their rectangle, put values where they belong, and let no text cover another."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.drawing import Area, Item, Line, Polyline, Text
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm
from drafter.sheets.charts import Axis, Chart, Limit, Row, Series, chart_items, round_step
from drafter.sheets.layers import Layers

BOX = Box(30.0, 60.0, 230.0, 190.0)
LAYERS = Layers("M")
CURVE = Series("pressure", "chart_curve", ((Point(0.0, 8.0), Point(30.0, 6.0), Point(60.0, 7.0)),))


def chart(rows: int = 3, limits: tuple[float, ...] = (6.0, 8.0)) -> Chart:
    return Chart(
        "TANK",
        Axis("time, min", 0.0, 60.0, 10.0),
        Axis("pressure, bar gauge", 5.0, 9.0, 0.5),
        (CURVE, Series("needed by the tool that needs most", "chart_step", ((Point(0.0, 6.3), Point(20.0, 6.3)),))),
        tuple(Limit(f"limit {value}", value) for value in limits),
        tuple(
            Row(f"orbital sander number {n}", ((5.0 * n % 50, 5.0 * n % 50 + 5.0),), ((1.0, 2.0),)) for n in range(rows)
        ),
        "tool runs",
        "short of pressure",
    )


def text_box(text: Text) -> Box:
    width, height = text_width_mm(text.text, text.height_mm, text.weight), text.height_mm
    left = text.at.x - (width if "right" in text.anchor else 0.0 if "left" in text.anchor else width / 2)
    upper = "top" in text.anchor
    lower = "bottom" in text.anchor
    bottom = text.at.y - (height if upper else 0.0 if lower else height / 2)
    return Box(left, bottom, left + width, bottom + height)


def box_of(item: Item) -> Box:
    match item:
        case Text():
            return text_box(item)
        case Line():
            return Box.around([item.start, item.end])
        case Polyline():
            return Box.around(item.points)
        case Area():
            return Box.around(item.boundary)
    raise AssertionError(f"a chart has no {item}")


def covering(items: list[Item]) -> list[tuple[str, str]]:
    texts = [item for item in items if isinstance(item, Text)]
    return [(a.text, b.text) for a, b in combinations(texts, 2) if text_box(a).overlaps(text_box(b))]


@pytest.mark.parametrize("box", [BOX, Box(0, 0, 170, 100), Box(0, 0, 460, 300)], ids=["A4", "small", "large"])
@pytest.mark.parametrize("rows", [0, 1, 12, 60])
@pytest.mark.parametrize("limits", [(), (6.0, 8.0), (7.0, 7.02, 7.04)], ids=["no limits", "apart", "close"])
def test_all_stands_inside_the_rectangle_and_texts_keep_clear(box: Box, rows: int, limits: tuple[float, ...]) -> None:
    items = chart_items(chart(rows, limits), box, LAYERS)
    for item in items:
        inside = box_of(item)
        assert box.left - 0.01 <= inside.left
        assert inside.right <= box.right + 0.01
        assert box.bottom - 0.01 <= inside.bottom
        assert inside.top <= box.top + 0.01
    assert covering(items) == []
    assert min(item.height_mm for item in items if isinstance(item, Text)) >= 2.5


def test_values_lie_where_the_ticks_say() -> None:
    items = chart_items(chart(), BOX, LAYERS)
    (curve,) = (i for i in items if isinstance(i, Polyline) and i.layer == LAYERS.chart_curve)
    texts = {i.text: i.at for i in items if isinstance(i, Text)}
    assert curve.points[0].y == pytest.approx(texts["8.0"].y)
    assert curve.points[1] == pytest.approx((texts["30"].x, texts["6.0"].y))
    level = [i.start.y for i in items if isinstance(i, Line) and i.layer == LAYERS.chart_limit]
    assert level == pytest.approx([texts["6.0"].y, texts["8.0"].y])


def test_bars_lie_over_their_time_in_their_row() -> None:
    items = chart_items(chart(2), BOX, LAYERS)
    texts = {i.text: i.at for i in items if isinstance(i, Text)}
    filled = [Box.around(i.boundary) for i in items if isinstance(i, Area)]
    minute = (texts["60"].x - texts["0"].x) / 60
    first = next(
        bar for bar in filled if bar.contains(Point(texts["0"].x + 1.5 * minute, texts["orbital sander number 0"].y))
    )
    assert (first.left, first.right) == pytest.approx((texts["0"].x + minute, texts["0"].x + 2 * minute))


def test_rows_that_find_no_room_are_counted() -> None:
    small = Box(0, 0, 170, 100)
    items = chart_items(chart(60), small, LAYERS)
    named = [i.text for i in items if isinstance(i, Text) and i.text.startswith("orbital")]
    assert f"and {60 - len(named)} more" in {i.text for i in items if isinstance(i, Text)}
    assert len(named) >= 5


def test_the_longest_name_that_fits_is_written_in_full() -> None:
    items = chart_items(chart(), BOX, LAYERS)
    assert "orbital sander number 0" in {item.text for item in items if isinstance(item, Text)}
    names = ("HVLP spray gun O5", "impact wrench 3/4 in E2", "tyre inflator A3")
    for name in names:
        one = Chart("T", chart().across, chart().up, (CURVE,), rows=(Row(name),))
        for left in (0.0, 0.1, 26.0, 18.7):
            shown = chart_items(one, Box(left, 0.0, left + 170.0, 100.0), LAYERS)
            assert name in {item.text for item in shown if isinstance(item, Text)}


def test_a_long_name_is_cut_short() -> None:
    long = Chart("T", chart().across, chart().up, (CURVE,), rows=(Row("a very long name of a tool " * 5),))
    items = chart_items(long, BOX, LAYERS)
    assert all(box_of(item).left >= BOX.left - 0.01 for item in items)
    assert any(isinstance(i, Text) and i.text.endswith("...") for i in items)


@settings(max_examples=200)
@given(st.floats(1e-3, 1e5), st.integers(2, 20))
def test_steps_are_round_and_few(span: float, most: int) -> None:
    step = round_step(span, most)
    assert span / step <= most * (1 + 1e-6)
    assert span / step > most / 3
    mantissa = step / 10.0 ** math.floor(math.log10(step) + 1e-9)
    assert min(abs(mantissa - digit) for digit in (1.0, 2.0, 5.0)) < 1e-6


def test_steps_of_a_clock() -> None:
    assert round_step(60.0, 6, (1.0, 5.0, 10.0, 15.0)) == 10.0
    assert round_step(90.0, 6, (1.0, 5.0, 10.0, 15.0)) == 15.0


@pytest.mark.parametrize("step, text", [(0.5, "6.5"), (0.05, "6.50"), (1.0, "6"), (20.0, "6")])
def test_numbers_have_the_decimals_of_their_step(step: float, text: str) -> None:
    value = 6.5 if step < 1 else 6.0
    assert Axis("x", 0.0, 10.0, step).tick_text(value) == text
