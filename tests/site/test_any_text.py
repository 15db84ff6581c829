"""Whatever a site file holds, reading it gives a site or a finding, and nothing unread in a site."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drafter.finding import errors
from drafter.reader import UNREAD, composing
from drafter.site import read

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))
GOOD = [path.read_text(encoding="utf-8") for path in EXAMPLES]
TOKEN = re.compile(r"[A-Za-z]+|\d+|\s+|.")
TOKENS = sorted({token for text in GOOD for token in TOKEN.findall(text)})
VALUES = [
    "",
    "{}",
    "[]",
    "~",
    "-1 m",
    "0 m",
    "1e9 m",
    "1,5 m",
    "9" * 60,
    "auto",
    "{a: b}",
    "[1 m, 1 m]",
    "'",
    "\t",
    "-",
]


def has_unread(value: Any) -> bool:
    if value is UNREAD:
        return True
    if isinstance(value, Mapping):
        return any(has_unread(each) for each in value.values())
    if isinstance(value, tuple):
        return any(has_unread(each) for each in value)
    if dataclasses.is_dataclass(value):
        return any(has_unread(getattr(value, field.name)) for field in dataclasses.fields(value))
    return False


def check(text: str | bytes) -> None:
    site, findings = read(text, "any.yaml")
    assert (site is None) == bool(errors(findings))
    assert not has_unread(site)
    for finding in findings:
        assert finding.message
        assert finding.fix
        assert (finding.message + finding.fix + finding.subject).isprintable()
        assert 1 <= finding.place.line <= len(composing.source_lines(text))
        assert finding.place.column >= 1


@settings(deadline=None)
@given(st.one_of(st.text(), st.binary(), st.lists(st.sampled_from(TOKENS)).map("".join)))
def test_any_text(text: str | bytes) -> None:
    check(text)


def trees() -> st.SearchStrategy[Any]:
    words = st.sampled_from([token for token in TOKENS if token.strip()] + ["from left", "keep clear", "free air"])
    leaves = st.one_of(words, st.text(max_size=8), st.integers(), st.none())
    return st.recursive(
        leaves, lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(words, inner, max_size=6))
    )


@settings(deadline=None)
@given(trees())
def test_any_tree(tree: Any) -> None:
    check(yaml.safe_dump(tree, allow_unicode=True))


@st.composite
def changed(draw: st.DrawFn) -> str:
    """A good file with a few pieces taken out, doubled, moved or replaced."""
    pieces = TOKEN.findall(draw(st.sampled_from(GOOD)))
    for _ in range(draw(st.integers(1, 4))):
        if not pieces:
            break
        at = draw(st.integers(0, len(pieces) - 1))
        match draw(st.sampled_from(["take", "double", "swap", "replace", "cut"])):
            case "take":
                del pieces[at]
            case "double":
                pieces.insert(at, pieces[at])
            case "swap":
                other = draw(st.integers(0, len(pieces) - 1))
                pieces[at], pieces[other] = pieces[other], pieces[at]
            case "replace":
                pieces[at] = draw(st.one_of(st.sampled_from(TOKENS + VALUES), st.text(max_size=4)))
            case "cut":
                pieces = pieces[: at + 1]
    return "".join(pieces)


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(changed())
def test_any_change_of_a_good_file(text: str) -> None:
    check(text)


@st.composite
def revalued(draw: st.DrawFn) -> str:
    """A good file that still is YAML, with some of its values or whole branches replaced or taken away."""
    tree = yaml.load(draw(st.sampled_from(GOOD)), Loader=yaml.BaseLoader)
    for _ in range(draw(st.integers(1, 5))):
        branch = tree
        while True:
            keys = list(branch) if isinstance(branch, dict) else list(range(len(branch)))
            if not keys:
                break
            chosen = draw(st.sampled_from(keys))
            if isinstance(branch[chosen], dict | list) and draw(st.booleans()):
                branch = branch[chosen]
                continue
            if draw(st.booleans()):
                del branch[chosen]
            else:
                branch[chosen] = draw(
                    st.sampled_from([*VALUES, {}, [], ["a"], {"a": "b"}, "north", "3 m", "7 bar", "A1"])
                )
            break
    return yaml.safe_dump(tree, sort_keys=False, allow_unicode=True)


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(revalued())
def test_any_other_values(text: str) -> None:
    check(text)


@pytest.mark.parametrize(
    "text",
    [
        "a" * 990_000 + ": b", "site: " + "a" * 990_000, "site: [" + "a," * 490_000 + "]", "- " * 490_000,
        "{" * 990_000, "[" * 990_000, "? " * 490_000, "&a " * 300_000, "#\n" * 490_000, ":" * 990_000, '"' * 990_000,
    ],
    ids=lambda text: text[:8],
)  # fmt: skip
def test_large_nonsense(text: str) -> None:
    site, findings = read(text, "any.yaml")
    assert site is None
    assert errors(findings)


@pytest.mark.parametrize("text", GOOD, ids=[path.stem for path in EXAMPLES])
@pytest.mark.parametrize("loader", [composing._Loader, yaml.SafeLoader], ids=["compiled", "plain"])
def test_the_examples_are_read_without_findings(text: str, loader: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(composing, "_Loader", loader)
    site, findings = read(text, "example.yaml")
    assert site is not None
    assert findings == ()
    assert not has_unread(site)
