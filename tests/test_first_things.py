"""The report says what to do first, hides nothing, and ends with whether it can be built."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from drafter.finding import Finding, Place, Severity
from drafter.pipeline import Designed, design
from drafter.report import report_text, verdict
from drafter.report.first_things import GROUPS, grouped, own_limits_words
from drafter.takeoff.order_of_work import order_of_work

EVERYTHING_WRONG = Path(__file__).parent / "bad_sites" / "everything_wrong.yaml"
HEADINGS = [group.heading for group in GROUPS]


@pytest.fixture(scope="module")
def wrong() -> tuple[Designed, str]:
    text = EVERYTHING_WRONG.read_text(encoding="utf-8")
    designed = design(text, "slapdash.yaml")
    return designed, report_text(designed.findings, text, designed.design, designed.takeoff)


def found(rule: str, severity: Severity, measured: str = "") -> Finding:
    return Finding(rule, severity, Place("x.yaml", 1, 1), "something", measured=measured)


@pytest.mark.parametrize(
    "rule, severity, heading",
    [
        ("RATE001", Severity.ERROR, 0),
        ("PRES003", Severity.ERROR, 0),
        ("HEAT001", Severity.ERROR, 0),
        ("HEAT001", Severity.WARNING, 0),
        ("HOSE002", Severity.WARNING, 0),
        ("TOOL001", Severity.WARNING, 0),
        ("PANEL001", Severity.WARNING, 0),
        ("PANEL001", Severity.NOTE, 0),
        ("BLOW001", Severity.NOTE, 0),
        ("HEAT002", Severity.NOTE, 0),
        ("PRES002", Severity.WARNING, 4),
        ("LIMIT006", Severity.ERROR, 1),
        ("MAT001", Severity.ERROR, 0),
        ("UNIT001", Severity.ERROR, 1),
        ("LIMIT001", Severity.ERROR, 1),
        ("ROUTE001", Severity.ERROR, 2),
        ("FLOW001", Severity.ERROR, 2),
        ("LIMIT005", Severity.NOTE, 3),
        ("LIMIT005", Severity.WARNING, 3),
        ("FLOW001", Severity.WARNING, 4),
        ("DEM001", Severity.WARNING, 4),
        ("FLOW001", Severity.NOTE, 5),
    ],
)
def test_each_finding_has_its_place(rule: str, severity: Severity, heading: int) -> None:
    ((said, held),) = grouped([found(rule, severity)])
    assert said == HEADINGS[heading]
    assert len(held) == 1


def test_what_could_hurt_begins_with_the_worst() -> None:
    mixed = [
        found("BLOW001", Severity.NOTE), found("HOSE002", Severity.WARNING), found("RATE001", Severity.ERROR),
        found("FLOW001", Severity.NOTE), found("TOOL001", Severity.WARNING),
    ]  # fmt: skip
    (_, first), (_, others) = grouped(mixed)
    assert [each.rule for each in first] == ["RATE001", "HOSE002", "TOOL001", "BLOW001"]
    assert [each.rule for each in others] == ["FLOW001"]


def test_a_report_full_of_faults_begins_with_what_could_hurt(wrong: tuple[Designed, str]) -> None:
    designed, report = wrong
    heads = re.findall(r"^(\d)\. ([A-Z ]+): .*\((\d+)\)$|^(\d)\. (GOOD TO KNOW) \((\d+)\)$", report, re.MULTILINE)
    assert [one or four for one, _, _, four, _, _ in heads] == ["1", "2", "3", "4"]
    assert heads[0][1] == "MAKE IT SAFE FIRST"
    assert sum(int(head[2] or head[5]) for head in heads) == len(designed.findings)
    assert len({finding.rule for finding in designed.findings}) >= 30


def test_nothing_is_said_twice_or_left_out(wrong: tuple[Designed, str]) -> None:
    designed, report = wrong
    for finding in designed.findings:
        assert report.count(f" {finding.rule}: {finding.message}") == 1


def test_every_finding_says_what_to_do_and_why(wrong: tuple[Designed, str]) -> None:
    designed, _ = wrong
    for finding in designed.findings:
        assert finding.fix
        assert finding.source
        assert not re.search(r"\b(None|nan|inf)\b", finding.message + finding.fix)
        assert not re.search(r"[{}\[\]]|\w: \.\.\.", finding.message + finding.fix)


def test_the_last_line_is_the_verdict(wrong: tuple[Designed, str]) -> None:
    designed, report = wrong
    assert report.splitlines()[-1] == verdict(designed.findings, designed.design)
    assert report.splitlines()[-1].startswith("It cannot be built as described: correct the errors first (8 errors")


def test_the_verdict_never_hides_a_limit_of_the_site() -> None:
    kept = [found("LIMIT005", Severity.NOTE, "left out"), *[found("LIMIT005", Severity.NOTE, "8 m/s")] * 2]
    assert own_limits_words(kept) == "1 rule left out and 2 rules held against another limit"
    assert own_limits_words([found("FLOW001", Severity.NOTE)]) == ""


def test_of_a_design_with_errors_the_report_is_stamped_and_nothing_is_started(wrong: tuple[Designed, str]) -> None:
    designed, report = wrong
    assert report.splitlines()[0].startswith("NOT FOR CONSTRUCTION")
    assert designed.design is not None
    assert designed.takeoff is not None
    steps = [step.what for step in order_of_work(designed.design, designed.takeoff)]
    assert steps[-1].startswith("No test, no air")
    assert not any("started" in step or "Leak check" in step for step in steps)
