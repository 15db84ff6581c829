"""A graph with numbers for its stations, and the cheapest way from one set of them to another."""

from __future__ import annotations

import heapq
from collections.abc import Collection, Hashable, Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeVar

Edges = Mapping[str, Mapping[str, float]]
"""Cost of each edge by its two ends, given both ways."""

Piece = tuple[int, int]
"""An edge by its two ends, the lower number first."""

Station = TypeVar("Station", bound=Hashable)

COST_GRAIN = 1e-9
"""Costs nearer than this are one."""


@dataclass(frozen=True)
class Graph:
    """Stations by number.

    Attributes:
        names: of the stations.
        beside: of each station its neighbours, with the cost of the edge to each.
    """

    names: tuple[str, ...]
    beside: tuple[tuple[tuple[int, float], ...], ...]

    def cost(self, pieces: Collection[Piece]) -> float:
        """Return what some edges cost."""
        return sum(next(cost for other, cost in self.beside[a] if other == b) for a, b in sorted(pieces))

    def cheapest_way(self, sources: Collection[int], ends: Collection[int]) -> list[int]:
        """Return the stations of the cheapest way from any source to any end; empty where there is none.

        Source:
            Dijkstra (Numerische Mathematik 1, 1959).
        """
        cost = dict.fromkeys(sources, 0.0)
        before: dict[int, int] = {}
        heap = [(0.0, station) for station in sorted(sources)]
        while heap:
            so_far, station = heapq.heappop(heap)
            if so_far > cost[station]:
                continue
            if station in ends:
                way = [station]
                while way[-1] in before:
                    way.append(before[way[-1]])
                return way[::-1]
            for other, step in self.beside[station]:
                if so_far + step < cost.get(other, float("inf")) - COST_GRAIN:
                    cost[other], before[other] = so_far + step, station
                    heapq.heappush(heap, (cost[other], other))
        return []


def numbered(edges: Edges) -> Graph:
    """Return a graph with its stations numbered in the order of their names."""
    names = tuple(sorted({*edges, *(other for others in edges.values() for other in others)}))
    number = {name: n for n, name in enumerate(names)}
    return Graph(names, tuple(tuple(sorted((number[o], c) for o, c in edges.get(name, {}).items())) for name in names))


def pieces_of(way: list[int]) -> set[Piece]:
    """Return the edges of a way."""
    return {(min(a, b), max(a, b)) for a, b in pairwise(way)}


def neighbours(pieces: Collection[Piece]) -> dict[int, list[int]]:
    """Return of each station that some edges touch its neighbours along them, in order."""
    found: dict[int, list[int]] = {}
    for a, b in sorted(pieces):
        found.setdefault(a, []).append(b)
        found.setdefault(b, []).append(a)
    return found


def reachable(beside: Mapping[Station, Iterable[Station]], start: Station) -> set[Station]:
    """Return every station that hangs together with ``start``."""
    seen, waiting = {start}, [start]
    while waiting:
        for other in beside.get(waiting.pop(), ()):
            if other not in seen:
                seen.add(other)
                waiting.append(other)
    return seen
