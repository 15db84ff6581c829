"""The face and the widths of texts set in it."""

from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.lettering import drawable, face, font_size_mm, missing, text_width_mm, wrapped


@pytest.mark.parametrize("weight", ["regular", "bold"])
def test_the_face_may_be_embedded(weight: str) -> None:
    with TTFont(face(weight).file) as font:  # type: ignore[arg-type]
        assert font["OS/2"].fsType == 0
        assert "Open Font License" in font["name"].getDebugName(13)


def test_heights_are_those_of_capitals() -> None:
    with TTFont(face().file) as font:
        capital_em = font["glyf"]["H"].yMax / font["head"].unitsPerEm
    assert font_size_mm(2.5) * capital_em == pytest.approx(2.5)


def test_widths_are_the_advances_of_the_font() -> None:
    with TTFont(face().file) as font:
        names, widths = font.getBestCmap(), font["hmtx"].metrics
        em = font["head"].unitsPerEm
        total_em = sum(widths[names[ord(sign)]][0] for sign in "Ball valve 1/2") / em
    assert text_width_mm("Ball valve 1/2", 3.5) == pytest.approx(total_em * font_size_mm(3.5))


@settings(deadline=None)
@given(st.text(), st.text(), st.floats(1, 10))
def test_widths_add_up(one: str, two: str, height_mm: float) -> None:
    together = text_width_mm(one + two, height_mm)
    assert together == pytest.approx(text_width_mm(one, height_mm) + text_width_mm(two, height_mm))


@pytest.mark.parametrize("text", ["Ø 22 × 2 ± 0.5 °C ½ ¼", "Łódź, Ærø, Жёлтый, Ωμέγα", "⌀ 8′-2″"])
def test_what_workshops_write_can_be_drawn(text: str) -> None:
    assert missing(text) == ""
    assert "?" not in drawable(text)


def test_signs_that_the_face_lacks_are_named_once_and_drawn_as_question_marks() -> None:
    assert missing("漢字漢") == "漢字"
    assert drawable("A漢\x07B") == "A?B"


@settings(deadline=None)
@given(st.text(max_size=80), st.floats(3, 60))
def test_wrapped_lines_fit_and_lose_no_letter(text: str, width_mm: float) -> None:
    lines = wrapped(text, width_mm, 2.5)
    assert all(text_width_mm(line, 2.5) <= width_mm or len(line) == 1 for line in lines)
    assert "".join("".join(lines).split()) == "".join(text.split())


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("1 x 25.00 m of tube", "25.00 m"),
        ("lost: 0.93 m, 4 %", "4 %"),
        ("""hang it 6'-6 1/2" up""", """6'-6 1/2\""""),
        ("a 3/4 in elbow", "3/4 in"),
        ("at 20 °C, dry", "20 °C,"),
    ],
)
def test_numbers_stay_with_their_units(text: str, kept: str) -> None:
    for width_mm in (18.0, 22.0, 26.0, 30.0):
        assert any(kept in line for line in wrapped(text, width_mm, 2.5))


def test_a_number_is_parted_from_its_unit_where_both_are_too_wide() -> None:
    lines = wrapped("1234567.89 kWh", 14.0, 2.5)
    assert len(lines) > 1
    assert all(text_width_mm(line, 2.5) <= 14.0 for line in lines)
