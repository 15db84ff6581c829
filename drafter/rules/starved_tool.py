"""A tool of the work pattern is short of pressure while it runs.

Why: below its pressure a tool is weak and slow, and the work takes longer than the pattern says.
Passes: the tank holds, all the time a tool runs, what it needs there with all that runs beside it.
Fails: a sander that runs longer than the tank lasts. A tool short at cut-in already is found as low pressure at
its outlet, and not a second time here.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from drafter.finding import Finding, Place
from drafter.quantity import duration
from drafter.rules.rule import WARNING, Rule
from drafter.site.model import Site
from drafter.site.work import runs_of
from drafter.sizing.tank_need import ToolAtWork
from drafter.sizing.tank_words import tool_words
from drafter.supports.design import Design

RULE = Rule("TANK004", "a tool is starved", "mass balance of the tank; data plates of the tools", (WARNING,))


def check(design: Design) -> Iterator[Finding]:
    network, site = design.network, design.network.layout.site
    if network.tank.hardest is None:
        return
    later = "when it is repeated without a pause, " if network.tank.later else ""
    low = {flow.tag for flow in network.outlets if flow.tool_pressure_pa < flow.needed_pa}
    for shortage in network.tank.hardest.shortages:
        tool = shortage.run.tool
        if tool.outlet in low:
            continue
        short, needed = duration(shortage.short_s, math.ceil), site.units.pressure(tool.needed_pa)
        yield RULE.finding(
            WARNING,
            _place(site, tool),
            f"the {tool_words(tool)} has less than its {needed} for {short} of the work pattern, {later}"
            f"first {duration(shortage.at_s)} after its beginning",
            measured=short,
            limit="0 s",
            fix="run it shorter or with fewer tools beside it, or take a larger compressor or tank",
            subject=tool.outlet,
        )


def _place(site: Site, tool: ToolAtWork) -> Place:
    """Return where the first run of a tool stands in the site file."""
    same = (tool.outlet, tool.tool)
    return next(run.place for run, outlet, use in runs_of(site) if (outlet.tag, use.tool) == same)
