"""Findings in the order in which they are dealt with, under headings that say what to do."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from drafter.finding import Finding, Severity
from drafter.report.findings import findings_text
from drafter.rules import GUARD_PEOPLE
from drafter.rules.own_limits import KEPT_IN_SIGHT

_WRITTEN = (
    "FILE", "KEY", "UNIT", "VAL", "WORD", "DATE", "TEXT", "REF", "TAG", "LIMIT", "DEM", "WORK", "CLASS", "PRICE",
    "LAYER",
)  # fmt: skip
"""What the ids of findings about the writing of the file begin with."""

_DANGEROUS = GUARD_PEOPLE | {"LEAK002"}
"""Rules and checks by whose faults, errors or not, people could be hurt."""

_DANGEROUS_ERRORS = {"MAT001", "PRES002", "PRES003", "PLACE007", "PLACE010"}
"""Errors of the input by which people could be hurt."""


@dataclass(frozen=True, slots=True)
class Group:
    """Findings that are dealt with at the same time: a heading, and which belong to it."""

    heading: str
    holds: Callable[[Finding], bool]


def _is_error(finding: Finding) -> bool:
    return finding.severity is Severity.ERROR


GROUPS = (
    Group(
        "MAKE IT SAFE FIRST: people could be hurt",
        lambda f: f.rule in _DANGEROUS or (_is_error(f) and f.rule in _DANGEROUS_ERRORS),
    ),
    Group(
        "CORRECT THE SITE FILE: what is written cannot be used",
        lambda f: _is_error(f) and f.rule.rstrip("0123456789") in _WRITTEN,
    ),
    Group("CHANGE THE DESIGN: it cannot be built like this", _is_error),
    Group("LIMITS SET FOR THIS SITE: by whoever wrote the site file", lambda f: f.rule == KEPT_IN_SIGHT),
    Group("SETTLE BEFORE BUILDING: it would work badly, or not for long", lambda f: f.severity is Severity.WARNING),
    Group("GOOD TO KNOW", lambda f: f.severity is Severity.NOTE),
)
"""In the order of work; a finding belongs to the first group that holds it."""


def grouped(findings: Sequence[Finding]) -> list[tuple[str, list[Finding]]]:
    """Return the headings that hold findings, the worst first under each, else in their order."""
    found: dict[str, list[Finding]] = {group.heading: [] for group in GROUPS}
    for finding in findings:
        found[next(group.heading for group in GROUPS if group.holds(finding))].append(finding)
    worst_first = {heading: sorted(held, key=lambda f: -f.severity) for heading, held in found.items() if held}
    return list(worst_first.items())


def guarding_people(findings: Sequence[Finding]) -> int:
    """Return how many findings stand in the first group: people could be hurt."""
    return sum(GROUPS[0].holds(finding) for finding in findings)


def grouped_text(findings: Sequence[Finding], text: str | bytes) -> str:
    """Return findings with the lines of the site file they point to, by what to do first.

    Args:
        text: what the site file holds.
    """
    parts = [
        f"{number}. {heading} ({len(held)})\n\n{findings_text(held, text)}"
        for number, (heading, held) in enumerate(grouped(findings), 1)
    ]
    return "\n\n".join(parts)


def own_limits_words(findings: Sequence[Finding]) -> str:
    """Return how many rules the site leaves out or holds against limits of its own; empty where none."""
    kept = [finding for finding in findings if finding.rule == KEPT_IN_SIGHT]
    skipped = sum(finding.measured == "left out" for finding in kept)
    counts = ((skipped, "left out"), (len(kept) - skipped, "held against another limit"))
    words = [f"{count} rule{'' if count == 1 else 's'} {what}" for count, what in counts if count]
    return " and ".join(words)
