"""The space kept clear before an electrical panel is smaller than somebody needs to work there.

Why: who works on live parts must be able to step back; a pipe, reel or tank in the way costs a life.
Passes: 3 ft (0.914 m) deep, 30 in (762 mm) wide or as wide as the panel, 6.5 ft (1.98 m) high, for up to 150 V to
ground; higher voltages ask for more.
Fails: a warning for less depth or height; a note for less width, as the drawing keeps clear no more than is given.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, WARNING, Rule, Threshold
from drafter.site.model import KeepClear
from drafter.standards.limits import Limit
from drafter.supports.design import Design

_SOURCE = "29 CFR 1910.303(g)(1) and table S-1; NEC 110.26(A)"

LEAST_DEPTH_M = Limit(0.9144, f"{_SOURCE}: 3 ft to 150 V to ground")
LEAST_WIDTH_M = Limit(0.762, f"{_SOURCE}: 30 in, or the width of the equipment")
LEAST_HEIGHT_M = Limit(1.9812, f"{_SOURCE}: 6.5 ft, or the height of the equipment")

RULE = Rule(
    "PANEL001",
    "small working space at a panel",
    _SOURCE,
    (WARNING, NOTE),
    Threshold(LEAST_DEPTH_M, Kind.LENGTH, "30 in (762 mm) wide, 6.5 ft (1981 mm) high"),
)

_SLACK_M = 0.001


def check(design: Design) -> Iterator[Finding]:
    site = design.network.layout.site
    for room in site.rooms.values():
        for keep in room.keep_clear:
            if keep.kind == "electrical panel":
                yield from _of_panel(design, keep)


def _of_panel(design: Design, keep: KeepClear) -> Iterator[Finding]:
    site = design.network.layout.site
    sides = (
        ("deep", "depth_m", keep.depth_m, RULE.limit(site), WARNING),
        ("high", "height_m", keep.above_floor_m + keep.height_m, LEAST_HEIGHT_M, WARNING),
        ("wide", "width_m", keep.width_m, LEAST_WIDTH_M, NOTE),
    )
    for word, attribute, measured_m, least, severity in sides:
        if measured_m < least.value - _SLACK_M:
            measured, limit = site.units.length_with_unit(measured_m), site.units.length_with_unit(least.value)
            yield RULE.finding(
                severity,
                keep.where(attribute),
                f"the space kept clear before the {keep.name or keep.kind} is {measured} {word}",
                measured=measured,
                limit=limit,
                fix=f"write {limit} or more; the electrician says what the voltage asks for",
                subject=keep.name or keep.kind,
                source=least.source,
            )
