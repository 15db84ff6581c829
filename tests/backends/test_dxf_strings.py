"""Users' words in a DXF: shown, but never taken for tags or codes."""

from __future__ import annotations

import re
from collections.abc import Callable
from io import StringIO
from itertools import groupby
from typing import Any

import ezdxf
import pytest
from ezdxf.entities import DXFGraphic
from hypothesis import given
from hypothesis import strategies as st

from drafter.backends.dxf import to_dxf
from drafter.backends.dxf_strings import LONGEST, dxf_name, dxf_text, dxf_value, layout_names, lines_of, shown_text
from drafter.drawing import Drawing

SHEETS = ("M-101",)


def skeleton(data: bytes) -> list[tuple[str, str]]:
    """Type of everything in the file, and the layer of what is drawn."""
    document: Any = ezdxf.read(StringIO(data.decode()))
    audit = document.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    return [
        (entity.dxftype(), entity.dxf.layer if isinstance(entity, DXFGraphic) else "")
        for entity in document.entitydb.values()
    ]


def first_of_runs(kinds: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """What is in the file, of texts that follow each other on a layer the first alone."""
    return [kind for kind, _ in groupby(kinds, key=lambda kind: kind)]


def test_hostile_words_add_nothing_to_the_file(hostile: str, spoil: Callable[[str], Drawing]) -> None:
    benign = spoil("benign")
    data = to_dxf(spoil(hostile), ["plan"], SHEETS)
    found, wanted = skeleton(data), skeleton(to_dxf(benign, ["plan"], SHEETS))
    if len(hostile) > LONGEST:
        assert first_of_runs(found) == first_of_runs(wanted), "a text that is too long takes several"
    elif hostile.strip():
        assert found == wanted
    else:
        assert len(found) < len(wanted), "empty texts are left out"
    assert b"\r" not in data
    assert not re.search(rb"[\x00-\x09\x0b-\x1f]", data)


def test_hostile_sheet_numbers_make_layouts(hostile: str, spoil: Callable[[str], Drawing]) -> None:
    drawing = spoil(hostile)
    document: Any = ezdxf.read(StringIO(to_dxf(drawing, ["plan"], [s.number for s in drawing.sheets]).decode()))
    assert len(document.layouts.names()) == 3


@given(st.text())
def test_gate_lets_no_code_through(text: str) -> None:
    passed = dxf_text(text)
    assert passed.isprintable()
    assert dxf_value(passed) == dxf_value(text)
    assert len(dxf_value(text)) <= LONGEST
    assert not set("\\{}^") & set(passed)
    assert "%%" not in shown_text(text).replace("%%c", "").replace("%%d", "").replace("%%p", "")
    assert passed == dxf_text(passed)


@given(st.text(alphabet=st.characters(min_codepoint=32, max_codepoint=126, exclude_characters="\\{}^%")))
def test_plain_text_passes_unchanged(text: str) -> None:
    assert dxf_text(text) == text == shown_text(text)


@given(st.text(alphabet="ab \u00b0", min_size=200, max_size=2000))
def test_long_texts_lose_no_sign(text: str) -> None:
    parts = lines_of(text)
    assert "".join(parts) == text
    assert all(len(shown_text(part)) <= LONGEST for part in parts)
    assert all(before.endswith(" ") for before in parts[:-1] if " " in before)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("Ø 33.7 ± 0.5", "%%c 33.7 %%p 0.5"),
        ("⌀ 28 at 20 °C", "%%c 28 at 20 %%dC"),
        ("100%%d", "100% %d"),
        ("%Ø", "% %%c"),
        ("6′ 8″ – “long”", '6\' 8" - "long"'),
        ("first\nsecond", "first second"),
        ("C:\\new {x}", "C:/new (x)"),
    ],
)
def test_shown_text(text: str, shown: str) -> None:
    assert shown_text(text) == shown


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("elbow 90°, Rp", "elbow 90deg, Rp"),
        ("20 °C (68 °F)", "20 degC (68 degF)"),
        ("±0.000", "+/-0.000"),
        ("Ø 28, 4 m², 5 µm", "dia 28, 4 m2, 5 um"),
        ("Nähe", "Nähe"),
    ],
)
def test_data_is_in_plain_letters(text: str, value: str) -> None:
    assert dxf_value(text) == value


@given(st.text())
def test_names_are_fit_for_tables(name: str) -> None:
    assert re.fullmatch(r"[A-Z0-9][A-Z0-9_$-]{0,63}", dxf_name(name))


def test_good_names_stay() -> None:
    assert dxf_name("M-CMPA-PIPE-MAIN") == "M-CMPA-PIPE-MAIN"
    assert dxf_name("sym_ball valve") == "SYM_BALL_VALVE"


@given(st.lists(st.text(max_size=6), max_size=6))
def test_layout_names_differ_whatever_their_case(names: list[str]) -> None:
    given_names = layout_names(names)
    folded = [name.upper() for name in given_names]
    assert len(set(folded)) == len(names)
    assert "MODEL" not in folded


def test_layout_names_are_the_sheet_numbers() -> None:
    assert layout_names(["M-101", "MB/01", "m-101", "Model"]) == ["M-101", "MB-01", "m-101-2", "Model-2"]
