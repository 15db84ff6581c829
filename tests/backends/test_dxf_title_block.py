"""The title block of a DXF: what is printed in it is its attributes."""

from __future__ import annotations

from dataclasses import replace
from io import StringIO

import ezdxf

from drafter.backends.dxf import to_dxf
from drafter.backends.pdf import to_pdf
from drafter.drawing import Drawing, Sheet, Text
from drafter.geometry import Box, Point
from drafter.sheets.layers import Layers
from drafter.sheets.title_block import _cell

WORDS = (
    Text("M-ANNO-TEXT", Point(300, 20), "MW-01", 3.5, field="DRAWING"),
    Text("M-ANNO-TEXT", Point(320, 20), "", 2.5, field="CHECKED"),
    Text("M-ANNO-TEXT", Point(340, 20), "4 Øre Lane", 2.0, field="ADDRESS"),
)


def with_words(drawing: Drawing, words: tuple[Text, ...] = WORDS) -> Drawing:
    first: Sheet = drawing.sheets[0]
    return replace(drawing, sheets=(replace(first, items=(*first.items, *words)), *drawing.sheets[1:]))


def test_printed_entries_are_seen_attributes_and_nothing_else(drawing: Drawing) -> None:
    text = to_dxf(with_words(drawing), ["plan"], ["M-101", "M-201"]).decode()
    document = ezdxf.read(StringIO(text))
    assert not document.audit().errors
    layout, unit = document.layouts.get("M-101"), 25.4 if drawing.imperial else 1.0
    (block,) = [insert for insert in layout.query("INSERT") if insert.dxf.name.startswith("TITLE_BLOCK")]
    seen = {attribute.dxf.tag: attribute.dxf for attribute in block.attribs if not attribute.is_invisible}
    assert set(seen) == {"DRAWING", "CHECKED", "ADDRESS"}
    for word in WORDS:
        printed = seen[word.field]
        assert printed.text == word.text.replace("Ø", "%%c")
        assert abs(printed.height - word.height_mm / unit) < 1e-5
        assert abs(printed.insert.x - word.at.x / unit) < 1e-5
        assert (printed.layer, printed.style) == ("M-ANNO-TEXT", "LETTERING")
        (definition,) = [each for each in block.block().attdefs() if each.dxf.tag == word.field]
        assert definition.dxf.insert.isclose(printed.insert)
        assert not definition.is_invisible
    assert "MW-01" not in [entity.dxf.text for entity in layout.query("TEXT")]
    assert block.get_attrib_text("REVISION") == "A"


def test_paper_looks_the_same_with_and_without_entries(metric: Drawing) -> None:
    plain = tuple(replace(word, field="") for word in WORDS)
    assert to_pdf(with_words(metric)) == to_pdf(with_words(metric, plain))


def test_a_value_in_two_lines_is_two_entries() -> None:
    words = "A workshop with a name that does not go on one line"
    texts = _cell(Box(0, 0, 40, 13), "site", words, 4.5, Layers("M"))
    assert [text.field for text in texts if isinstance(text, Text)] == ["", "TITLE_1", "TITLE_2"]
