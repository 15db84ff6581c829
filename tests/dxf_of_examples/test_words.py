"""No word is lost: each sheet of the drawing reads the same as its layout in the DXF and as its page of the PDF."""

from __future__ import annotations

import re
from collections import Counter
from typing import Any

import pypdfium2
import pytest

from drafter.backends.dxf_strings import LONGEST, dxf_text
from drafter.backends.pdf import to_pdf
from drafter.backends.strokes import shapes_of
from drafter.drawing import Sheet, Text
from drafter.lettering import drawable

CODES = {"%%c": "Ø", "%%d": "°", "%%p": "±"}


def texts_of(sheet: Sheet, example: Any) -> list[str]:
    shapes = shapes_of(sheet.items, example.drawing.symbols, 1.0)
    return [shape.text for shape in shapes if isinstance(shape, Text)]


def texts_in(layout: Any, document: Any) -> list[str]:
    """What a layout shows: texts, paragraphs, values of blocks that are seen, and what stands in blocks."""
    found = []
    for entity in layout:
        match entity.dxftype():
            case "TEXT":
                found.append(entity.dxf.text)
            case "MTEXT":
                found.append(entity.text.replace("\\P", " "))
            case "INSERT":
                found += [each.dxf.text for each in entity.attribs if not each.is_invisible]
                found += texts_in(document.blocks.get(entity.dxf.name), document)
            case "DIMENSION":
                found += texts_in(document.blocks.get(entity.dxf.geometry), document)
    return found


def words_of(texts: list[str]) -> Counter[str]:
    whole = " ".join(texts)
    for code, sign in CODES.items():
        whole = whole.replace(code, sign)
    return Counter(dxf_text(re.sub(r"\\U\+([0-9A-Fa-f]{4})", lambda code: chr(int(code[1], 16)), whole)).split())


@pytest.mark.parametrize("version", ["R2000", "R2010"])
def test_every_word_of_a_sheet_is_on_its_layout(version: str, example: Any) -> None:
    documents = example.documents(version)
    layouts = {
        layout.name: (layout, documents[name])
        for name in ("plan.dxf", "elevations.dxf")
        for layout in documents[name].layouts
    }
    for sheet in example.drawing.sheets:
        assert words_of(texts_in(*layouts[sheet.number])) == words_of(texts_of(sheet, example)), sheet.number


def test_every_word_of_a_sheet_is_on_its_page(example: Any) -> None:
    pdf = pypdfium2.PdfDocument(to_pdf(example.drawing))
    for sheet, page in zip(example.drawing.sheets, pdf, strict=True):
        shown = re.sub(r"\s|[\x00-\x1f\ufffe\uffff-]", "", page.get_textpage().get_text_range())
        for text in texts_of(sheet, example):
            assert re.sub(r"[\s-]", "", drawable(text)) in shown, (sheet.number, text)


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_no_value_is_as_long_as_the_longest(version: str, example: Any) -> None:
    """So none was cut; a TEXT may be that long, and is then followed by its next part."""
    for document in example.documents(version).values():
        for space in (*document.layouts, *document.blocks):
            assert all(len(text.dxf.text) <= LONGEST for text in space.query("TEXT"))
            values = [each.dxf.text for insert in space.query("INSERT") for each in insert.attribs]
            assert all(len(value) < LONGEST for value in values)
