"""Typical mistakes: each file of bad_sites/ says in comments what must be found on which line; nothing else may be.

A comment ``# finding: RULE`` stands on the line that the finding must point at.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from drafter.finding import Finding, Severity
from drafter.pipeline import design
from drafter.report.manual import manual_page

BAD_SITES = sorted((Path(__file__).parent / "bad_sites").glob("*.yaml"))


def expected(text: str) -> list[tuple[int, str]]:
    """Line and rule of each comment."""
    return [
        (number, rule)
        for number, line in enumerate(text.splitlines(), 1)
        for rule in re.findall(r"# finding: ([A-Z]+\d+)", line)
    ]


def found(path: Path) -> list[Finding]:
    return [f for f in design(path.read_bytes(), path.name).findings if f.severity >= Severity.WARNING]


def test_there_are_enough_of_them() -> None:
    assert len(BAD_SITES) >= 20


@pytest.mark.parametrize("path", BAD_SITES, ids=lambda path: path.stem)
def test_a_typical_mistake_is_found_where_it_is(path: Path) -> None:
    wanted = expected(path.read_text(encoding="utf-8"))
    assert wanted
    assert sorted((f.place.line, f.rule) for f in found(path)) == sorted(wanted)


@pytest.mark.parametrize("path", BAD_SITES, ids=lambda path: path.stem)
def test_each_finding_says_what_to_do(path: Path) -> None:
    for finding in found(path):
        assert finding.message
        assert finding.fix
        assert finding.place.column >= 1
        page = manual_page(finding.rule)
        assert page is not None
        assert finding.severity.word in page.split("severity")[-1].splitlines()[0]


@pytest.mark.parametrize("path", BAD_SITES, ids=lambda path: path.stem)
def test_what_to_write_is_no_source(path: Path) -> None:
    for finding in design(path.read_bytes(), path.name).findings:
        assert not re.search(r"CFR|practice|memory|ISO \d|ASME", finding.write), finding
        assert finding.fix or finding.severity is Severity.NOTE, finding
