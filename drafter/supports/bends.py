"""Looks whether pipe that leads away from its wall is held near enough on either side of its bends."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from heapq import heappop, heappush

from drafter.finding import Finding, Severity
from drafter.layout.graph import Run, RunKind
from drafter.site.wall import with_article
from drafter.sizing.network import Network
from drafter.supports.design import Bracket

_SLACK_M = 0.01


def too_long_round_bends(network: Network, brackets: Sequence[Bracket]) -> Iterator[Finding]:
    """Yield CLIP003 for each wall whose main steps out from it with more pipe between brackets than may hang free."""
    layout = network.layout
    site, units = layout.site, layout.site.units
    worst: dict[tuple[str, str], tuple[float, float, Run]] = {}
    for run in layout.runs:
        if run.kind is not RunKind.MAIN or not layout.goes_across(run):
            continue
        free_m, span_m = _free_m(network, brackets, run), network.sizes[run.id].bracket_span_m
        key = run.room, run.wall
        if free_m > span_m + _SLACK_M and free_m > worst.get(key, (0.0,))[0]:
            worst[key] = free_m, span_m, run
    for (_, wall), (free_m, span_m, run) in worst.items():
        yield Finding(
            "CLIP003",
            Severity.WARNING,
            site.main.where("material"),
            f"where the main steps out from {with_article(wall)}, {units.length_with_unit(free_m)} of pipe hangs free",
            run.id,
            measured=units.length_with_unit(free_m),
            limit=units.length_with_unit(span_m),
            fix="hold the pipe that leads away from the wall too, or take a stiffer pipe",
            source="bracket span of " + network.material.name,
        )


def _free_m(network: Network, brackets: Sequence[Bracket], run: Run) -> float:
    """How much pipe hangs free round a run: to the nearest bracket beyond either end [m]."""
    return network.layout.length_m(run) + sum(
        _to_bracket_m(network, brackets, run, end) for end in (run.start, run.end)
    )


def _to_bracket_m(network: Network, brackets: Sequence[Bracket], run: Run, node: str) -> float:
    """Distance along the pipe from an end of a run to the nearest bracket beyond it [m]."""
    layout = network.layout
    ways, seen, nearest_m = [(0.0, node)], {run.id}, math.inf
    while ways and ways[0][0] < nearest_m:
        so_far_m, here = heappop(ways)
        for other in layout.runs_at[here]:
            if other.id in seen:
                continue
            seen.add(other.id)
            at = layout.nodes[here].at
            held = [so_far_m + bracket.at.minus(at).length for bracket in brackets if bracket.run == other.id]
            nearest_m = min([nearest_m, *held])
            beyond = other.start if other.end == here else other.end
            heappush(ways, (so_far_m + layout.length_m(other), beyond))
    return nearest_m
