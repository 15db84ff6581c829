"""Which start height of a dead end main, a little above its own, spares it a rise: each one named has been laid out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from drafter.finding import Finding
from drafter.layout.graph import Layout, RunKind
from drafter.layout.laying_out import lay_out
from drafter.layout.levels import at_height, highest_main_m
from drafter.site.wall import with_article

STEPS = 10
"""Heights tried; 10 of 5 mm or of 1/4 in: more would be another design (value of our own)."""

STEP_M, STEP_IMPERIAL_M = 0.005, 0.00635


def with_height_that_spares_a_rise(layout: Layout, findings: Sequence[Finding]) -> Layout:
    """Say in the reasons of a layout the least height at which a rise of its main falls away, if it is near."""
    site, rises = layout.site, _rises(layout)
    if site.main.falls_to == "riser" or not site.main.lowest_m or not rises:
        return layout
    step_m = STEP_IMPERIAL_M if site.imperial else STEP_M
    low, high, spared = 0, STEPS + 1, None
    while high - low > 1:
        tried = STEPS if spared is None else (low + high) // 2
        height_m = site.main.height_m + tried * step_m
        other, found = lay_out(at_height(site, height_m))
        left = _rises(other) if other else rises
        if left < rises and len(found) <= len(findings):
            high, spared = tried, (height_m, rises - left)
        elif spared is None:
            return layout
        else:
            low = tried
    if spared is None or spared[0] > highest_main_m(site) + 1e-9:
        return layout
    return replace(layout, reasons=(*layout.reasons, _reason(layout, *spared)))


def _rises(layout: Layout) -> Counter[tuple[str, str]]:
    """How many rises there are on each wall of each room."""
    return Counter((run.room, run.wall) for run in layout.runs if run.kind is RunKind.RISE)


def _reason(layout: Layout, height_m: float, spared: Counter[tuple[str, str]]) -> str:
    units = layout.site.units
    walls = [layout.site.wall_words(room, wall, with_article) for room, wall in spared]
    many = spared.total() > 1
    here, there = (units.length_with_unit(each) for each in (layout.site.main.height_m, height_m))
    return f"At {there} instead of {here} the rise{'s' * many} on {' and '.join(walls)} fall{'s' * (not many)} away."
