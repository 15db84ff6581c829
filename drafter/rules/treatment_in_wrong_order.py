"""Treatment units stand in an order that spoils what they do.

Why: a dryer that gets oil or standing water dries no more, a carbon filter behind none takes no vapour, and what
a lubricator adds a filter takes out again.
Passes: aftercooler, separator, filters, dryer, coalescing and carbon filters, lubricator, in the order of flow.
Fails: a warning for an aftercooler behind another unit than a filter or separator, for a desiccant dryer of a
lubricated compressor without a coalescing filter before it, for a carbon filter without one before it, and for a
lubricator before any filter or dryer.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.rules.rule import WARNING, Rule
from drafter.site.model import Site, Treatment
from drafter.supports.design import Design

RULE = Rule(
    "AIR003",
    "treatment in the wrong order",
    "common practice; the order of treatment in handbooks",
    (WARNING,),
)

_BEFORE_COOLING = ("separator", "filter")


def check(design: Design) -> Iterator[Finding]:
    site = design.network.layout.site
    for number, unit in enumerate(site.treatment):
        before = [other.kind for other in site.treatment[:number]]
        behind = [other.kind for other in site.treatment[number + 1 :]]
        trouble = _trouble(site, unit, before, behind)
        if trouble:
            message, fix = trouble
            yield RULE.finding(
                WARNING,
                unit.place,
                message,
                measured=f"behind {', '.join(before)}" if before else "first in the train",
                limit="the order of flow above",
                fix=fix,
                subject=unit.kind,
            )


def _trouble(site: Site, unit: Treatment, before: list[str], behind: list[str]) -> tuple[str, str] | None:
    """What is wrong with the place of a unit, and what to do; None where nothing is."""
    if unit.kind == "aftercooler" and any(kind not in _BEFORE_COOLING for kind in before):
        return f"the aftercooler stands behind the {before[-1]}, which gets the hot air", "put the aftercooler first"
    if unit.kind == "desiccant dryer" and site.compressor.oil == "lubricated" and "coalescing filter" not in before:
        return "oil reaches the desiccant dryer and spoils its beads", "put a coalescing filter before it"
    if unit.kind == "activated carbon filter" and "coalescing filter" not in before:
        return "oil mist reaches the activated carbon filter and drowns it", "put a coalescing filter before it"
    late = [kind for kind in behind if "filter" in kind or "dryer" in kind]
    if unit.kind == "lubricator" and late:
        return (
            f"the oil of the lubricator ends in the {late[0]} behind it",
            "put the lubricator last or at outlets",
        )
    return None
