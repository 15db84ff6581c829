"""A cost that no tree goes below, whatever way it takes."""

from __future__ import annotations

import heapq
from collections.abc import Sequence

from drafter.layout.numbered_graph import COST_GRAIN, Graph


def lower_bound(graph: Graph, root: int, terminals: Sequence[int]) -> float:
    """Return a cost that every tree which joins the terminals reaches.

    Every such tree, seen from the root, enters each set of stations that holds a terminal and not the root. A set
    that no free edge enters is charged with its cheapest entry, which then counts as paid for; the charges add up.

    Args:
        root: one of the terminals.

    Source:
        dual ascent, Wong (Mathematical Programming 28, 1984).
    """
    left = [dict(others) for others in graph.beside]
    charged, waiting = 0.0, [(1, terminal) for terminal in terminals if terminal != root]
    heapq.heapify(waiting)
    while waiting:
        known, terminal = heapq.heappop(waiting)
        cut = _reaching(left, graph, terminal, root)
        if root in cut:
            continue
        heapq.heappush(waiting, (len(cut), terminal))
        if len(cut) > known and waiting[0][1] != terminal:
            continue
        entries = [(outer, inner) for inner in cut for outer, _ in graph.beside[inner] if outer not in cut]
        if not entries:
            return float("inf")
        charge = min(left[outer][inner] for outer, inner in entries)
        charged += charge
        for outer, inner in entries:
            left[outer][inner] -= charge
    return charged


def _reaching(left: list[dict[int, float]], graph: Graph, terminal: int, root: int) -> set[int]:
    """The stations from which free edges lead to a terminal; not looked for any further once the root is one."""
    seen, waiting = {terminal}, [terminal]
    while waiting:
        here = waiting.pop()
        for other, _ in graph.beside[here]:
            if other not in seen and left[other][here] <= COST_GRAIN:
                seen.add(other)
                if other == root:
                    return seen
                waiting.append(other)
    return seen
