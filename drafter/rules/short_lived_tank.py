"""The tank carries the hungriest tools for a short time only.

Why: while tools take more than the compressor delivers, the tank gives the rest, until its pressure is too low for
one of them.
Passes: the hungriest tools together, as many as run at once, keep their pressure for 30 s and more from a full tank.
Fails: four grinders at once on a 50 litre tank. A work pattern given says better what runs together, and takes the
place of this rule; a tool short at cut-in already is found as low pressure at its outlet.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind, duration
from drafter.rules.rule import NOTE, Rule, Threshold
from drafter.sizing.tank_words import tool_words
from drafter.standards.limits import Limit
from drafter.supports.design import Design

SHORTEST_S = Limit(30.0, "common practice, half a minute of all that runs at once")

RULE = Rule("TANK001", "the tank lasts briefly", SHORTEST_S.source, (NOTE,), Threshold(SHORTEST_S, Kind.TIME))


def check(design: Design) -> Iterator[Finding]:
    site, tank = design.network.layout.site, design.network.tank
    found = tank.together
    shortest = RULE.limit(site)
    at_cut_in = found.needed_at_tank_pa > site.compressor.cut_in_pa
    if tank.work is not None or found.short is None or at_cut_in or found.lasts_s >= shortest.value:
        return
    count = len(found.tools)
    what = f"the {count} hungriest tools together" if count > 1 else f"the {found.short.tool}"
    lasts = duration(found.lasts_s, math.floor)
    yield RULE.finding(
        NOTE,
        site.compressor.where("tank_m3"),
        f"a full tank carries {what} for {lasts}; then the {tool_words(found.short)} is short of pressure",
        measured=lasts,
        limit=duration(shortest.value),
        fix="add a tank, widen the pressure band, or let fewer outlets run at once",
        subject="compressor",
        source=shortest.source,
    )
