"""What the program found, where, and what to do about it: findings are returned, never raised."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import IntEnum


@dataclass(frozen=True, order=True, slots=True)
class Place:
    """A spot in a site file; line and column count from 1, line 0 stands for the file as a whole."""

    file: str = ""
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file


class Severity(IntEnum):
    """How bad a finding is: an error stops the drawing, a warning is printed on it, a note is reported."""

    NOTE = 1
    WARNING = 2
    ERROR = 3

    @property
    def word(self) -> str:
        return self.name.lower()


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing found.

    Attributes:
        rule: stable identity of the rule, such as ``UNIT001``.
        severity: error, warning or note.
        place: where in the site file.
        message: what is wrong or worth knowing, with its number and unit.
        subject: tag of the thing concerned, such as ``A1``; empty for the whole site.
        measured: the value found, with unit; empty where there is none.
        limit: the value allowed, with unit.
        fix: what to do instead.
        write: what to write in the site file for it, where the fix does not say it; not printed on sheets.
        source: the standard, law or practice behind the rule.
    """

    rule: str
    severity: Severity
    place: Place
    message: str
    subject: str = ""
    measured: str = ""
    limit: str = ""
    fix: str = ""
    write: str = field(default="", kw_only=True)
    source: str = field(default="", kw_only=True)

    @property
    def order(self) -> tuple[int, Place, str, str]:
        """Sorting key: the worst first, then in the order of the file."""
        return (-self.severity, self.place, self.rule, self.message)


def errors(findings: list[Finding] | tuple[Finding, ...]) -> int:
    """Return how many of the findings are errors."""
    return sum(finding.severity is Severity.ERROR for finding in findings)
