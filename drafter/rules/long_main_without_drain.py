"""The main runs far without a drain.

Why: a long pitched pipe gathers more water than its last drip leg holds.
Passes: up to 60.96 m (200 ft) of undried main from riser or drain to the next drain.
Fails: a warning above that.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.graph import RunKind
from drafter.quantity import Kind
from drafter.rules.rule import WARNING, Rule, Threshold
from drafter.standards.limits import Limit
from drafter.supports.design import Design

FARTHEST_M = Limit(60.96, "NAVFAC MO-209: drip legs every 200 to 300 ft of pitched pipe")

RULE = Rule("DRAIN005", "long main without a drain", FARTHEST_M.source, (WARNING,), Threshold(FARTHEST_M, Kind.LENGTH))

_SLACK_M = 0.0005
_MAIN = (RunKind.MAIN, RunKind.SLEEVE, RunKind.RISE)


def check(design: Design) -> Iterator[Finding]:
    layout = design.network.layout
    site, most = layout.site, RULE.limit(layout.site)
    if site.is_dried:
        return
    since_m: dict[str, float] = {}
    for run in layout.runs:
        if run.kind in _MAIN:
            drained = any(r.kind is RunKind.DRIP_LEG and not r.outlet for r in layout.runs_at[run.start])
            before_m = 0.0 if drained else since_m.get(run.start, 0.0)
            since_m[run.end] = max(since_m.get(run.end, 0.0), before_m + layout.length_m(run))
    worst_m = max(since_m.values(), default=0.0)
    if worst_m > most.value + _SLACK_M:
        measured, limit = site.units.rough_length(worst_m), site.units.rough_length(most.value)
        yield RULE.finding(
            WARNING,
            site.main.where("height_m"),
            f"the main runs {measured} without a drain, and the air is not dried",
            measured=measured,
            limit=limit,
            fix="let it drain and rise again on its way, or dry the air",
            write="main: {lowest: ...}",
            subject="main",
            source=most.source,
        )
