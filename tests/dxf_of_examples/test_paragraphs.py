"""Words that take several lines are one text of the file, with the lines where the sheet has them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import pytest

from drafter.backends.dxf_strings import dxf_text
from drafter.drawing import Item, Text

SINGLE_SPACING = 5.0 / 3.0
"""Of exact spacing, from line to line, in heights of a letter: the format's own."""

LEFT, RIGHT = 1, 3


def paragraphs(items: Iterable[Item]) -> list[list[Text]]:
    """The lines of each text that takes more than one."""
    found: list[list[Text]] = []
    for item in items:
        if isinstance(item, Text):
            found = [*found[:-1], [*found[-1], item]] if item.goes_on else [*found, [item]]
    return [lines for lines in found if len(lines) > 1]


def plain(text: str) -> str:
    return dxf_text(text).replace("Ø", "%%c").replace("°", "%%d").replace("±", "%%p")


@pytest.mark.parametrize("version", ["R2000", "R2010", "R2018"])
def test_each_is_one_text_with_its_lines_in_their_places(version: str, example: Any) -> None:
    document = example.documents(version)["plan.dxf"]
    layouts = {layout.name: layout for layout in document.layouts}
    seen = 0
    for sheet in (sheet for sheet in example.drawing.sheets if sheet.number in layouts):
        written = list(layouts[sheet.number].query("MTEXT"))
        wanted = paragraphs(sheet.items)
        assert [text.text.split("\\P") for text in written] == [
            [plain(line.text) for line in lines] for lines in wanted
        ]
        for text, lines in zip(written, wanted, strict=True):
            first_mm = text.dxf.insert.y * example.unit_mm - text.dxf.char_height * example.unit_mm
            pitch_mm = text.dxf.line_spacing_factor * SINGLE_SPACING * text.dxf.char_height * example.unit_mm
            for number, line in enumerate(lines):
                low_mm = {"bottom": 0.0, "top": 1.0}.get(line.anchor.split()[0], 0.5) * line.height_mm
                assert first_mm - number * pitch_mm == pytest.approx(line.at.y - low_mm, abs=0.01)
            assert text.dxf.insert.x * example.unit_mm == pytest.approx(lines[0].at.x, abs=0.01)
            assert text.dxf.attachment_point == (RIGHT if "right" in lines[0].anchor else LEFT)
            assert (text.dxf.color, text.dxf.line_spacing_style) == (256, 2)
        seen += len(wanted)
    assert seen > 10


def test_a_flat_file_has_each_line_for_itself(example: Any) -> None:
    for document in example.documents("R12").values():
        assert not document.modelspace().query("MTEXT")
