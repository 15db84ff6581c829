"""A choice: what it changes of the main of a site file, and what comes of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from drafter.finding import Finding, Severity, errors
from drafter.options.figures import Figures
from drafter.site import Site

AS_GIVEN = "as given"
MATERIAL, WAY, LEVEL, TOGETHER = "material", "way of the main", "level", "together"
GROUPS = (AS_GIVEN, MATERIAL, WAY, LEVEL, TOGETHER)


@dataclass(frozen=True)
class Variant:
    """A choice before it is drawn up.

    Attributes:
        group: what kind of choice it is, of `GROUPS`.
        title: in words.
        changes: values of the main by attribute, in the place of those of the site file.
    """

    group: str
    title: str
    changes: Mapping[str, Any] = field(default_factory=dict)

    def site(self, given: Site) -> Site:
        """Return a site with this choice made."""
        return given.with_main(**self.changes)


@dataclass(frozen=True)
class Skipped:
    """A choice that is not drawn up, and why."""

    title: str
    why: str


@dataclass(frozen=True)
class Option:
    """A choice drawn up.

    Attributes:
        id: its number on the sheet, ``1`` for the job as given.
        findings: of all stages, the worst first.
        figures: None where a stage could not go on.
    """

    id: str
    variant: Variant
    findings: tuple[Finding, ...]
    figures: Figures | None

    @property
    def can_be_built(self) -> bool:
        return self.figures is not None and not errors(self.findings)

    @property
    def warnings(self) -> tuple[Finding, ...]:
        return tuple(finding for finding in self.findings if finding.severity is Severity.WARNING)

    @property
    def first_error(self) -> Finding | None:
        return next((finding for finding in self.findings if finding.severity is Severity.ERROR), None)
