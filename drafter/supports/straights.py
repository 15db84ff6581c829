"""Straight lines of the main from bend to bend, through walls too: what grows as one, from one fixed point."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from drafter.geometry import Point
from drafter.layout.graph import NodeKind, Run, RunKind
from drafter.sizing.network import Network
from drafter.standards.expansion import free_leg_m, growth_m
from drafter.supports.design import Bracket, Design
from drafter.supports.lines import PipeLine, pipe_lines

IN_LINE = 0.999
"""Two level pipes whose directions have at least this cosine are one line."""


@dataclass(frozen=True)
class Straight:
    """Runs of the main in one line in plan.

    Attributes:
        runs: their ids.
        ends: the nodes at its two ends.
        origin, way: where the first end is, and the direction to the other, in plan [m].
    """

    runs: tuple[str, ...]
    ends: tuple[str, str]
    origin: Point
    way: Point
    length_m: float

    def along_m(self, at: Point) -> float:
        """Distance from the first end of a point beside it [m]."""
        return at.minus(self.origin).dot(self.way)


@dataclass(frozen=True, slots=True)
class End:
    """What an end of a straight line does.

    Attributes:
        moves_m: from the coldest to the warmest air.
        leg_m: pipe across the bend as far as its next bend or fixed point; None where the end is free.
        needed_m: that the movement needs; None where no constant of the material is known.
    """

    node: str
    moves_m: float
    leg_m: float | None
    needed_m: float | None


@dataclass(frozen=True, slots=True)
class Movement:
    """How a straight line of the main moves; ``take_off_m`` is the most that a take-off on it does."""

    straight: Straight
    fixed: Bracket | None
    coldest_k: float
    warmest_k: float
    growth_m: float
    take_off_m: float
    ends: tuple[End, End]


def straights(network: Network) -> tuple[Straight, ...]:
    """Return the straight lines of the main."""
    layout = network.layout
    groups: list[list[Run]] = [list(line.runs) for line in pipe_lines(network) if line.is_main and not line.upright]
    for sleeve in (run for run in layout.runs if run.kind is RunKind.SLEEVE):
        met = [group for group in groups if any(_goes_on(network, sleeve, run) for run in group)]
        if len(met) > 1:
            groups = [group for group in groups if group not in met] + [[sleeve, *(r for group in met for r in group)]]
    return tuple(_straight(network, group) for group in groups)


def _way(network: Network, run: Run) -> Point:
    start, end = (network.layout.nodes[id].at.plan for id in (run.start, run.end))
    return end.minus(start).unit


def _goes_on(network: Network, sleeve: Run, run: Run) -> bool:
    touches = bool({sleeve.start, sleeve.end} & {run.start, run.end})
    return touches and abs(_way(network, sleeve).dot(_way(network, run))) > IN_LINE


def _straight(network: Network, runs: list[Run]) -> Straight:
    nodes, way = network.layout.nodes, _way(network, runs[0])
    ids = sorted({id for run in runs for id in (run.start, run.end)}, key=lambda id: nodes[id].at.plan.dot(way))
    first, last = nodes[ids[0]].at.plan, nodes[ids[-1]].at.plan
    return Straight(tuple(run.id for run in runs), (ids[0], ids[-1]), first, way, last.minus(first).dot(way))


def middle_bracket(straight: Straight, brackets: Iterable[Bracket]) -> Bracket | None:
    """Return the bracket nearest the middle of a straight line, so that it grows alike both ways."""
    held = [bracket for bracket in brackets if bracket.run in straight.runs]
    return min(held, key=lambda b: abs(straight.along_m(b.at.plan) - straight.length_m / 2), default=None)


def movements(design: Design) -> tuple[Movement, ...]:
    """Return how each straight line of the main moves between the coldest and the warmest air of its rooms."""
    lines = pipe_lines(design.network)
    return tuple(_movement(design, straight, lines) for straight in straights(design.network))


def _movement(design: Design, straight: Straight, lines: tuple[PipeLine, ...]) -> Movement:
    network, layout = design.network, design.network.layout
    rooms = [layout.site.rooms[layout.run_by_id[run].room] for run in straight.runs]
    coldest_k, warmest_k = min(room.coldest_k for room in rooms), max(room.warmest_k for room in rooms)
    fixed = next((b for b in design.brackets if b.fixed and b.run in straight.runs), None)
    from_m = straight.along_m(fixed.at.plan) if fixed else straight.length_m / 2

    def moved_m(node: str) -> float:
        reach_m = abs(straight.along_m(layout.nodes[node].at.plan) - from_m)
        return growth_m(network.material, reach_m, coldest_k, warmest_k)

    nodes = {id for run in straight.runs for id in (layout.run_by_id[run].start, layout.run_by_id[run].end)}
    take_offs = (moved_m(id) for id in nodes if layout.nodes[id].kind is NodeKind.TAKE_OFF)
    first, last = (_end(design, straight, node, moved_m(node), lines) for node in straight.ends)
    whole_m = growth_m(network.material, straight.length_m, coldest_k, warmest_k)
    return Movement(straight, fixed, coldest_k, warmest_k, whole_m, max(take_offs, default=0.0), (first, last))


def _end(design: Design, straight: Straight, node: str, moves_m: float, lines: tuple[PipeLine, ...]) -> End:
    network = design.network
    across = [run for run in network.layout.runs_at[node] if run.id not in straight.runs]
    legs = [_leg_m(design, run, node, lines) for run in across]
    sizes = [network.sizes[run.id].outside_m for run in across if run.id in network.sizes]
    if not legs or not sizes:
        return End(node, moves_m, None, None)
    return End(node, moves_m, max(legs), free_leg_m(network.material, max(sizes), moves_m))


def _leg_m(design: Design, run: Run, node: str, lines: tuple[PipeLine, ...]) -> float:
    """Length of straight pipe from a node, to its fixed point or its other end [m]."""
    at = design.network.layout.nodes[node].at
    line = next((line for line in lines if run in line.runs), None)
    if line is None:
        return design.network.layout.length_m(run)
    runs = {run.id for run in line.runs}
    fixed = [bracket.at.minus(at).length for bracket in design.brackets if bracket.fixed and bracket.run in runs]
    return min(fixed, default=max(end.minus(at).length for end in line.ends))
