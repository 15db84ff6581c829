"""Betters a tree way by way: key paths exchanged, branchings taken out."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from drafter.layout.numbered_graph import COST_GRAIN, Graph, Piece, neighbours, pieces_of, reachable

MOST_TERMINALS = 80
"""A tree of more terminals is left as it was grown."""


def bettered(graph: Graph, pieces: set[Piece], terminals: Collection[int]) -> set[Piece]:
    """Return a tree that no exchange of one way, and no removal of one branching, makes cheaper.

    Source:
        key-path exchange and Steiner-vertex elimination, after Uchoa and Werneck (ACM J. Exp. Algorithmics 17,
        2012), here without their data structures.
    """
    if len(terminals) > MOST_TERMINALS:
        return pieces
    better: set[Piece] | None = pieces
    while better is not None:
        pieces = better
        better = next(_better(graph, pieces, set(terminals)), None)
    return pieces


def without_stubs(pieces: set[Piece], terminals: Collection[int]) -> set[Piece]:
    """Return a tree without the ends that are no terminals."""
    kept = set(pieces)
    while True:
        beside = neighbours(kept)
        stubs = {station for station, others in beside.items() if len(others) == 1 and station not in terminals}
        if not stubs:
            return kept
        kept = {piece for piece in kept if not stubs.intersection(piece)}


def _better(graph: Graph, pieces: set[Piece], terminals: set[int]) -> Iterator[set[Piece]]:
    cost = graph.cost(pieces)
    for removed in (*_key_paths(pieces, terminals), *_branchings(pieces, terminals)):
        joined = _rejoined(graph, pieces - removed, terminals, {s for piece in removed for s in piece})
        if joined is not None and graph.cost(joined) < cost - COST_GRAIN:
            yield joined


def _key_paths(pieces: set[Piece], terminals: set[int]) -> list[set[Piece]]:
    """The ways between terminals and branchings, each as its edges."""
    beside = neighbours(pieces)
    keys = terminals | {station for station, others in beside.items() if len(others) > 2}
    found = []
    for start in sorted(keys & set(beside)):
        for first in beside[start]:
            way = [start, first]
            while way[-1] not in keys:
                way.append(next(other for other in beside[way[-1]] if other != way[-2]))
            if way[0] < way[-1]:
                found.append(pieces_of(way))
    return found


def _branchings(pieces: set[Piece], terminals: set[int]) -> list[set[Piece]]:
    """All ways that meet at a branching which is no terminal, for each of them."""
    beside, ways = neighbours(pieces), _key_paths(pieces, terminals)
    at = [station for station, others in sorted(beside.items()) if len(others) > 2 and station not in terminals]
    return [{p for way in ways if any(station in piece for piece in way) for p in way} for station in at]


def _rejoined(graph: Graph, left: set[Piece], terminals: set[int], loose: set[int]) -> set[Piece] | None:
    """What is left of a tree, its parts joined again by the cheapest ways; None where that cannot be."""
    pieces = set(left)
    while True:
        beside = neighbours(pieces)
        parts: list[set[int]] = []
        for station in sorted(terminals | (loose & set(beside))):
            if not any(station in part for part in parts):
                parts.append(reachable(beside, station))
        if len(parts) == 1:
            return without_stubs(pieces, terminals)
        ends = {station for part in parts[1:] for station in part}
        way = graph.cheapest_way(parts[0], ends)
        if not way:
            return None
        pieces |= pieces_of(way)
