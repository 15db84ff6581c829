"""How much pipe hangs free between neighbouring holds, measured along it: round corners, through tees and walls."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from heapq import heappop, heappush
from itertools import pairwise

from drafter.layout.graph import Node, NodeKind, Run, RunKind
from drafter.sizing.network import Network
from drafter.supports.design import Bracket
from drafter.supports.lines import BEYOND_M, NEAR_FITTING_M, SHORTEST_M, half_m, least_span_m

ON_MAIN = (RunKind.MAIN, RunKind.RISE, RunKind.SLEEVE)
FITTINGS = (NodeKind.BEND, NodeKind.TEE, NodeKind.TAKE_OFF, NodeKind.SPARE_TEE)

SLACK_M = 0.005


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of a run that nothing holds: from where to where from the run's start [m]."""

    run: str
    low_m: float
    high_m: float


@dataclass(frozen=True, slots=True)
class FreePipe:
    """What hangs free between two holds, or a hold and an end.

    Attributes:
        pieces: from one hold to the other.
        length_m: along the pipe; a unit or outlet on its console holds from its face on.
        limit_m: the least span of the pipes it is made of.
    """

    pieces: tuple[Piece, ...]
    length_m: float
    limit_m: float

    @property
    def is_too_long(self) -> bool:
        return self.length_m > self.limit_m + SLACK_M

    @property
    def runs(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(piece.run for piece in self.pieces))


@dataclass(frozen=True, slots=True)
class _Way:
    length_m: float
    pieces: tuple[Piece, ...]


