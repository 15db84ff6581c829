"""The revisions of the drawing: each once, the oldest first, the last that of the title block."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from drafter.finding import Finding, Severity
from drafter.reader import is_read
from drafter.site.model import DrawingData, Revision


def check_revisions(drawing: DrawingData) -> Iterator[Finding]:
    """Yield ISSUE001 for a revision told twice, ISSUE002 for dates that go back, ISSUE003 where the title differs."""
    told = [revision for revision in drawing.revisions if is_read(revision)]
    yield from _told_twice([revision for revision in told if is_read(revision.revision)])
    dated = [revision for revision in told if is_read(revision.date) and revision.date]
    for earlier, later in pairwise(dated):
        if later.date < earlier.date:
            message = f"revision {later.revision} of {later.date} stands after {earlier.revision} of {earlier.date}"
            fix = "write the revisions in order of their dates, the oldest first"
            yield Finding("ISSUE002", Severity.ERROR, later.where("date"), message, later.revision, fix=fix)
    if len(told) == len(drawing.revisions) and told:
        yield from _differs(drawing, told[-1])


def _told_twice(told: list[Revision]) -> Iterator[Finding]:
    first: dict[str, Revision] = {}
    for revision in told:
        other = first.setdefault(revision.revision.lower(), revision)
        if other is not revision:
            message = f"revision {revision.revision} stands on line {other.place.line} already"
            fix = "give each revision its own letter or number"
            yield Finding("ISSUE001", Severity.ERROR, revision.where("revision"), message, revision.revision, fix=fix)


def _differs(drawing: DrawingData, last: Revision) -> Iterator[Finding]:
    for name, key in (("revision", "revision"), ("date", "date")):
        said, of_last = getattr(drawing, name), getattr(last, name)
        if said and of_last and said != of_last:
            message = f"the {key} of the drawing is {said}, that of its last revision {of_last}"
            fix = f"leave out '{key}:' of the drawing, or add the revision that is missing to the list"
            yield Finding("ISSUE003", Severity.ERROR, drawing.where(name), message, last.revision, fix=fix)
