"""Findings as text, each with its line of the site file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from drafter.finding import Finding
from drafter.reader import source_lines

LONGEST_LINE = 160


def findings_text(findings: Iterable[Finding], text: str | bytes) -> str:
    """Return findings with the lines of the site file they point to.

    Args:
        text: what the site file holds.
    """
    lines = source_lines(text)
    return "\n".join(line for finding in findings for line in _finding_lines(finding, lines))


def _finding_lines(finding: Finding, lines: Sequence[str]) -> Iterator[str]:
    place = finding.place
    yield f"{place}: {finding.severity.word} {finding.rule}: {finding.message}"
    if 0 < place.line <= len(lines):
        number = f"{place.line:>5}"
        start = max(0, place.column - LONGEST_LINE // 2)
        shown = lines[place.line - 1][start : start + LONGEST_LINE]
        yield f"{number} | {_printable(shown)}"
        yield f"{' ' * len(number)} | {' ' * (place.column - 1 - start)}^"
    if finding.fix:
        yield f"      fix: {finding.fix}"
    if finding.write:
        yield f"      in the site file: {finding.write}"
    if finding.source:
        yield f"      source: {finding.source}"


def _printable(text: str) -> str:
    return "".join(sign if sign.isprintable() else " " for sign in text)
