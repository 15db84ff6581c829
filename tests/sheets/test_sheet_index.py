"""The table of sheets says what is in the set, in every example and on narrow paper, and its rows lead there."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from drafter.backends.pdf import to_pdf
from drafter.backends.svg import to_svg
from drafter.drawing import Drawing, Link, Text
from drafter.pipeline import compose_drawing, design
from drafter.sheets.sheet_index import INDEX_TITLE, REVISIONS_TITLE

ROOT = Path(__file__).parents[2]
SMALL = ROOT / "tests" / "data" / "keeps_every_rule.yaml"
SITES = [
    *((path, "") for path in sorted((ROOT / "example_sites").glob("*.yaml"))),
    *((SMALL, paper) for paper in ("Letter", "A4", "A3")),
]


@pytest.fixture(scope="module", params=SITES, ids=lambda site: f"{site[0].stem} {site[1]}".strip())
def drawing(request: pytest.FixtureRequest) -> Drawing:
    path, paper = request.param
    return compose_drawing(design(path.read_bytes(), path.name, paper=paper))


def rows(drawing: Drawing) -> list[tuple[int, Link, list[str]]]:
    """Each row of the table, in order: the page it stands on, its link, and the texts in its box."""
    numbers, found = {sheet.number for sheet in drawing.sheets}, []
    for page, sheet in enumerate(drawing.sheets):
        for link in (item for item in sheet.items if isinstance(item, Link) and item.to in numbers):
            texts = [item for item in sheet.items if isinstance(item, Text) and link.box.contains(item.at)]
            found.append((page, link, [text.text for text in sorted(texts, key=lambda text: text.at.x)]))
    return found


EASILY_MISSED = ("RULES AND LABELS", "TEST AND LEAKS", "GOOD TO KNOW", "TAKEN AS USUAL")


def test_each_sheet_has_a_row_with_its_number_title_and_scale(drawing: Drawing) -> None:
    said = [(link.to, words) for _, link, words in rows(drawing)]
    assert [to for to, _ in said] == [sheet.number for sheet in drawing.sheets]
    for (_, words), sheet in zip(said, drawing.sheets, strict=True):
        assert words[0] == sheet.number
        told = " ".join(words[1:-1])
        named = sheet.title.removesuffix(", and others").removesuffix(" and schedules")
        assert told.replace(" and ", ", ").startswith(named.replace(" and ", ", "))
        on_sheet = [item.text for item in sheet.items if isinstance(item, Text)]
        assert words[-1] in on_sheet
        assert [title for title in EASILY_MISSED if title in on_sheet and title.lower() not in told.lower()] == []
    assert sum(
        isinstance(item, Text) and item.text == INDEX_TITLE for sheet in drawing.sheets for item in sheet.items
    ) == 1  # fmt: skip


def test_rows_lead_to_their_sheets_inside_the_file(drawing: Drawing) -> None:
    pdf = to_pdf(drawing)
    reader = PdfReader(BytesIO(pdf), strict=True)
    pages = {page.indirect_reference.idnum: n for n, page in enumerate(reader.pages) if page.indirect_reference}
    named = reader.named_destinations
    numbers = {sheet.number: page for page, sheet in enumerate(drawing.sheets)}
    links: list[tuple[int, list[float], int]] = []
    for at, page in enumerate(reader.pages):
        for reference in page.get("/Annots", ()):
            note: Any = reference.get_object()
            assert note["/Subtype"] == "/Link"
            assert "/A" not in note
            assert [float(side) for side in note["/Border"]] == [0, 0, 0]
            goal: Any = named[note["/Dest"]] if isinstance(note["/Dest"], str) else note["/Dest"]
            leads = goal.page if hasattr(goal, "page") else goal[0]
            links.append((at, [float(side) * 25.4 / 72 for side in note["/Rect"]], pages[leads.idnum]))
    for here, link, _ in rows(drawing):
        box = [link.box.left, link.box.bottom, link.box.right, link.box.top]
        assert any(
            at == here and goal == numbers[link.to] and rect == pytest.approx(box, abs=0.02) for at, rect, goal in links
        )
    assert b"/URI" not in pdf
    assert to_pdf(drawing) == pdf


def test_marks_of_elevations_on_the_plan_lead_to_them(drawing: Drawing) -> None:
    plan = drawing.views[0]
    goals = [item.to for item in plan.items if isinstance(item, Link)]
    to_elevations = [goal for goal in goals if goal.startswith("elevation-")]
    assert to_elevations == [view.name for view in drawing.views if view.title.startswith("ELEVATION ")]
    assert goals


def test_links_are_not_drawn_elsewhere(drawing: Drawing) -> None:
    assert b"<a" not in to_svg(drawing, drawing.views[0].name)


def test_no_title_says_twice_that_a_table_goes_on(drawing: Drawing) -> None:
    texts = [item.text for sheet in drawing.sheets for item in sheet.items if isinstance(item, Text)]
    assert any(text.endswith("(continued)") for text in texts) or len(drawing.sheets) < 12
    assert [text for text in texts if text.count("(continued)") > 1] == []


REVISED = """\
drawing:
  revisions:
    - {revision: A, date: 2026-03-02, what: for approval, by: R. Okafor}
    - {revision: C, date: 2026-04-01, what: outlet A3 moved}
"""


@pytest.mark.parametrize("paper", ["A1", "A3", "Letter"])
def test_revisions_are_tabled_once_and_the_last_is_in_each_title_block(paper: str) -> None:
    text = SMALL.read_text(encoding="utf-8")
    assert "\ndrawing:" not in text
    drawing = compose_drawing(design((text + REVISED).encode(), SMALL.name, paper=paper))
    said = [[item.text for item in sheet.items if isinstance(item, Text)] for sheet in drawing.sheets]
    with_table = [texts for texts in said if REVISIONS_TITLE in texts]
    assert len(with_table) == 1
    together = " ".join(with_table[0])
    words = ("REVISIONS", "for approval", "R. Okafor", "outlet A3 moved")
    assert sorted(words, key=together.index) == list(words)
    for sheet, texts in zip(drawing.sheets, said, strict=True):
        fields = dict(sheet.fields)
        assert (fields["REVISION"], fields["DATE"]) == ("C", "2026-04-01")
        assert "2026-04-01" in texts


def test_a_drawing_without_revisions_is_revision_a_and_has_no_table_of_them() -> None:
    drawing = compose_drawing(design(SMALL.read_bytes(), SMALL.name))
    for sheet in drawing.sheets:
        assert dict(sheet.fields)["REVISION"] == "A"
        assert not any(isinstance(item, Text) and item.text == REVISIONS_TITLE for item in sheet.items)
