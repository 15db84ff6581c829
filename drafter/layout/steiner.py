"""Cheap trees that join given stations of a graph.

Takahashi and Matsuyama's path heuristic (Math. Japonica 24, 1980): grow a tree from one terminal,
always adding the terminal that is cheapest to reach from the tree so far. Started from every terminal
in turn, with the best result kept, it is exact where the graph is a single ring or a tree.
"""

from __future__ import annotations

import heapq
from collections.abc import Mapping, Sequence

Edges = Mapping[str, Mapping[str, float]]
"""Cost of each edge by its two ends, given both ways."""


def cheapest_tree(edges: Edges, terminals: Sequence[str]) -> set[frozenset[str]] | None:
    """Return the edges of a cheap tree that joins all terminals, or None where they do not hang together."""
    best: tuple[float, list[tuple[str, str]]] | None = None
    for root in terminals:
        grown = _grow(edges, terminals, root)
        if grown is None:
            return None
        pruned = _without_stubs(grown, set(terminals))
        cost = sum(edges[a][b] for a, b in pruned)
        if best is None or cost < best[0] - 1e-9:
            best = (cost, pruned)
    return {frozenset(edge) for edge in best[1]} if best else set()


def reachable(edges: Edges, start: str) -> set[str]:
    """Return every station that hangs together with ``start``."""
    seen, waiting = {start}, [start]
    while waiting:
        for other in edges.get(waiting.pop(), {}):
            if other not in seen:
                seen.add(other)
                waiting.append(other)
    return seen


def _grow(edges: Edges, terminals: Sequence[str], root: str) -> list[tuple[str, str]] | None:
    tree, joined = {root}, []
    missing = set(terminals) - tree
    while missing:
        cost = dict.fromkeys(tree, 0.0)
        before: dict[str, str] = {}
        heap = [(0.0, station) for station in sorted(tree)]
        end = ""
        while heap:
            so_far, station = heapq.heappop(heap)
            if so_far > cost[station]:
                continue
            if station in missing:
                end = station
                break
            for other, step in edges.get(station, {}).items():
                if so_far + step < cost.get(other, float("inf")) - 1e-12:
                    cost[other] = so_far + step
                    before[other] = station
                    heapq.heappush(heap, (cost[other], other))
        if not end:
            return None
        while end in before:
            joined.append((before[end], end))
            tree.add(end)
            end = before[end]
        missing -= tree
    return joined


def _without_stubs(tree: list[tuple[str, str]], terminals: set[str]) -> list[tuple[str, str]]:
    kept = list(tree)
    while True:
        count: dict[str, int] = {}
        for a, b in kept:
            count[a] = count.get(a, 0) + 1
            count[b] = count.get(b, 0) + 1
        stubs = {station for station, number in count.items() if number == 1 and station not in terminals}
        if not stubs:
            return kept
        kept = [(a, b) for a, b in kept if a not in stubs and b not in stubs]
