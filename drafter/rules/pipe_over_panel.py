"""A pipe runs over an electrical panel.

Why: a joint or drain that drips there drips into live parts, and the room above is kept for cables.
Passes: no pipe over the panel. As deep and wide as the panel, from the floor to 6 ft (1.83 m) above it or to the
structural ceiling, whichever is lower, no foreign piping may be. The panel's own size is not told: the width and
depth kept clear before it, and the top of that space, are taken.
Fails: a warning where one runs inside that zone; a shield is no way out there. A note where one runs above it: it
needs a shield against drips.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from drafter.finding import Finding, Severity
from drafter.geometry import Point3
from drafter.layout.run_words import run_words
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, WARNING, Rule, Threshold
from drafter.site.model import KeepClear, Site
from drafter.standards.limits import Limit
from drafter.standards.rule_sets import rule_set
from drafter.supports.design import Design

ABOVE_M = rule_set("us").above_panel_m

RULE = Rule(
    "PANEL002",
    "pipe over a panel",
    ABOVE_M.source,
    (WARNING, NOTE),
    Threshold(ABOVE_M, Kind.LENGTH, of_set=lambda chosen: chosen.above_panel_m, least=True),
    guards=True,
)

_SLACK_M = 0.0005


def check(design: Design) -> Iterator[Finding]:
    layout = design.network.layout
    most = RULE.limit(layout.site)
    for name, room in layout.site.rooms.items():
        for keep in room.keep_clear:
            if keep.kind != "electrical panel":
                continue
            above_m: dict[str, float] = {}
            for run in layout.runs:
                ends = (layout.nodes[run.start].at, layout.nodes[run.end].at)
                if run.room == name and _crosses(layout.site, name, keep, ends):
                    gap_m = min(end.z for end in ends) - keep.above_floor_m - keep.height_m
                    where = run_words(layout, run)
                    above_m[where] = min(gap_m, above_m.get(where, gap_m))
            inside = {where: gap_m for where, gap_m in above_m.items() if gap_m < most.value - _SLACK_M}
            over = {where: gap_m for where, gap_m in above_m.items() if where not in inside}
            if inside:
                yield _inside(layout.site, keep, inside, most)
            if over:
                yield _over(layout.site, keep, over, most)


def _inside(site: Site, keep: KeepClear, above_m: Mapping[str, float], most: Limit) -> Finding:
    fix = "lead the main another way: no shield makes up for it there; ask the electrician"
    return _finding(WARNING, site, keep, above_m, most, "where no foreign pipe may be", fix)


def _over(site: Site, keep: KeepClear, above_m: Mapping[str, float], most: Limit) -> Finding:
    fix = "shield the panel from drips and keep joints, valves and drains off that stretch; ask the electrician"
    return _finding(NOTE, site, keep, above_m, most, "where it needs a shield", fix)


def _finding(
    severity: Severity, site: Site, keep: KeepClear, above_m: Mapping[str, float], most: Limit, what: str, fix: str
) -> Finding:
    lowest_m = min(above_m.values())
    gap = site.units.length_with_unit(abs(lowest_m))
    side = "above" if lowest_m >= 0.0 else "below the top of"
    panel = keep.name or keep.kind
    return RULE.finding(
        severity,
        keep.where("from_left_m"),
        f"{' and '.join(above_m)} runs over the {panel}, {gap} {side} the space kept clear, {what}",
        measured=f"{gap} {side} it",
        limit=f"{site.units.length_with_unit(most.value)} above it",
        fix=fix,
        subject=panel,
        source=most.source,
    )


def _crosses(site: Site, room: str, keep: KeepClear, ends: tuple[Point3, Point3]) -> bool:
    """Whether a pipe passes over the footprint of a space kept clear."""
    spots = [site.wall(room, keep.wall).measure(end.plan) for end in ends]
    (low_m, high_m), (near_m, far_m) = sorted(spot[0] for spot in spots), sorted(spot[1] for spot in spots)
    along = low_m < keep.from_left_m + keep.width_m and high_m > keep.from_left_m
    return along and near_m < keep.depth_m and far_m > 0.0
