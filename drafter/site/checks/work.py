"""The work pattern: runs at outlets that are there, with tools that hang there, within the pattern, one at a time."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drafter.finding import Finding, Severity
from drafter.quantity import duration
from drafter.reader import nearest_hint
from drafter.site.model import Site, Work, WorkRun
from drafter.site.work import find_outlet, find_use, uses_at

MOST_STARTS = 3000
"""Starts of tools that a pattern may have; a working day of one every ten seconds."""

_SLACK_S = 1e-6


def check_run_place(site: Site, run: WorkRun) -> Iterator[Finding]:
    """Yield WORK001 for a run at an outlet that is not there."""
    if find_outlet(site.outlets, run.outlet) is None:
        tags = [outlet.tag for outlet in site.outlets]
        message, fix = (
            f"there is no outlet '{run.outlet}'",
            f"{nearest_hint(run.outlet, tags)}outlets: {', '.join(tags)}",
        )
        yield Finding("WORK001", Severity.ERROR, run.where("outlet"), message, run.outlet, fix=fix)


def check_run_tool(site: Site, run: WorkRun) -> Iterator[Finding]:
    """Yield WORK002 for a tool that does not hang at the outlet, or is not said where several do."""
    outlet = find_outlet(site.outlets, run.outlet)
    if outlet is None or find_use(outlet, run.tool) is not None:
        return
    there = [use.tool for use in uses_at(outlet)]
    message = f"'{run.tool}' is no tool of outlet {outlet.tag}" if run.tool else f"{outlet.tag} has several tools"
    fix = f"{nearest_hint(run.tool, there)}write one of {', '.join(there)}, or add the tool to the outlet"
    yield Finding("WORK002", Severity.ERROR, run.where("tool"), message, outlet.tag, fix=fix)


def check_run_times(work: Work, run: WorkRun) -> Iterator[Finding]:
    """Yield WORK003 for a run past the end of the pattern, WORK004 for one that begins again before it ends."""
    length, end = duration(work.length_s), duration(run.from_s + run.for_s)
    if run.from_s + run.for_s > work.length_s + _SLACK_S:
        message = f"the run at {run.outlet} ends {end} after the pattern begins, which is {length} long"
        fix = "end it earlier, or give the pattern more length"
        yield Finding("WORK003", Severity.ERROR, run.where("for_s"), message, run.outlet, end, length, fix)
    if run.every_s is not None and run.every_s < run.for_s - _SLACK_S:
        every, lasts = duration(run.every_s), duration(run.for_s)
        message = f"the run at {run.outlet} begins again every {every}, but takes {lasts}"
        fix = "from start to start it must be at least as long as it runs"
        yield Finding("WORK004", Severity.ERROR, run.where("every_s"), message, run.outlet, every, lasts, fix)


def check_run_apart(work: Work, run: WorkRun, earlier: Sequence[WorkRun]) -> Iterator[Finding]:
    """Yield WORK005 for a run while another tool runs on the same coupling."""
    times = run.times_s(work.length_s)
    for other in earlier:
        if other.outlet.lower() == run.outlet.lower() and _clash(times, other.times_s(work.length_s)):
            message = f"two tools run at {run.outlet} at once; the other stands on line {other.place.line}"
            fix = "one tool hangs on a coupling at a time: let one begin after the other, or add an outlet"
            yield Finding("WORK005", Severity.ERROR, run.place, message, run.outlet, fix=fix)
            return


def check_starts(work: Work, runs: Sequence[WorkRun]) -> Iterator[Finding]:
    """Yield WORK006 for a pattern of very many runs."""
    count = sum(len(run.times_s(work.length_s)) for run in runs)
    if count > MOST_STARTS:
        message = f"the tools start {count} times in the pattern"
        fix = "give a shorter pattern: it is repeated anyway"
        place = work.where("length_s")
        yield Finding("WORK006", Severity.ERROR, place, message, "", str(count), str(MOST_STARTS), fix)


def _clash(first: Sequence[tuple[float, float]], second: Sequence[tuple[float, float]]) -> bool:
    """Whether a run of one row overlaps a run of the other; both are in the order of time."""
    one = other = 0
    while one < len(first) and other < len(second):
        (start, end), (start_other, end_other) = first[one], second[other]
        if start < end_other - _SLACK_S and start_other < end - _SLACK_S:
            return True
        if end <= end_other:
            one += 1
        else:
            other += 1
    return False
