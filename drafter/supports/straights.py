"""Straight lines of the main from bend to bend, through walls too: what grows as one, from one fixed point."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property, partial

from drafter.geometry import Point
from drafter.layout.graph import IN_LINE, Layout, NodeKind, Run, RunKind
from drafter.sizing.network import Network
from drafter.standards.expansion import free_leg_m, growth_m
from drafter.supports.design import Bracket, Design
from drafter.supports.lines import PipeLine, pipe_lines


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
    """What an end of a straight line does, or a tee between.

    Attributes:
        moves_m: from the coldest to the warmest air.
        takes_m: what the leg takes up: the same, but at a step round something the movement of both its sides.
        leg_m: pipe across the bend or tee as far as its next bend or fixed point; None where the end is free.
            Brackets on it that slide are no end of it: those within ``needed_m`` are made loose (`free_legs`).
        needed_m: that the movement needs; None where no constant of the material is known.
    """

    node: str
    moves_m: float
    takes_m: float
    leg_m: float | None
    needed_m: float | None


@dataclass(frozen=True, slots=True)
class Movement:
    """How a straight line of the main moves.

    Attributes:
        take_off_m: the most that a take-off on it does.
        ends: its two ends.
        tees: what the places between do where other pipe meets it, as a branch, a riser, an upright or a drip leg.
    """

    straight: Straight
    fixed: Bracket | None
    coldest_k: float
    warmest_k: float
    growth_m: float
    take_off_m: float
    ends: tuple[End, End]
    tees: tuple[End, ...] = ()

    @property
    def pulls(self) -> tuple[End, ...]:
        """All places where it moves pipe across it, but for take-offs, whose swan neck gives way."""
        return *self.ends, *self.tees


def straights(network: Network, lines: tuple[PipeLine, ...]) -> tuple[Straight, ...]:
    """Return the straight lines of the main; ``lines`` are all pipe lines of the network."""
    layout = network.layout
    groups: list[list[Run]] = [list(line.runs) for line in lines if line.is_main and not line.upright]
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


def is_stepped(network: Network, straight: Straight) -> bool:
    """Whether a straight line lies between two legs that step out from the wall: it gives way with them."""
    layout = network.layout
    return all(any(map(layout.goes_across, layout.runs_at[node])) for node in straight.ends)


def fixed_points(network: Network, lines: tuple[PipeLine, ...], brackets: list[Bracket]) -> list[Bracket]:
    """Return brackets with one of each straight line fixed, all others sliding.

    It is the one nearest the middle, so that the line grows alike both ways; where an end has too little pipe across
    to give way, the one that leaves both ends most nearly what they need.
    """
    held = [straight for straight in straights(network, lines) if not is_stepped(network, straight)]
    middle = {_best_of(straight, brackets, lambda _: 0.0) for straight in held}
    design = Design(network, tuple(replace(bracket, fixed=bracket in middle) for bracket in brackets))
    giving = Giving.of(design, lines)
    fixed = {_best_of(straight, brackets, partial(giving.lack, straight)) for straight in held}
    return [replace(bracket, fixed=bracket in fixed) for bracket in brackets]


def _best_of(straight: Straight, brackets: Iterable[Bracket], lack: Callable[[Point], float]) -> Bracket | None:
    """The bracket of a line that is best fixed, by what its ends lack if it is fixed there."""

    def fault(bracket: Bracket) -> tuple[float, float]:
        off_middle_m = abs(straight.along_m(bracket.at.plan) - straight.length_m / 2)
        return max(1.0, lack(bracket.at.plan)), off_middle_m

    return min((bracket for bracket in brackets if bracket.run in straight.runs), key=fault, default=None)


def movements(design: Design) -> tuple[Movement, ...]:
    """Return how each straight line of the main moves between the coldest and the warmest air of its rooms."""
    giving = Giving.of(design, pipe_lines(design.network))
    return tuple(map(giving.movement, giving.straights))


@dataclass(frozen=True)
class Giving:
    """What gives way to the straight lines of a design.

    Attributes:
        loops: by the node at either end of a step round something, the pipe of the whole step [m], and the node at its
            other end, whose movement it takes up too.
    """

    design: Design
    lines: tuple[PipeLine, ...]
    straights: tuple[Straight, ...]
    loops: Mapping[str, tuple[float, str]]

    @classmethod
    def of(cls, design: Design, lines: tuple[PipeLine, ...]) -> Giving:
        found = straights(design.network, lines)
        loops: dict[str, tuple[float, str]] = {}
        for straight in found:
            if is_stepped(design.network, straight):
                loops |= _loop(design.network.layout, straight)
        return cls(design, lines, found, loops)

    @cached_property
    def _straight_at(self) -> dict[str, Straight]:
        return {node: straight for straight in self.straights for node in straight.ends}

    @cached_property
    def _line_of(self) -> dict[str, PipeLine]:
        return {run.id: line for line in self.lines for run in line.runs}

    @cached_property
    def _brackets_on(self) -> dict[str, list[Bracket]]:
        found: dict[str, list[Bracket]] = {}
        for bracket in self.design.brackets:
            found.setdefault(bracket.run, []).append(bracket)
        return found

    def _fixed(self, straight: Straight) -> Bracket | None:
        return next((b for b in self.design.brackets if b.fixed and b.run in straight.runs), None)

    def _from(self, straight: Straight) -> Point:
        """Where a line grows from: its fixed point, or its middle."""
        fixed = self._fixed(straight)
        return fixed.at.plan if fixed else straight.origin.plus(straight.way, straight.length_m / 2)

    def _moved_m(self, straight: Straight, node: str, start: Point) -> float:
        """How far a node moves, its line growing from a place."""
        network = self.design.network
        reach_m = abs(straight.along_m(network.layout.nodes[node].at.plan) - straight.along_m(start))
        return growth_m(network.material, reach_m, *_extremes(network, straight))

    def lack(self, straight: Straight, start: Point) -> float:
        """The worst of what the ends of a line need over what they have, if it grows from a place; 0 if nothing."""
        ends = [self._end(straight, node, self._moved_m(straight, node, start)) for node in straight.ends]
        return max((end.needed_m / end.leg_m for end in ends if end.needed_m is not None and end.leg_m), default=0.0)

    def movement(self, straight: Straight) -> Movement:
        network, layout, start = self.design.network, self.design.network.layout, self._from(straight)
        nodes = {id for run in straight.runs for id in (layout.run_by_id[run].start, layout.run_by_id[run].end)}
        take_offs = [id for id in nodes if layout.nodes[id].kind is NodeKind.TAKE_OFF]
        coldest_k, warmest_k = _extremes(network, straight)
        first, last = (self._end(straight, node, self._moved_m(straight, node, start)) for node in straight.ends)
        met = sorted(id for id in nodes - {*straight.ends, *take_offs} if self._is_met(straight, id))
        tees = tuple(self._end(straight, id, self._moved_m(straight, id, start)) for id in met)
        whole_m = growth_m(network.material, straight.length_m, coldest_k, warmest_k)
        most_m = max((self._moved_m(straight, id, start) for id in take_offs), default=0.0)
        return Movement(straight, self._fixed(straight), coldest_k, warmest_k, whole_m, most_m, (first, last), tees)

    def _end(self, straight: Straight, node: str, moves_m: float) -> End:
        """What an end does.

        Source:
            of an expansion loop the whole developed length counts, for the movement from both its sides, Copper Tube
            Handbook, from memory.
        """
        network = self.design.network
        across = self._across(straight, node)
        sizes = [network.sizes[run.id].outside_m for run in across if run.id in network.sizes]
        if not across or not sizes:
            return End(node, moves_m, moves_m, None, None)
        leg_m, with_m = max(self._leg_m(run, node) for run in across), 0.0
        if node in self.loops:
            leg_m, other = self.loops[node]
            beyond = self._straight_at.get(other)
            with_m = self._moved_m(beyond, other, self._from(beyond)) if beyond else 0.0
        takes_m = moves_m + with_m
        return End(node, moves_m, takes_m, leg_m, free_leg_m(network.material, max(sizes), takes_m))

    def _leg_m(self, run: Run, node: str) -> float:
        """Length of straight pipe from a node, to its fixed point or its other end [m]."""
        layout, line = self.design.network.layout, self._line_of.get(run.id)
        if line is None:
            return layout.length_m(run)
        at = layout.nodes[node].at
        held = (bracket for each in line.runs for bracket in self._brackets_on.get(each.id, ()) if bracket.fixed)
        return min((b.at.minus(at).length for b in held), default=max(end.minus(at).length for end in line.ends))

    def _is_met(self, straight: Straight, node: str) -> bool:
        """Whether pipe on a wall meets the line at a node; what goes through a wall there has play in its sleeve."""
        return any(run.kind is not RunKind.SLEEVE for run in self._across(straight, node))

    def _across(self, straight: Straight, node: str) -> list[Run]:
        return [run for run in self.design.network.layout.runs_at[node] if run.id not in straight.runs]

    def held_across(self, straight: Straight, node: str) -> Iterator[tuple[float, Bracket]]:
        """Yield each bracket on the pipe across an end or at a tee, how far along the pipe it stands from there [m]."""
        layout = self.design.network.layout
        for run in self._across(straight, node):
            line = self._line_of[run.id].runs if run.id in self._line_of else ()
            ids, corner, before_m = {each.id for each in line}, node, 0.0
            if node in self.loops and layout.goes_across(run):
                corner, before_m = run.start if run.end == node else run.end, layout.length_m(run)
                ids = set(self._straight_at[corner].runs)
            at = layout.nodes[corner].at
            yield from ((before_m + b.at.minus(at).length, b) for b in self.design.brackets if b.run in ids)


def _loop(layout: Layout, straight: Straight) -> dict[str, tuple[float, str]]:
    """The two ends of a step that a straight line is the outer part of."""
    legs = [next(run for run in layout.runs_at[node] if layout.goes_across(run)) for node in straight.ends]
    one, other = (leg.start if leg.end == node else leg.end for leg, node in zip(legs, straight.ends, strict=True))
    length_m = straight.length_m + sum(map(layout.length_m, legs))
    return {one: (length_m, other), other: (length_m, one)}


def _extremes(network: Network, straight: Straight) -> tuple[float, float]:
    """The coldest and the warmest air along a line [K]."""
    layout = network.layout
    rooms = [layout.site.rooms[layout.run_by_id[run].room] for run in straight.runs]
    return min(room.coldest_k for room in rooms), max(room.warmest_k for room in rooms)
