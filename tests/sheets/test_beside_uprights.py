"""Columns of labels beside upright pipes: each level with its thing or led to it, in order, past no other pipe."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.drawing import Item, Leader, Text
from drafter.geometry import Box, Point
from drafter.sheets.beside_uprights import LEVEL_MM, NEARER_MM, SAME_MM, UNLED_MM, set_beside_uprights
from drafter.sheets.item_boxes import text_box
from drafter.sheets.placing import Ground, Label
from drafter.sheets.spreading import stacked

SCALE = 50.0
TEXT_MM = 2.5


def label(words: str, x_mm: float, y_mm: float, bold: bool = True) -> Label:
    at = Point(x_mm * SCALE, y_mm * SCALE)
    return Label("tag", "tag", at, (words,), TEXT_MM, bold, kind=words[0], upright=at)


def texts(items: list[Item]) -> dict[str, Text]:
    return {item.text: item for item in items if isinstance(item, Text)}


@given(
    st.lists(st.floats(5.0, 90.0), min_size=1, max_size=9, unique=True),
    st.lists(st.floats(-25.0, 25.0), max_size=3),
)
@settings(deadline=None, max_examples=80)
def test_labels_are_level_or_led_in_order_and_past_no_other_pipe(levels: list[float], others: list[float]) -> None:
    ground = Ground(SCALE)
    pipes = [(Point(x * SCALE, -20.0 * SCALE), Point(x * SCALE, 120.0 * SCALE)) for x in (0.0, *others)]
    for a, b in pipes:
        ground.take(Box.around([ground.paper(a), ground.paper(b)]).grown(0.3))
    labels = [label(f"{'VB'[number % 2]}-{number:02d}", 0.0, y, number % 2 == 0) for number, y in enumerate(levels)]
    items, left = set_beside_uprights(ground, labels, pipes)
    found, led = texts(items), [item for item in items if isinstance(item, Leader)]
    assert len(found) + len(left) == len(labels)
    boxes = {words: text_box(text, SCALE) for words, text in found.items()}
    for one, other in ((a, b) for a in boxes for b in boxes if a < b):
        assert not boxes[one].overlaps(boxes[other])
    for words, box in boxes.items():
        wanted = next(ground.paper(each.anchor).y for each in labels if each.lines == (words,))
        own_mm = max(box.left, -box.right)
        misleads = any(max(box.left - x, x - box.right) < own_mm + NEARER_MM for x in others if abs(x) > SAME_MM)
        if abs(box.centre.y - wanted) > LEVEL_MM + 0.01 or own_mm > UNLED_MM or misleads:
            assert any(abs(item.points[0].y / SCALE - wanted) < 0.01 for item in led)
        near, far = sorted((0.0, box.centre.x))
        assert not any(near + 0.3 < x < far - 0.3 for x in others)
    for side in (1, -1):
        column = sorted(
            (box.centre.y, next(ground.paper(each.anchor).y for each in labels if each.lines == (words,)))
            for words, box in boxes.items()
            if box.centre.x * side > 0.0
        )
        assert all(above[1] >= below[1] for below, above in pairwise(column))


def test_tags_stand_on_the_side_of_the_outlet_and_brackets_on_the_other() -> None:
    ground = Ground(SCALE)
    outlet = Label(
        "tag", "tag", Point(-2.0 * SCALE, 24.0 * SCALE), ("A1  +1.200",), 3.0, True,
        kind="outlet", upright=Point(0.0, 24.0 * SCALE),
    )  # fmt: skip
    labels = [outlet, label("V-02", 0.0, 31.0), label("B-03  1400", 0.0, 28.0, bold=False)]
    items, left = set_beside_uprights(ground, labels, [(Point(0.0, 0.0), Point(0.0, 50.0 * SCALE))])
    assert not left
    assert not [item for item in items if isinstance(item, Leader)]
    at = {words: text_box(text, SCALE).centre.x for words, text in texts(items).items()}
    assert at["A1  +1.200"] < 0.0
    assert at["V-02"] < 0.0
    assert at["B-03  1400"] > 0.0


def test_what_finds_no_room_in_full_stands_in_short_and_what_finds_none_is_left() -> None:
    told = Label("tag", "tag", Point(0.0, 0.0), ("V-02  +1.550",), upright=Point(0.0, 0.0), short=("V-02", "+1.550"))
    narrow = Ground(SCALE)
    for side in (1.0, -1.0):
        narrow.take(Box.around([Point(side * 14.0, -60.0), Point(side * 60.0, 60.0)]))
    items, left = set_beside_uprights(narrow, [told], [])
    assert set(texts(items)) == {"V-02", "+1.550"}
    assert not left
    full = Ground(SCALE)
    full.take(Box(-60.0, -60.0, 60.0, 60.0))
    assert set_beside_uprights(full, [told], []) == ([], [told])


def test_a_label_in_the_face_of_an_opening_has_a_leader_to_its_pipe() -> None:
    pipe = (Point(0.0, 0.0), Point(0.0, 50.0 * SCALE))
    window = Box(1.0 * SCALE, 20.0 * SCALE, 30.0 * SCALE, 30.0 * SCALE).corners
    outlet = Label("tag", "tag", Point(2.0 * SCALE, 25.0 * SCALE), ("A1",), upright=Point(0.0, 25.0 * SCALE))
    for faces, count in (((), 0), ((window,), 1)):
        items, _ = set_beside_uprights(Ground(SCALE), [outlet], [pipe], faces)
        blocked = Ground(SCALE)
        blocked.take(Box(-60.0, -60.0, -0.5, 60.0))
        beside, _ = set_beside_uprights(blocked, [outlet], [pipe], faces)
        assert not [item for item in items if isinstance(item, Leader)]
        assert len([item for item in beside if isinstance(item, Leader)]) == count


@given(st.lists(st.tuples(st.floats(0.0, 100.0), st.floats(1.0, 12.0)), min_size=1, max_size=10))
@settings(deadline=None, max_examples=80)
def test_stacked_boxes_reach_into_none_and_stay_where_they_have_room(boxes: list[tuple[float, float]]) -> None:
    boxes = sorted(boxes, reverse=True)
    tops, heights = [top for top, _ in boxes], [height for _, height in boxes]
    placed = stacked(tops, heights)
    for (above, height), below in zip(zip(placed, heights, strict=True), placed[1:], strict=False):
        assert below <= above - height + 1e-6
    if all(a - height >= b for (a, height), b in zip(zip(tops, heights, strict=True), tops[1:], strict=False)):
        assert placed == pytest.approx(tops)
