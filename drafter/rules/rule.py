"""What an engineering rule is made of: its identity, and the one way it makes findings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Protocol

from drafter.finding import Finding, Place, Severity
from drafter.supports.design import Design


@dataclass(frozen=True, slots=True)
class Rule:
    """Identity of a rule.

    Attributes:
        id: three to five capitals and three digits, never used twice.
        title: the fault it looks for.
        source: the standard, law or practice behind it.
    """

    id: str
    title: str
    source: str

    def finding(
        self,
        severity: Severity,
        place: Place,
        message: str,
        *,
        measured: str,
        limit: str,
        fix: str,
        subject: str = "",
        source: str = "",
    ) -> Finding:
        return Finding(self.id, severity, place, message, subject, measured, limit, fix, source or self.source)


class RuleFile(Protocol):
    """A module of this folder: its docstring is the rule's manual page."""

    RULE: Rule

    def check(self, design: Design) -> Iterator[Finding]:
        """Yield what breaks the rule; nothing where the design keeps it."""
