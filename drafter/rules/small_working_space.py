"""The space kept clear before an electrical panel is smaller than somebody needs to work there.

Why: who works on live parts must be able to step back; a pipe, reel or tank in the way costs a life.
Passes: as the site's set of rules says. us: 3 ft (0.914 m) deep, 30 in (762 mm) wide or as wide as the panel, 6.5 ft
(1.98 m) high, for up to 150 V to ground; to 600 V, where the site file says so, 3 ft, 3.5 ft before grounded walls
(concrete, brick, tile) or 4 ft before other live parts; international: 700 mm deep, 2 m high.
Fails: a warning for less depth or height; a note for less width, as the drawing keeps clear no more than is given.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, WARNING, Rule, Threshold
from drafter.site.model import KeepClear
from drafter.standards.limits import Limit
from drafter.standards.rule_sets import RuleSet, rule_set
from drafter.supports.design import Design

_US = rule_set("us")

RULE = Rule(
    "PANEL001",
    "small working space at a panel",
    _US.panel_depth_m.source,
    (WARNING, NOTE),
    Threshold(
        _US.panel_depth_m,
        Kind.LENGTH,
        "in the us set to 150 V to ground, 700 mm in the international one",
        lambda chosen: chosen.panel_depth_m,
        least=True,
    ),
    guards=True,
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
    here = rule_set(site.rule_set)
    sides = (
        ("deep", "depth_m", keep.depth_m, _deepest(RULE.limit(site), keep, here), WARNING),
        ("high", "height_m", keep.above_floor_m + keep.height_m, here.panel_height_m, WARNING),
        ("wide", "width_m", keep.width_m, here.panel_width_m, NOTE),
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
                fix=f"keep {limit} or more clear and write that; the electrician says what the voltage asks for",
                subject=keep.name or keep.kind,
                source=least.source,
            )


def _deepest(usual: Limit, keep: KeepClear, here: RuleSet) -> Limit:
    """What holds for a panel: the usual limit or the site's own, more where its voltage asks for more."""
    return max(usual, here.panel_depth(keep.voltage, keep.opposite), key=lambda limit: limit.value)
