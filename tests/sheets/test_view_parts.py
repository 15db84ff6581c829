"""Views too large for a sheet: parts fit, tile the view, know their neighbours; match lines run through no number."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.backends.dimension_lines import dimension_text
from drafter.drawing import Dimension, Item, Line, Text, View
from drafter.geometry import Box, Point
from drafter.sheets.choosing_scale import Draw, Sheets, shown
from drafter.sheets.cuts import UNCUT, Cuts
from drafter.sheets.item_boxes import box_of_view, text_box
from drafter.sheets.view_parts import cuts_of, parts_of, whole

SCALE = 50.0
OTHER_SIDE = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}


def view_of(items: list[Item]) -> View:
    return View("plan", "PLAN", SCALE, "1:50", tuple(items), box_of_view(items, SCALE, {}))


def grid(width_mm: int, height_mm: int) -> list[Item]:
    """Short strokes all over a view, so that no part of it is empty."""
    places = [(x * SCALE, y * SCALE) for x in range(0, width_mm, 10) for y in range(0, height_mm, 10)]
    return [Line("L", Point(x, y), Point(x + 10.0 * SCALE, y)) for x, y in places]


@settings(max_examples=40, deadline=None)
@given(st.integers(60, 900), st.integers(60, 600), st.integers(120, 300), st.integers(100, 200))
def test_parts_fit_and_tile_the_view(width: int, height: int, most_wide: int, most_high: int) -> None:
    view = view_of(grid(width, height))
    cuts = cuts_of(view, most_wide, most_high, {})
    parts = parts_of(view, cuts, (), {})
    assert [part.number for part in parts] == list(range(1, len(parts) + 1))
    for part in parts:
        assert part.box.width / SCALE <= most_wide + 1e-6
        assert part.box.height / SCALE <= most_high + 1e-6
        assert part.count == len(parts)
    area = sum(part.box.width * part.box.height for part in parts)
    assert area == pytest.approx(view.box.width * view.box.height)
    assert not any(a.box.grown(-0.1).overlaps(b.box.grown(-0.1)) for a, b in combinations(parts, 2))


@settings(max_examples=40, deadline=None)
@given(st.integers(200, 900), st.integers(150, 600))
def test_where_a_part_goes_on_the_other_goes_back(width: int, height: int) -> None:
    view = view_of(grid(width, height))
    parts = parts_of(view, cuts_of(view, 180.0, 140.0, {}), (), {})
    for part in parts:
        for side, number in part.beyond:
            other = parts[number - 1]
            assert (OTHER_SIDE[side], part.number) in other.beyond
            edges = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}
            assert getattr(part.box, side) == getattr(other.box, edges[side])


@settings(max_examples=60, deadline=None)
@given(st.floats(200.0, 380.0), st.booleans(), st.floats(-20.0, 20.0))
def test_no_match_line_runs_through_the_number_of_a_dimension(length: float, upright: bool, begins: float) -> None:
    ends = [Point(0.0, begins * SCALE), Point(0.0, (begins + length) * SCALE)]
    if not upright:
        ends = [Point(point.y, 0.0) for point in ends]
    dimension = Dimension("D", *ends, Point(-400.0, -400.0), 90.0 if upright else 0.0, """40'-0\"""")
    view = view_of([dimension, Line("L", *ends)])
    cuts = cuts_of(view, 200.0, 200.0, {})
    number = text_box(dimension_text(dimension, SCALE), SCALE)
    crossed = [cut / SCALE for cut in (cuts.level if upright else cuts.upright)]
    low, high = (number.bottom, number.top) if upright else (number.left, number.right)
    assert crossed
    assert not any(low < at < high for at in crossed)


def test_a_part_with_nothing_on_it_is_left_out() -> None:
    corner = [Line("L", Point(0.0, 0.0), Point(400 * SCALE, 0.0)), Line("L", Point(0.0, 0.0), Point(0.0, 400 * SCALE))]
    view = view_of([*corner, Text("T", Point(SCALE, SCALE), "A1", 2.5)])
    cuts = Cuts((200 * SCALE,), (200 * SCALE,), view.box)
    parts = parts_of(view, cuts, (), {})
    assert len(parts) == 3
    assert {part.beyond for part in parts} == {(("bottom", 2),), (("right", 3), ("top", 1)), (("left", 2),)}


def drawn(lost_at: dict[int, list[str]], size_m: tuple[float, float]) -> Draw:
    """What draws strokes over a size, and loses labels at some scales; in parts at the largest it loses none."""

    def draw(scale: int, words: str, cuts: Cuts) -> tuple[View, list[str]]:
        x, y = size_m[0] * 1000.0, size_m[1] * 1000.0
        items = tuple(
            Line("L", Point(x * i / 50, y * j / 50), Point(x * (i + 1) / 50, y * j / 50))
            for i in range(50)
            for j in range(50)
        )
        lost = [] if cuts is not UNCUT and scale == 20 else lost_at.get(scale, [])
        return View("plan", "PLAN", float(scale), words, items, Box(0.0, 0.0, x, y)), lost

    return draw


ROOM = Box(0.0, 0.0, 300.0, 200.0)
SHEETS = Sheets(ROOM, ROOM.grown(-10.0), (20, 50, 100), (100, 50, 20), False)


def test_the_largest_scale_that_fits_is_taken() -> None:
    (part,) = shown(drawn({}, (10.0, 8.0)), (10.0, 8.0), SHEETS, {})
    assert (part.view.scale, part.count) == (50.0, 1)


def test_a_smaller_scale_that_shows_all_goes_before_a_larger_that_loses_labels() -> None:
    (part,) = shown(drawn({50: ["A1"]}, (10.0, 8.0)), (10.0, 8.0), SHEETS, {})
    assert (part.view.scale, part.count, part.lost) == (100.0, 1, ())


def test_where_every_scale_loses_labels_the_view_is_shown_in_parts() -> None:
    lost = {50: ["A1"], 100: ["A1", "A2"]}
    parts = shown(drawn(lost, (10.0, 8.0)), (10.0, 8.0), SHEETS, {})
    assert len(parts) > 1
    assert all(part.lost == () for part in parts)


def test_what_is_lost_in_parts_too_is_said() -> None:
    lost = {scale: ["A1"] for scale in (20, 50, 100)}
    sheets = Sheets(ROOM, ROOM.grown(-10.0), (50, 100), (100, 50), False)
    parts = shown(drawn(lost, (10.0, 8.0)), (10.0, 8.0), sheets, {})
    assert parts == whole(parts[0].view, ["A1"])
