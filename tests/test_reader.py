"""The reader: every form with its places, what is refused, and what a syntax error means."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, ClassVar

import pytest
import yaml

from drafter.finding import Finding, Place
from drafter.quantity import Kind, Quantity
from drafter.reader import (
    UNREAD,
    CountForm,
    DateForm,
    Entry,
    EntryForm,
    ListForm,
    NamedForm,
    QuantityForm,
    TextForm,
    Unread,
    WordForm,
    composing,
    key,
    nearest,
    read_entry,
    schema,
    source_lines,
)


@dataclass(frozen=True, kw_only=True)
class Shelf(Entry):
    """An entry for these tests."""

    ALONE: ClassVar[str] = "label"
    label: str = key("label", TextForm("S1", 12))
    boards: int = key("boards", CountForm(1, 9), 3)


@dataclass(frozen=True, kw_only=True)
class Cellar(Entry):
    """An entry for these tests."""

    name: str = key("name", TextForm())
    built: str = key("built", DateForm(), "")
    kind: str = key("kind", WordForm(("dry", "damp")), "dry")
    height_m: float = key("height", QuantityForm(Kind.LENGTH, "1 m", "4 m"), 2.0, "clear height")
    air: Quantity | None = key("free air", QuantityForm(Kind.FREE_AIR), None)
    size_m: tuple[float, ...] = key("size", ListForm(QuantityForm(Kind.LENGTH), 2, 2), ())
    shelves: tuple[Shelf, ...] = key("shelves", ListForm(EntryForm(Shelf), 1), ())
    marks: Mapping[str, float] = key("marks", NamedForm(QuantityForm(Kind.LENGTH), "A"), None)


def read(text: str | bytes) -> tuple[Any, list[Finding]]:
    cellar, reading = read_entry(text, "c.yaml", Cellar)
    return cellar, reading.findings


def rules(text: str | bytes) -> list[tuple[str, int, int]]:
    return [(f.rule, f.place.line, f.place.column) for f in read(text)[1]]


def only(text: str | bytes) -> Finding:
    (finding,) = read(text)[1]
    return finding


FULL = """\
# a comment
name: Wine cellar
built: 1931-05-02
kind: Damp
height: 7 ft 2 in
free air: 300 Nl/min
size: [4 m,
       3.5 m]
shelves:
  - {label: 7, boards: 4}
  - B
