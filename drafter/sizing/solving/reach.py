"""Which nodes hang together, and which of them air can get to from a supply; near linear in the size."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Integers = NDArray[np.intp]
Booleans = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Links:
    """What joins nodes, as arrays: the ends, whether a valve closes it, whether air passes only to its end."""

    start: Integers
    end: Integers
    closed: Booleans
    one_way: Booleans


def component_labels(start: Integers, end: Integers, node_count: int) -> Integers:
    """For each node the lowest number of a node that hangs together with it.

    Source:
        Shiloach and Vishkin, J. Algorithms 3, 1982, 57-67, from memory: every round each group joins its
        lowest neighbour and shortens the way to it, which at least halves the groups still to be joined.
    """
    label = np.arange(node_count)
    while True:
        one, other = label[start], label[end]
        apart = one != other
        if not apart.any():
            return label
        start, end, one, other = start[apart], end[apart], one[apart], other[apart]
        np.minimum.at(label, np.maximum(one, other), np.minimum(one, other))
        while (label[label] != label).any():
            label = label[label]


def reached_nodes(links: Links, node_count: int, supply_nodes: Integers) -> Booleans:
    """Mark the nodes that some way of open links joins to a supply, one-way links followed to their end.

    Source:
        none; reachability in a graph.
    """
    both = ~(links.closed | links.one_way)
    label = component_labels(links.start[both], links.end[both], node_count)
    fed = np.zeros(node_count, bool)
    fed[label[supply_nodes]] = True
    ahead = links.one_way & ~links.closed
    before, behind = label[links.start[ahead]], label[links.end[ahead]]
    while (fed[before] & ~fed[behind]).any():
        fed[behind[fed[before]]] = True
    return fed[label]


def islands(links: Links, reached: Booleans) -> tuple[tuple[int, ...], ...]:
    """The nodes without a supply, those that hang together in one tuple.

    Source:
        none; components of a graph.
    """
    if reached.all():
        return ()
    inside = ~links.closed & ~reached[links.start] & ~reached[links.end]
    label = component_labels(links.start[inside], links.end[inside], reached.size)
    groups: dict[int, list[int]] = {}
    for node in np.flatnonzero(~reached).tolist():
        groups.setdefault(int(label[node]), []).append(node)
    return tuple(tuple(group) for group in groups.values())
