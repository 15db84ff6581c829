"""Schedules flow over columns and sheets without losing a row."""

from hypothesis import given
from hypothesis import strategies as st

from drafter.drawing import Line, Text
from drafter.geometry import Box, Point
from drafter.sheets.item_boxes import text_box
from drafter.sheets.layers import Layers
from drafter.sheets.tables import Column, Table, flow

AREA = Box(20, 50, 410, 280)
WORDS = st.text("abcdefgh 0123456789", min_size=0, max_size=60)


@given(st.lists(st.lists(st.tuples(WORDS, WORDS), min_size=0, max_size=80), min_size=1, max_size=4))
def test_every_row_stands_once_and_inside_the_area(contents: list[list[tuple[str, str]]]) -> None:
    columns = (Column("no.", True), Column("item"), Column("remark"))
    tables = [
        Table(f"TABLE {n}", columns, tuple((f"{n}/{i}", *row) for i, row in enumerate(rows)))
        for n, rows in enumerate(contents)
    ]
    placed = flow(tables, AREA, Layers("M"))
    texts = [item for sheet in placed for item in sheet.items if isinstance(item, Text)]
    numbers = [text.text for text in texts if "/" in text.text]
    assert sorted(numbers) == sorted(f"{n}/{i}" for n, rows in enumerate(contents) for i in range(len(rows)))
    for sheet in placed:
        for item in sheet.items:
            points = [item.start, item.end] if isinstance(item, Line) else text_box(item, 1.0).corners
            assert all(AREA.grown(0.01).contains(Point(*point)) for point in points)


@given(st.integers(60, 200))
def test_a_continued_table_repeats_its_head(rows: int) -> None:
    table = Table("PARTS", (Column("item"),), tuple((f"row {i}",) for i in range(rows)))
    texts = [i.text for sheet in flow([table], AREA, Layers("M")) for i in sheet.items if isinstance(i, Text)]
    parts = texts.count("PARTS") + texts.count("PARTS (continued)")
    assert parts >= 2
    assert texts.count("item") == parts


def test_texts_of_a_table_do_not_overlap() -> None:
    rows = tuple((f"{i}", "a rather long description that must be broken over lines " * 2, "x") for i in range(20))
    table = Table("T", (Column("no.", True), Column("what"), Column("q")), rows)
    for sheet in flow([table], AREA, Layers("M")):
        boxes = [text_box(item, 1.0) for item in sheet.items if isinstance(item, Text)]
        for i, box in enumerate(boxes):
            assert not any(box.overlaps(other) for other in boxes[i + 1 :])


def test_tables_go_whole_into_room_left_free_before_they_take_sheets() -> None:
    rooms = [Box(20, 50, 200, 120), Box(20, 50, 70, 280)]
    tables = [
        Table(f"TABLE {n}", (Column("item"), Column("remark")), tuple((f"{n}/{i}", "word") for i in range(rows)))
        for n, rows in enumerate((90, 6, 7))
    ]
    placed = flow(tables, AREA, Layers("M"), rooms)
    first, too_narrow, *sheets = ([i.text for i in each.items if isinstance(i, Text)] for each in placed)
    assert {text for text in first if text.startswith("TABLE")} == {"TABLE 1", "TABLE 2"}
    assert too_narrow == []
    assert [text for texts in sheets for text in texts if text == "TABLE 0"] == ["TABLE 0"]
    boxes = [text_box(item, 1.0) for item in placed[0].items if isinstance(item, Text)]
    assert all(rooms[0].grown(0.01).contains(Point(*corner)) for box in boxes for corner in box.corners)


def test_a_table_that_went_on_once_is_called_so_once() -> None:
    table = Table("NOTES (continued)", (Column("item"),), tuple((f"row {i}",) for i in range(200)))
    texts = [i.text for sheet in flow([table], AREA, Layers("M")) for i in sheet.items if isinstance(i, Text)]
    assert texts.count("NOTES (continued)") >= 2
    assert not any("(continued) (continued)" in text for text in texts)
