"""Lays out a site at its level, or where that is left open at the level that costs least."""

from __future__ import annotations

from dataclasses import replace

from drafter.finding import Finding
from drafter.layout import laying_out
from drafter.layout.graph import Layout, NodeKind, Run, RunKind
from drafter.layout.levels import Level, at_height, candidate_levels
from drafter.layout.other_heights import with_height_that_helps
from drafter.layout.rise_spared import with_height_that_spares_a_rise
from drafter.site.model import Site

HIGH_M, HIGH_SHARE = 3.0, 0.5
"""Pipe above 3 m counts for half as much again: ladder and helper (common practice, from memory)."""


def lay_out(site: Site) -> tuple[Layout | None, tuple[Finding, ...]]:
    """Lay out a checked site in space, at the level that costs least where the site leaves it open.

    Returns:
        The layout with the site as it was laid out, or None where something finds no room, and the findings.
    """
    if not site.main.level_open:
        layout, findings = laying_out.lay_out(site)
        if layout is None:
            return None, with_height_that_helps(site, findings)
        return with_height_that_spares_a_rise(layout, findings), findings
    largest_m = site.material.sizes[-1].outside_m
    levels, _ = candidate_levels(site, largest_m)
    tried = [(level, *laying_out.lay_out(at_height(site, level.height_m))) for level in levels]
    found = [(cost_m(layout), level, layout, findings) for level, layout, findings in tried if layout]
    if not found:
        return laying_out.lay_out(at_height(site, site.main.height_m))
    found.sort(key=lambda each: (round(each[0], 3), each[1].height_m))
    _, level, layout, findings = found[0]
    costs = [(each, cost) for cost, each, _, _ in found]
    return replace(layout, reasons=(*layout.reasons, _reason(site, level, costs))), findings


def cost_m(layout: Layout) -> float:
    """Return what all pipe of a layout costs, bends, walls passed and high work counted, as metres of pipe."""
    costs = layout.site.main.costs
    pipe = sum(_pipe_m(layout, run) for run in layout.runs if run.kind is not RunKind.FLEXIBLE)
    bends = sum(node.kind is NodeKind.BEND for node in layout.nodes.values())
    return pipe + costs.bend_m * bends + costs.wall_m * sum(run.kind is RunKind.SLEEVE for run in layout.runs)


def _pipe_m(layout: Layout, run: Run) -> float:
    low_m, high_m = sorted(layout.nodes[id].at.z for id in (run.start, run.end))
    above = min(1.0, max(0.0, high_m - HIGH_M) / (high_m - low_m)) if high_m > low_m else float(high_m > HIGH_M)
    return layout.length_m(run) * (1.0 + HIGH_SHARE * above)


def _reason(site: Site, chosen: Level, costs: list[tuple[Level, float]]) -> str:
    """Say at which level the main hangs, and what the others would cost."""
    units = site.units
    others = "; ".join(
        f"{units.length_with_unit(level.height_m)} ({level.words}) {units.long_length(cost)}"
        for level, cost in costs[1:]
    )
    words = f"The main hangs at {units.length_with_unit(chosen.height_m)}, {chosen.words}: all pipe, bends and walls "
    words += f"passed count for {units.long_length(costs[0][1])} of pipe"
    high = f", pipe above {units.length_with_unit(HIGH_M)} half as much again"
    return f"{words}{high}. {f'At other levels: {others}.' if others else 'No other level found room.'}"