class Holds:
    """Where the pipe of a network is held; a bracket that lets it slide or move sideways carries its weight too."""

    def __init__(
        self, network: Network, brackets: Iterable[Bracket], carried: Iterable[str], roomless: Iterable[str] = ()
    ) -> None:
        """Take the brackets, the nodes that stand on consoles, and the runs that no bracket finds room on.

        Of those, short ones and the legs of steps out from the wall count with the fitting at their end.
        """
        self.network, self.layout = network, network.layout
        self._carried = {*carried, *(n.id for n in self.layout.nodes.values() if n.kind is NodeKind.TANK)}
        self._roomless = {run for run in roomless if self._counts_with_its_fitting(self.layout.run_by_id[run])}
        self._on: defaultdict[str, list[float]] = defaultdict(list)
        for bracket in brackets:
            self.add(bracket)

    def _counts_with_its_fitting(self, run: Run) -> bool:
        main = run.kind in (RunKind.MAIN, RunKind.RISE)
        return main and (self.layout.goes_across(run) or self.layout.length_m(run) <= SHORTEST_M)

    def add(self, bracket: Bracket) -> None:
        start = self.layout.nodes[self.layout.run_by_id[bracket.run].start].at
        self._on[bracket.run].append(bracket.at.minus(start).length)

    def unheld(self, run: Run) -> tuple[Piece, ...]:
        """The pieces of a run between its ends and what holds it."""
        stations = [0.0, *sorted(self._on.get(run.id, ())), self.layout.length_m(run)]
        return tuple(Piece(run.id, low, high) for low, high in pairwise(stations))

    def free_pipes(self) -> Iterator[FreePipe]:
        """Yield what hangs free at the ends of each run of pipe; not what lies between two brackets of one run."""
        for run in self.layout.runs:
            if run.kind is RunKind.FLEXIBLE:
                continue
            pieces = self.unheld(run)
            if len(pieces) == 1:
                yield self._joined(self._beyond(run, run.start), pieces[0], self._beyond(run, run.end))
                continue
            yield self._joined(self._beyond(run, run.start), pieces[0], None)
            yield self._joined(None, pieces[-1], self._beyond(run, run.end))

    def is_held(self, node: Node) -> bool:
        """Whether something holds the pipe near enough to a fitting, on one side at least."""
        return any(self._is_near(run, node) for run in self.layout.runs_at[node.id])

    def near_m(self, run: Run, node: str) -> float:
        """How far along a run from the middle of a fitting the next hold may be [m]."""
        framed = self.layout.site.rooms[run.room].studs_of(run.wall) is not None
        return NEAR_FITTING_M + half_m(self.network, node, run) + (BEYOND_M if framed else 0.0) + SLACK_M

    def to_hold_m(self, run: Run, node: Node) -> float:
        """Along a run from a node to the next hold, on it or beyond it [m]."""
        return sum((piece.high_m - piece.low_m for piece in self._to_hold(run, node)), 0.0) or math.inf

    def _is_near(self, run: Run, node: Node) -> bool:
        """Whether the next hold along a run is near a fitting, or near the end of pieces that count with it."""
        here, pieces = node.id, self._to_hold(run, node)
        for number, piece in enumerate(pieces):
            on = self.layout.run_by_id[piece.run]
            if piece.run not in self._roomless:
                return sum(each.high_m - each.low_m for each in pieces[number:]) <= self.near_m(on, here)
            here = on.end if on.start == here else on.start
        return bool(pieces)

    def _to_hold(self, run: Run, node: Node) -> tuple[Piece, ...]:
        """The pieces along a run from a node to the next hold; none where there is none."""
        if run.kind is RunKind.FLEXIBLE:
            return ()
        pieces = self.unheld(run)
        first = pieces[0] if run.start == node.id else pieces[-1]
        if len(pieces) > 1:
            return (first,)
        way = self._beyond(run, run.end if run.start == node.id else run.start)
        return () if way is None else (first, *way.pieces)

    def _joined(self, before: _Way | None, piece: Piece, after: _Way | None) -> FreePipe:
        ways = [way for way in (before, after) if way is not None]
        pieces = (*(before.pieces[::-1] if before else ()), piece, *(after.pieces if after else ()))
        limit_m = least_span_m(self.network, (self.layout.run_by_id[each.run] for each in pieces))
        return FreePipe(pieces, piece.high_m - piece.low_m + sum(way.length_m for way in ways), limit_m)

    def _beyond(self, run: Run, node: str) -> _Way | None:
        """The shortest way from an end of a run to the next hold beyond it; None where there is none."""
        if node in self._carried:
            return _Way(-half_m(self.network, node, run), ())
        waiting: list[tuple[float, str, tuple[Piece, ...]]] = [(0.0, node, ())]
        seen, best = {run.id}, _Way(math.inf, ())
        while waiting and waiting[0][0] < best.length_m:
            so_far_m, here, pieces = heappop(waiting)
            for other in self.layout.runs_at[here]:
                if other.id in seen or other.kind is RunKind.FLEXIBLE:
                    continue
                seen.add(other.id)
                free = self.unheld(other)
                piece = free[0] if other.start == here else free[-1]
                total_m, beyond = (
                    so_far_m + piece.high_m - piece.low_m,
                    other.end if other.start == here else other.start,
                )
                if len(free) == 1 and beyond in self._carried:
                    total_m -= half_m(self.network, beyond, other)
                elif len(free) == 1:
                    heappush(waiting, (total_m, beyond, (*pieces, piece)))
                    continue
                if total_m < best.length_m:
                    best = _Way(total_m, (*pieces, piece))
        return best if best.length_m < math.inf else None


def swan_necks(network: Network, holds: Holds) -> tuple[FreePipe, ...]:
    """Return what hangs free at the necks of drops, between main and wall, where no bracket gets at it."""
    return tuple(free for free in holds.free_pipes() if has_swan_neck(network, free))


def has_swan_neck(network: Network, free: FreePipe) -> bool:
    """Whether what hangs free is at the neck of a drop."""
    return any(network.layout.run_by_id[id].kind is RunKind.SWAN_NECK for id in free.runs)


def fittings_of_main(network: Network) -> Iterator[Node]:
    """Yield the bends and tees of the main, in the order of flow."""
    for node in network.layout.nodes.values():
        if node.kind in FITTINGS and any(run.kind in ON_MAIN for run in network.layout.runs_at[node.id]):
            yield node
