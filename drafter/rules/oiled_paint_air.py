"""A lubricator stands before an outlet for paint.

Why: oil mist in paint makes craters; a line that has carried it stays oily, and no filter makes it clean for good.
Passes: lubricators at the outlets of tools only; the way from the tank to an outlet for paint is free of them.
Fails: an error for a lubricator in the treatment train with an outlet for paint behind it, or at that outlet.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.rules.rule import ERROR, Rule
from drafter.sizing.air_quality import use_of
from drafter.supports.design import Design

RULE = Rule("AIR002", "oil mist in paint air", "common practice: clean branches apart from lubricated ones", (ERROR,))


def check(design: Design) -> Iterator[Finding]:
    site = design.network.layout.site
    painting = [outlet for outlet in site.outlets if use_of(outlet) == "paint"]
    for unit in site.treatment:
        if unit.kind == "lubricator" and painting:
            tags = ", ".join(outlet.tag for outlet in painting)
            yield RULE.finding(
                ERROR,
                unit.place,
                f"the lubricator in the treatment train oils the paint air of {tags}",
                measured="a lubricator in the train",
                limit="none before an outlet for paint",
                fix="take it out of the train and give the outlets of tools a filter and lubricator of their own",
                write="service: [filter, lubricator]",
                subject=painting[0].tag,
            )
    for outlet in painting:
        if "lubricator" in outlet.units:
            yield RULE.finding(
                ERROR,
                outlet.where("service"),
                f"the lubricator at {outlet.tag} oils its paint air",
                measured="a lubricator at the outlet",
                limit="none before an outlet for paint",
                fix="take it out, and keep an outlet apart for tools that want oil",
                subject=outlet.tag,
            )