marks: {A: 10 mm, old door: 1.2 m}
"""


def test_a_full_entry_is_read_with_its_places() -> None:
    cellar, findings = read(FULL)
    assert findings == []
    assert (cellar.name, cellar.built, cellar.kind) == ("Wine cellar", "1931-05-02", "damp")
    assert cellar.height_m == pytest.approx(86 * 0.0254)
    assert cellar.air == Quantity(pytest.approx(0.005), False, "0 degC, 1.01325 bar")
    assert cellar.size_m == (4.0, 3.5)
    assert [(shelf.label, shelf.boards, shelf.defaults) for shelf in cellar.shelves] == [
        ("7", 4, ()),
        ("B", 3, ("boards",)),
    ]
    assert cellar.marks == {"A": pytest.approx(0.01), "old door": 1.2}
    assert cellar.place == Place("c.yaml", 2, 1)
    assert cellar.where("name") == Place("c.yaml", 2, 7)
    assert cellar.where("size_m") == Place("c.yaml", 7, 7)
    assert cellar.shelves[0].where("boards") == Place("c.yaml", 10, 24)
    assert cellar.shelves[1].where("label") == cellar.shelves[1].place == Place("c.yaml", 11, 5)


def test_defaults_are_named_and_stand_where_their_entry_stands() -> None:
    cellar, _ = read("\n  name: X\n")
    assert cellar.defaults == ("built", "kind", "height_m", "air", "size_m", "shelves", "marks")
    assert cellar.where("height_m") == Place("c.yaml", 2, 3)


@pytest.mark.parametrize(
    "end, text",
    [("\r\n", FULL), ("\r", FULL), ("\n", "\ufeff" + FULL), ("\n", FULL.replace(": ", ":\u00a0"))],
)
def test_line_ends_byte_order_mark_and_hard_blanks_make_no_difference(end: str, text: str) -> None:
    assert read(text.replace("\n", end).encode())[0] == read(FULL)[0]


@pytest.mark.parametrize("text", ["NO", "1:30", "010", "1e3", "~", "true", "2026-03-02"])
def test_a_text_stays_what_was_written(text: str) -> None:
    assert read(f"name: {text}\n")[0].name == text


@pytest.mark.parametrize(
    "line, rule, column, says, fix",
    [
        ("built: 2.3.2026", "DATE001", 8, "'2.3.2026' is no date", "2026-03-02"),
        ("built: 2026-02-30", "DATE001", 8, "is no date", "year, month and day"),
        ("kind: dmap", "WORD001", 7, "'dmap' is not known", "did you mean 'damp'? write one of dry, damp"),
        ("height: 2.5", "UNIT001", 9, "no unit", "2.5 m"),
        ("height: 0.5 m", "VAL001", 9, "too small", "1 m or more"),
        ("height: 40 m", "VAL001", 9, "too large", "4 m or less"),
        ("height: [2, 5 m]", "FILE005", 9, "a list stands where one value", "2440 mm"),
        ("height: {a: b}", "FILE005", 9, "a group of keys stands where one value", "2440 mm"),
        ("height: ''", "FILE005", 9, "nothing stands where one value", "2440 mm"),
        ("height:", "KEY004", 1, "'height' has no value", "or delete the key"),
        ("size: 4 m", "FILE005", 7, "1 value stands where 2", "[2440 mm, 2440 mm]"),
        ("size: [1 m, 2 m, 3 m]", "FILE005", 7, "3 values stand where 2", "[2440 mm, 2440 mm]"),
        ("size: [1,5 m, 3 m]", "UNIT001", 8, "'1,5 m' has a comma", "1.5 m"),
        ("shelves: []", "FILE005", 10, "the list is empty", "[{label: ...}]"),
        ("shelves: [{label: A, boards: 1,5}]", "UNIT001", 30, "'1,5' has a comma", "1.5"),
        ("shelves: [{label: A, boards: 10}]", "VAL001", 30, "from 1 to 9", "whole number"),
        ("shelves: [{boards: 2}]", "KEY002", 11, "'label' is missing", "'label: S1'"),
        ("shelves: [[A]]", "FILE005", 11, "a group of keys", "{label: ...}"),
        ("shelves: [{label: A much too long label}]", "TEXT001", 19, "21 signs", "12 signs"),
        ("marks: {}", "FILE005", 8, "no names stand here", "{A: 2440 mm}"),
        ("marks: [A]", "FILE005", 8, "names with their values", "{A: 2440 mm}"),
        ("marks: {A: 1 m, a: 2 m}", "FILE002", 17, "too much alike", "differ"),
        ("marks: {'#': 1 m}", "TEXT003", 9, "'#' will not do as a name", "letters, digits"),
        ("marks: {A: }", "KEY004", 9, "'A' has no value", "'A: 2440 mm'"),
        ("hieght: 2 m", "KEY001", 1, "the key 'hieght' is not known", "did you mean 'height'?"),
        ("colour: red", "KEY001", 1, "the key 'colour' is not known", "known here: name, built, kind"),
        ("name: Y", "FILE002", 1, "'name' stands here a second time", "the first is on line 1"),
        ("Name: Y", "KEY001", 1, "'Name' is not known", "stands on line 1 already; keep one"),
        ("? [a, b]\n: c", "FILE005", 3, "no key", "a plain word"),
        ("<<: {a: b}", "KEY001", 1, "'<<' is not known", "known here"),
        ("kind: &a dry", "FILE003", 7, "anchors and aliases", "write the value out"),
        ("kind: !word dry", "FILE003", 7, "tags such as !word", "plain value"),
        ("kind: *dry", "FILE003", 7, "anchors and aliases", "between quotes"),
        ("kind: dry\n---\nname: Z", "FILE005", 1, "a second document", "one site a file"),
    ],
)  # fmt: skip
def test_each_mistake_is_one_finding_at_its_place(line: str, rule: str, column: int, says: str, fix: str) -> None:
    finding = only(f"name: X\n{line}\n")
    assert (finding.rule, finding.place.column) == (rule, column)
    assert finding.place.line == (3 if "---" in line else 2)
    assert says in finding.message
    assert fix in finding.fix


@pytest.mark.parametrize(
    "text, line, column, says, fix",
    [
        ("name: X\n\tkind: dry\n", 2, 1, "a tab is used", "spaces"),
        ("name: 'X\nkind: dry\n", 1, 7, "the quote that opens here", "close it"),
        ("name: 'X' Y\nkind: dry\n", 1, 11, "behind the end of the value", "between quotes"),
        ("name: X\nsize: [1 m, 2 m\nkind: dry\n", 2, 7, "the [ that opens here is not closed", "]"),
        ("name: X\nmarks: {A: 1 m\n", 2, 8, "the { that opens here is not closed", "}"),
        ("name: X\nshelves: [{label: A, boards: 2]\n", 2, 31, "this ] does not close the {", "}"),
        ("name: X\nmarks: {A: 1 m B: 2 m}\n", 2, 17, "a comma is missing before here", "comma"),
        ("name:X\nkind: dry\n", 1, 6, "no space after the colon", "write 'name: X'"),
        ("name: X\nheight:2 m\nkind: dry\n", 2, 8, "no space after the colon", "write 'height: 2 m'"),
        ("name: X: Y\n", 1, 8, "a second colon", "quotes"),
        ("name: X\n  kind: dry\n", 2, 3, "further in than the line before", "same column"),
        ("marks:\n    A: 1 m\n  B: 2 m\n", 3, 3, "fits no line above", "same column"),
        ("name: X\nkind\nheight: 2 m\n", 2, 1, "no colon", "a key, a colon"),
        ("name: %X\n", 1, 7, "cannot begin with '%'", "between quotes"),
        ("name: ]\n", 1, 7, "a ']' stands here by itself", "delete it"),
        ("shelves: - A\n", 1, 10, "a list begins on the line of its key", "next line"),
        ('name: "\\d"\n', 1, None, "a backslash", "single quotes"),
        ("name: " + "[" * 10_000, 1, None, "nested", "brackets"),
        ("name: a\0b\n", 1, 8, "the sign U+0000", "delete it"),
        ("name: a\u2028b\n", 1, 8, "the sign U+2028", "delete it"),
        ("%YAML 3.0\n---\nname: X\n", 1, 1, "this cannot be read", "check"),
        ("name: X\n...\nkind: dry\n", 3, 1, "this cannot be read", "check"),
        ("name: é\nkind: Café\n".encode("cp1252"), 1, 7, "0xe9 here, which older programs write for 'é'", "UTF-8"),
        ("name: X\n".encode("utf-16"), 1, 1, "UTF-16", "UTF-8"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("loader", [composing._Loader, yaml.SafeLoader], ids=["compiled", "plain"])
def test_a_syntax_error_is_explained_where_it_begins(
    text: str | bytes,
    line: int,
    column: int | None,
    says: str,
    fix: str,
    loader: Any,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(composing, "_Loader", loader)
    finding = only(text)
    assert finding.place.line == line
    assert column in (None, finding.place.column)
    assert says in finding.message
    assert fix in finding.fix


@pytest.mark.parametrize("text", ["", "\n\n", "# nothing\n", "---\n", b"\xef\xbb\xbf"])
def test_an_empty_file_is_called_empty(text: str | bytes) -> None:
    assert only(text).message == "the file is empty"


@pytest.mark.parametrize("text", ["- a\n- b\n", "hello\n", "[]\n", "name:X\n"])
def test_a_file_that_is_no_group_of_keys_is_no_entry(text: str) -> None:
    cellar, findings = read(text)
    assert cellar is None
    assert len(findings) == 1


def test_a_large_file_and_deep_nesting_are_refused() -> None:
    assert only("#" * 1_000_001).rule == "FILE004"
    assert only("name: " + "[" * 30 + "]" * 30).rule == "FILE004"


def test_all_mistakes_are_found_in_one_run_and_each_once() -> None:
    text = "nmae: X\nbuilt: soon\nkind: wet\nheight: 2,5 m\nshelves: [{boards: 0}, {lable: A}]\nsize: [1 m]\n"
    assert rules(text) == [
        ("KEY001", 1, 1), ("DATE001", 2, 8), ("WORD001", 3, 7), ("UNIT001", 4, 9), ("VAL001", 5, 20),
        ("KEY002", 5, 11), ("KEY001", 5, 25), ("FILE005", 6, 7),
    ]  # fmt: skip


def test_what_could_not_be_read_is_unread_and_all_else_stays() -> None:
    cellar, _ = read("name: X\nheight: 2\nshelves: [{label: A}, {boards: 1}]\nmarks: {A: 1, B: 1 m}\n")
    assert cellar.name == "X"
    assert cellar.height_m is UNREAD
    assert cellar.shelves[0].label == "A"
    assert cellar.shelves[1].label is UNREAD
    assert cellar.marks["A"] is UNREAD
    assert cellar.marks["B"] == 1.0


@pytest.mark.parametrize(
    "ask",
    [
        bool, int, float, str, len, iter, hash, abs, round,
        lambda value: -value, lambda value: value + 1, lambda value: 1 - value,
        lambda value: value < 1, lambda value: value == 1,
        lambda value: value.anything, lambda value: value[0], lambda value: f"{value}", lambda value: {}[value],
    ],
)  # fmt: skip
def test_asking_an_unread_value_ends_in_unread(ask: Any) -> None:
    with pytest.raises(Unread):
        ask(UNREAD)


def test_a_key_misspelt_by_capitals_or_blanks_still_gives_its_value() -> None:
    cellar, findings = read("name: X\nFree_Air: 5 l/s\n")
    assert [f.rule for f in findings] == ["KEY001"]
    assert cellar.air == Quantity(0.005)


def test_signs_that_do_not_print_are_a_warning_and_never_reach_a_message() -> None:
    cellar, findings = read('name: "a\\ab"\nkind: "\\e[31mred"\n')
    assert cellar.name == "a b"
    assert [f.rule for f in findings] == ["TEXT002", "WORD001"]
    assert all((f.message + f.fix).isprintable() for f in findings)


def test_source_lines_are_counted_as_places_count_them() -> None:
    text = "name: X\r\nkind: dry\rheight: 2\n"
    (finding,) = read(text)[1]
    assert source_lines(text.encode())[finding.place.line - 1] == "height: 2"
    assert source_lines(b"a\xff\nb") == ["a\ufffd", "b"]


def test_nearest_counts_neither_capitals_nor_hyphens() -> None:
    assert nearest("From-Left", ["from left", "off wall"]) == "from left"
    assert nearest("zzz", ["from left", "off wall"]) == ""


def test_the_schema_says_what_the_forms_say() -> None:
    described = schema(Cellar, "Cellar")
    assert described["required"] == ["name"]
    assert described["additionalProperties"] is False
    assert set(described["properties"]) == {"name", "built", "kind", "height", "free air", "size", "shelves", "marks"}
    assert described["properties"]["kind"] == {"enum": ["dry", "damp"]}
    assert described["properties"]["height"]["description"].startswith("clear height; with its unit")
    assert described["properties"]["size"]["minItems"] == 2
