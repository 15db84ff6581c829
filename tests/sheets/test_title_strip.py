"""Each sheet says what is dangerous, has room for stamps where views are, and a bar that shows a print in size."""

from __future__ import annotations

from pathlib import Path

import pytest

from drafter.drawing import Drawing, Line, Sheet, Text
from drafter.geometry import Box
from drafter.pipeline import compose_drawing, design
from drafter.sheets.item_boxes import boxes_of
from drafter.sheets.paper import Paper, paper
from drafter.sheets.title_strip import CAUTION, LOWEST_STAMPS_MM, STAMPS_MM, drawing_area
from drafter.site.model import PAPERS

SMALL = Path(__file__).parents[1] / "data" / "keeps_every_rule.yaml"
SERIES_OF_VIEWS = "0129"


@pytest.fixture(scope="module", params=PAPERS)
def drawing(request: pytest.FixtureRequest) -> Drawing:
    return compose_drawing(design(SMALL.read_bytes(), SMALL.name, paper=request.param))


def texts(sheet: Sheet) -> list[Text]:
    return [item for item in sheet.items if isinstance(item, Text)]


def shows_views(sheet: Sheet) -> bool:
    return sheet.number.split("-")[1][0] in SERIES_OF_VIEWS


def paper_of(sheet: Sheet) -> Paper:
    sizes = [paper(name) for name in PAPERS]
    return next(each for each in sizes if (each.width_mm, each.height_mm) == (sheet.width_mm, sheet.height_mm))


def test_each_sheet_carries_the_whole_caution(drawing: Drawing) -> None:
    for sheet in drawing.sheets:
        strip = drawing_area(paper_of(sheet), not shows_views(sheet)).bottom
        words = " ".join(text.text for text in texts(sheet) if text.at.y < strip)
        assert " ".join(CAUTION.split()) in " ".join(words.split())


def test_sheets_with_views_keep_room_for_stamps(drawing: Drawing) -> None:
    for sheet in filter(shows_views, drawing.sheets):
        (label,) = (text for text in texts(sheet) if text.text == "stamps and approvals")
        top, left = label.at.y + 1.0, label.at.x - 1.2
        room = Box(left + 0.2, top - LOWEST_STAMPS_MM + 0.2, left + STAMPS_MM - 0.2, top - label.height_mm - 1.2)
        for item in sheet.items:
            assert not any(box.overlaps(room) for box in boxes_of(item, 1.0, drawing.symbols)), item


def test_sheets_with_views_have_a_bar_as_long_as_they_say(drawing: Drawing) -> None:
    for sheet in filter(shows_views, drawing.sheets):
        (words,) = (text for text in texts(sheet) if text.text.startswith("This bar measures "))
        said = words.text.removeprefix("This bar measures ").partition(" when")[0]
        wanted = {"100 mm": 100.0, "4 in": 101.6}[said]
        level = [item for item in sheet.items if isinstance(item, Line) and item.start.y == item.end.y]
        bar = next(item for item in level if item.start.x == words.at.x and item.start.y == words.at.y + 5.0)
        assert bar.end.x - bar.start.x == pytest.approx(wanted)


def test_nothing_of_a_sheet_stands_in_its_strip_but_the_strip(drawing: Drawing) -> None:
    for sheet in drawing.sheets:
        area = drawing_area(paper_of(sheet), not shows_views(sheet))
        windows = [placement.window for placement in sheet.placements]
        assert all(window.bottom >= area.bottom - 1e-6 for window in windows)
