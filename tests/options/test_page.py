"""The sheet of choices: all of it stands on the paper, nothing covers anything; measured by another library."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import pypdfium2
import pytest

from drafter.backends.pdf import to_pdf
from drafter.options import compare, options_drawing
from drafter.options.comparing import Comparison
from drafter.options.wording import HEADS, TAKE, recommendation, row
from drafter.sheets.paper import paper

TOP = Path(__file__).parents[2]
POINT_MM = 25.4 / 72
PAPERS = ("A3", "A4", "Letter", "11x17")


@pytest.fixture(scope="module", params=PAPERS)
def sheet(request: pytest.FixtureRequest) -> tuple[str, Comparison]:
    text = (TOP / "example_sites" / "bus_depot.yaml").read_text(encoding="utf-8")
    assert text.count("paper: A2") == 1
    return request.param, compare(text.replace("paper: A2", f"paper: {request.param}"), "bus_depot.yaml")


def boxes(page: pypdfium2.PdfPage) -> list[tuple[str, tuple[float, ...]]]:
    words = page.get_textpage()
    found = page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_TEXT], textpage=words)
    return [(item.extract(), tuple(side * POINT_MM for side in item.get_bounds())) for item in found]


def test_nothing_leaves_the_frame_and_nothing_covers_anything(sheet: tuple[str, Comparison]) -> None:
    name, comparison = sheet
    frame = paper(name).frame
    for page in pypdfium2.PdfDocument(to_pdf(options_drawing(comparison))):
        texts = boxes(page)
        for text, (left, bottom, right, top) in texts:
            assert frame.left < left, text
            assert right < frame.right, text
            assert frame.bottom < bottom, text
            assert top < frame.top, text
        for (one, (l1, b1, r1, t1)), (other, (l2, b2, r2, t2)) in combinations(texts, 2):
            overlap = (min(r1, r2) - max(l1, l2), min(t1, t2) - max(b1, b2))
            assert min(overlap) < 0.3, (one, other)


def test_it_is_one_sheet_where_the_paper_is_large_enough(sheet: tuple[str, Comparison]) -> None:
    name, comparison = sheet
    drawing = options_drawing(comparison)
    assert len(drawing.sheets) == 1 if name in ("A3", "11x17") else len(drawing.sheets) <= 3
    assert [each.number for each in drawing.sheets] == [f"M-8{70 + n}" for n in range(1, len(drawing.sheets) + 1)]
    assert {(each.width_mm, each.height_mm) for each in drawing.sheets} == {
        (paper(name).width_mm, paper(name).height_mm)
    }


def test_every_choice_stands_on_it_with_its_verdict(sheet: tuple[str, Comparison]) -> None:
    _, comparison = sheet
    assert comparison.site is not None
    assert comparison.choice is not None
    pages = pypdfium2.PdfDocument(to_pdf(options_drawing(comparison)))
    said = " ".join(" ".join(text for text, _ in boxes(page)) for page in pages)
    assert " ".join(said.split()).count(TAKE) == 1
    assert recommendation(comparison)[:40] in said
    for option in comparison.options:
        cells = dict(zip(HEADS, row(option, comparison.choice, comparison.site.units), strict=True))
        assert cells["worst tool"] in said
        assert cells["tube"] in said
    for found in (option.first_error for option in comparison.options if option.first_error):
        assert found.rule in said
