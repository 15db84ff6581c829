"""A pipe runs over an electrical panel.

Why: a joint or drain that drips there drips into live parts.
Passes: no pipe along the panel's stretch of wall up to 6 ft (1.83 m) above it.
Fails: a note where one runs there: it needs a shield, and no joint or drain over the panel.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.geometry import Point3
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, Rule, Threshold
from drafter.site.model import KeepClear, Site
from drafter.standards.rule_sets import rule_set
from drafter.supports.design import Design

ABOVE_M = rule_set("us").above_panel_m

RULE = Rule("PANEL002", "pipe over a panel", ABOVE_M.source, (NOTE,), Threshold(ABOVE_M, Kind.LENGTH))

_SLACK_M = 0.0005


def check(design: Design) -> Iterator[Finding]:
    layout, units = design.network.layout, design.network.layout.site.units
    most = RULE.limit(layout.site, rule_set(layout.site.rule_set).above_panel_m)
    for name, room in layout.site.rooms.items():
        for keep in room.keep_clear:
            if keep.kind != "electrical panel":
                continue
            above_m: dict[str, float] = {}
            for run in layout.runs:
                ends = (layout.nodes[run.start].at, layout.nodes[run.end].at)
                if run.room == name and _crosses(layout.site, name, keep, ends):
                    above_m[run.id] = min(end.z for end in ends) - keep.above_floor_m - keep.height_m
            over = [id for id, gap_m in above_m.items() if 0.0 <= gap_m < most.value - _SLACK_M]
            if over:
                gap = units.length_with_unit(min(above_m[id] for id in over))
                yield RULE.finding(
                    NOTE,
                    keep.where("from_left_m"),
                    f"{', '.join(over)} runs over the {keep.name or keep.kind}, {gap} above the space kept clear",
                    measured=gap,
                    limit=units.length_with_unit(most.value),
                    fix="keep joints, valves and drains off that stretch and shield the panel from drips, or lead the "
                    "main another way; ask the electrician",
                    subject=keep.name or keep.kind,
                    source=most.source,
                )


def _crosses(site: Site, room: str, keep: KeepClear, ends: tuple[Point3, Point3]) -> bool:
    """Whether a pipe passes over the footprint of a space kept clear."""
    spots = [site.wall(room, keep.wall).measure(end.plan) for end in ends]
    (low_m, high_m), (near_m, far_m) = sorted(spot[0] for spot in spots), sorted(spot[1] for spot in spots)
    along = low_m < keep.from_left_m + keep.width_m and high_m > keep.from_left_m
    return along and near_m < keep.depth_m and far_m > 0.0
