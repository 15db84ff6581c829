"""Cheap trees that join given stations of a graph, with a bound on how much cheaper any other could be."""

from __future__ import annotations

import heapq
from collections.abc import Sequence
from dataclasses import dataclass

from drafter.layout.dual_ascent import lower_bound
from drafter.layout.key_paths import bettered, without_stubs
from drafter.layout.numbered_graph import COST_GRAIN, Edges, Graph, Piece, numbered, pieces_of

PROVED = 5e-4
"""Share of the cost below which a gap is none."""

MOST_TRIED = 1000
"""Stations times terminals up to which other stations are tried where the bound is not met."""

MOST_ROOTS = 24
"""From so many terminals a tree is grown; of more, evenly picked ones."""


@dataclass(frozen=True)
class Tree:
    """A tree.

    Attributes:
        pieces: its edges, each by the keys of its two ends.
        bound: no tree costs less.
    """

    pieces: frozenset[frozenset[str]]
    cost: float
    bound: float

    @property
    def proof(self) -> str:
        """How sure it is, in words, that no tree costs less."""
        return "no way costs less" if self.gap < PROVED else f"no way costs more than {100.0 * self.gap:.1f} % less"

    @property
    def gap(self) -> float:
        """By how much it may cost more than the cheapest tree, as a share of that."""
        return max(0.0, self.cost / self.bound - 1.0) if self.bound > COST_GRAIN else 0.0


def cheapest_tree(edges: Edges, terminals: Sequence[str]) -> Tree | None:
    """Return a cheap tree that joins all terminals, or None where they do not hang together.

    Source:
        path heuristic of Takahashi and Matsuyama (Math. Japonica 24, 1980) from many terminals, the best bettered
        as in `key_paths` and by way of each other station; the bound as in `dual_ascent`.
    """
    graph = numbered(edges)
    number = {name: n for n, name in enumerate(graph.names)}
    if not set(terminals) <= set(number):
        return None if len(set(terminals)) > 1 else Tree(frozenset(), 0.0, 0.0)
    ends = sorted({number[name] for name in terminals})
    best: tuple[float, list[Piece]] | None = None
    for root in ends[:: max(1, -(-len(ends) // MOST_ROOTS))]:
        grown = _grown(graph, ends, root)
        if grown is None:
            return None
        cost = graph.cost(grown)
        if best is None or cost < best[0] - COST_GRAIN:
            best = cost, sorted(grown)
    assert best is not None
    pieces = bettered(graph, set(best[1]), ends)
    bound = lower_bound(graph, number[terminals[0]], ends)
    while graph.cost(pieces) > bound * (1.0 + PROVED):
        better = _by_way_of_another(graph, pieces, ends)
        if better is None:
            break
        pieces = better
    named = frozenset(frozenset((graph.names[a], graph.names[b])) for a, b in pieces)
    return Tree(named, graph.cost(pieces), bound)


def _by_way_of_another(graph: Graph, pieces: set[Piece], terminals: Sequence[int]) -> set[Piece] | None:
    """A cheaper tree that some station besides the terminals was made to join, or None."""
    if len(graph.names) * len(terminals) > MOST_TRIED:
        return None
    cost = graph.cost(pieces)
    for station in range(len(graph.names)):
        if station in terminals:
            continue
        for root in (station, terminals[0]):
            grown = _grown(graph, [*terminals, station], root)
            if grown is not None:
                other = bettered(graph, without_stubs(grown, terminals), terminals)
                if graph.cost(other) < cost - COST_GRAIN:
                    return other
    return None


def _grown(graph: Graph, terminals: Sequence[int], root: int) -> set[Piece] | None:
    """A tree from a root: always the terminal that is cheapest to reach from the tree so far is joined next."""
    cost, before = {root: 0.0}, dict[int, int]()
    tree, missing, pieces = {root}, set(terminals) - {root}, set[Piece]()
    heap = [(0.0, root)]
    while missing:
        if not heap:
            return None
        so_far, station = heapq.heappop(heap)
        if so_far > cost[station]:
            continue
        if station in missing:
            way = [station]
            while way[-1] not in tree:
                way.append(before[way[-1]])
            pieces |= pieces_of(way)
            for each in way[:-1]:
                tree.add(each)
                cost[each] = 0.0
                heapq.heappush(heap, (0.0, each))
            missing.discard(station)
            continue
        for other, step in graph.beside[station]:
            if so_far + step < cost.get(other, float("inf")) - COST_GRAIN:
                cost[other], before[other] = so_far + step, station
                heapq.heappush(heap, (cost[other], other))
    return without_stubs(pieces, terminals)
