"""Places brackets on every straight piece of pipe that is fixed to a wall."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from drafter.finding import Finding, Severity
from drafter.geometry import Point3
from drafter.layout.graph import NodeKind, Run, RunKind
from drafter.layout.obstacles import CLEAR_M
from drafter.site.wall import Wall
from drafter.sizing.network import Network
from drafter.supports.design import Bracket, Design

CLEAR_OF_FITTING_M = 0.06
"""From a fitting's face to a bracket, room for a spanner (common practice)."""

NEAR_FITTING_M = 0.30
"""A bracket stands at most so far from a bend, tee or valve: 12 in, UFGS 15561A."""

INSET_M = 0.10
"""How far the first bracket of a longer piece stands inside the stretch it may stand on (common practice)."""

EDGE_M = 0.02
"""Where that stretch begins before the end of a wall: with the inset, 120 mm from an outside corner."""

BELOW_MAIN_M = 0.05
"""Where that stretch begins below the main on a drop behind it: with the inset, 150 mm, in a driver's reach."""

SHORTEST_M = 0.30
"""Shorter pieces hang on their neighbours' brackets (common practice)."""

FIXED_KINDS = (RunKind.RISER, RunKind.TREATMENT, RunKind.MAIN, RunKind.DROP, RunKind.DRIP_LEG)


def place_supports(network: Network) -> Design:
    """Place brackets within the material's spans and near every fitting; number them wall by wall.

    A piece between two fittings gets one bracket near either end and equal spans between.
    """
    found: list[Bracket] = []
    findings: list[Finding] = []
    for run in network.layout.runs:
        if run.kind in FIXED_KINDS:
            found += _on_run(network, run, findings)
    layout = network.layout
    order = {(wall.room, wall.name): i for i, wall in enumerate(w for ws in layout.site.walls.values() for w in ws)}
    found.sort(key=lambda b: (order[b.room, b.wall], round(b.from_left_m, 4), -b.at.z))
    brackets = tuple(
        Bracket(f"B-{n:02d}", b.run, b.at, b.room, b.wall, b.from_left_m, b.stand_off_m, b.size, b.fixed)
        for n, b in enumerate(found, 1)
    )
    return Design(network, brackets, tuple(findings))


def _on_run(network: Network, run: Run, findings: list[Finding]) -> Iterator[Bracket]:
    layout, size = network.layout, network.sizes[run.id]
    start, end = (layout.nodes[id].at for id in (run.start, run.end))
    length = layout.length_m(run)
    low = _half_m(network, run.start, run) + CLEAR_OF_FITTING_M
    high = length - _half_m(network, run.end, run) - CLEAR_OF_FITTING_M
    low, high = _reachable(network, run, low, high)
    if high - low + 2 * CLEAR_OF_FITTING_M < SHORTEST_M:
        return
    upright = layout.is_upright(run)
    span = size.vertical_span_m if upright else size.bracket_span_m
    wall = layout.site.wall(run.room, run.wall)
    places = _clear_of_openings(network, wall, start, end, length, _evenly(low, high, span))
    middle = len(places) // 2
    for index, place in enumerate(places):
        at = _on_grid(network, wall, start.towards(end, place), upright)
        from_left, stand_off = wall.measure(at.plan)
        fixed = index == middle and run.kind is RunKind.MAIN
        yield Bracket("", run.id, at, run.room, run.wall, from_left, stand_off, size, fixed)
    gaps = [b - a for a, b in pairwise(places)]
    if gaps and max(gaps) > span + 0.006:
        units = layout.site.units
        findings.append(
            Finding(
                "CLIP001",
                Severity.WARNING,
                layout.site.main.where("height_m"),
                f"brackets on the {wall.name} wall stand {units.length_with_unit(max(gaps))} apart over an opening",
                run.id,
                measured=units.length_with_unit(max(gaps)),
                limit=units.length_with_unit(span),
                fix="carry the pipe on a rail or board across the opening",
                source="bracket span of " + network.material.name,
            )
        )


def _reachable(network: Network, run: Run, low: float, high: float) -> tuple[float, float]:
    """Keep brackets off the ends of the wall, and those of a drop out from behind the main."""
    layout = network.layout
    start, end = (layout.nodes[id].at for id in (run.start, run.end))
    if run.kind is RunKind.DROP and layout.nodes[run.start].kind is NodeKind.BEND:
        return max(low, start.z - layout.take_offs[run.outlet].at.z + BELOW_MAIN_M), high
    wall = layout.site.wall(run.room, run.wall)
    first, last = (wall.measure(at.plan)[0] for at in (start, end))
    if abs(last - first) < 1e-6:
        return low, high
    from_start = [abs(limit - first) for limit in (EDGE_M, wall.length_m - EDGE_M)]
    near, far = from_start if last > first else reversed(from_start)
    if min(first, last) < EDGE_M:
        low, high = (max(low, near), high) if last > first else (low, min(high, far))
    if max(first, last) > wall.length_m - EDGE_M:
        low, high = (low, min(high, far)) if last > first else (max(low, near), high)
    return low, high


def _half_m(network: Network, node_id: str, run: Run) -> float:
    """Length of the fitting or device at a node, along a run, from its centre to its face."""
    node, size = network.layout.nodes[node_id], network.sizes[run.id]
    if node.kind in (NodeKind.VALVE, NodeKind.DRAIN):
        return size.valve_length_m / 2
    if node.kind is NodeKind.TREATMENT:
        return 0.05 + size.coupling_length_m
    return size.centre_to_face_m


def _evenly(low: float, high: float, span: float) -> list[float]:
    """Places from ``low`` to ``high``: both ends near their fittings, equal spans between."""
    inset = min(INSET_M, (high - low) / 4)
    first, last = low + inset, high - inset
    if last - first < 0.15:
        return [(low + high) / 2]
    count = max(1, math.ceil((last - first) / span - 1e-9))
    return [first + (last - first) * i / count for i in range(count + 1)]


def _clear_of_openings(
    network: Network, wall: Wall, start: Point3, end: Point3, length: float, places: list[float]
) -> list[float]:
    """Move places that would fall into an opening of the wall to its nearer side."""
    moved: list[float] = []
    for place in places:
        at = start.towards(end, place)
        s = wall.measure(at.plan)[0]
        for opening in network.layout.site.rooms[wall.room].openings:
            if network.layout.site.wall(wall.room, opening.wall) is not wall:
                continue
            left, right = opening.from_left_m - CLEAR_M, opening.from_left_m + opening.width_m + CLEAR_M
            if left < s < right and opening.bottom_m - CLEAR_M < at.z < opening.top_m + CLEAR_M:
                target = left if s - left < right - s else right
                place += (target - s) * (1 if wall.measure(end.plan)[0] > wall.measure(start.plan)[0] else -1)
        moved.append(min(max(place, 0.0), length))
    return sorted(set(moved))


def _on_grid(network: Network, wall: Wall, at: Point3, upright: bool) -> Point3:
    """Move a bracket along its pipe to the grid that is marked out: 5 mm, or a quarter inch."""
    step = 0.00635 if network.layout.site.imperial else 0.005
    if upright:
        return Point3(at.x, at.y, round(at.z / step) * step)
    s, off = wall.measure(at.plan)
    plan = wall.at(round(s / step) * step, off)
    return Point3(plan.x, plan.y, at.z)
