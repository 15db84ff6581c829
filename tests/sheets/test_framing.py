"""Studs and backing boards on the elevations."""

from __future__ import annotations

from pathlib import Path

import pytest

from drafter.drawing import Line, Polyline, Text, View
from drafter.pipeline import Designed, compose_drawing, design
from drafter.sheets.item_boxes import text_box
from drafter.supports.framing import studs_on

SITE = Path(__file__).parents[2] / "example_sites" / "cabinet_shop.yaml"


@pytest.fixture(scope="module")
def designed() -> Designed:
    return design(SITE.read_bytes(), SITE.name)


@pytest.fixture(scope="module")
def elevations(designed: Designed) -> list[View]:
    return [view for view in compose_drawing(designed).views if view.name.startswith("elevation")]


def stud_lines(view: View) -> list[Line]:
    return [item for item in view.items if isinstance(item, Line) and item.layer == "A-WALL-STUD"]


def test_every_stud_is_drawn_where_it_stands(designed: Designed, elevations: list[View]) -> None:
    assert designed.site is not None
    walls = {f"elevation-{w.room}-{w.name}".lower(): w for each in designed.site.walls.values() for w in each}
    for view in elevations:
        drawn = sorted({round(line.start.x, 3) for line in stud_lines(view)})
        assert drawn == pytest.approx(
            [stud.at_m * 1000 for stud in studs_on(designed.site, walls[view.name])], abs=0.01
        )


def test_no_stud_is_drawn_through_words_or_openings(elevations: list[View]) -> None:
    for view in elevations:
        boxes = [text_box(item, view.scale) for item in view.items if isinstance(item, Text)]
        for line in stud_lines(view):
            x, low, high = (value / view.scale for value in (line.start.x, line.start.y, line.end.y))
            assert not any(box.left < x < box.right and low < box.top and high > box.bottom for box in boxes)
    door = next(view for view in elevations if view.name == "elevation-shop-c-d")
    over = [line for line in stud_lines(door) if 9 * 304.8 < line.start.x < 12 * 304.8]
    assert over
    assert all(line.start.y >= 80 * 25.4 - 0.01 for line in over)


def test_every_board_is_drawn_and_marked(designed: Designed, elevations: list[View]) -> None:
    assert designed.design is not None
    assert designed.takeoff is not None
    drawn = [i for view in elevations for i in view.items if isinstance(i, Polyline) and "SUPP-BACK" in i.layer]
    boards = designed.design.boards
    assert len(drawn) == len(boards) > 0
    marked = {mark.tag: mark for mark in designed.takeoff.marks}
    for board in boards:
        assert marked[board.tag].what == f"left end of board, half its height, {board.between[0]} to {board.between[1]}"
        assert marked[board.tag].from_left_m == board.from_left_m
    listed = [tag for row in designed.takeoff.parts if row.item.startswith("backing board") for tag in row.tags]
    assert sorted(listed) == sorted(board.tag for board in boards)
    for bracket in designed.design.brackets:
        on = f"board {bracket.board}" if bracket.board else f"stud {bracket.stud}"
        off = designed.design.network.layout.site.units.length_with_unit(bracket.stand_off_m)
        words = f"bracket {bracket.size.name} on {on}, {off} off"
        assert marked[bracket.tag].what.partition(", FIXED")[0].partition(", loose")[0] == words
        assert marked[bracket.tag].what.endswith(", FIXED") == bracket.fixed
