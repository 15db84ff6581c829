"""The cheapest tree by another formulation than the program's, solved by another library."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import block_diag, csr_array, hstack, identity, vstack


def least_cost(edges: Mapping[str, Mapping[str, float]], terminals: Sequence[str]) -> float:
    """Return what the cheapest tree costs: one unit of flow to each terminal over paid arcs (HiGHS through scipy)."""
    root, ends = terminals[0], terminals[1:]
    arcs, names = [(a, b) for a, others in edges.items() for b in others], sorted(edges)
    count, number = len(arcs), {name: n for n, name in enumerate(names)}
    places = np.arange(count)
    into = csr_array((np.ones(count), ([number[b] for _, b in arcs], places)), shape=(len(names), count))
    out = csr_array((np.ones(count), ([number[a] for a, _ in arcs], places)), shape=(len(names), count))
    balance = hstack([csr_array((len(names) * len(ends), count)), block_diag([into - out] * len(ends))])
    wanted = np.zeros((len(ends), len(names)))
    for row, end in zip(wanted, ends, strict=True):
        row[number[end]], row[number[root]] = 1.0, -1.0
    paid = hstack([vstack([identity(count)] * len(ends)), -identity(count * len(ends))])
    cost = np.concatenate([[edges[a][b] for a, b in arcs], np.zeros(count * len(ends))])
    found = milp(
        cost,
        integrality=np.concatenate([np.ones(count), np.zeros(count * len(ends))]),
        bounds=Bounds(0.0, 1.0),
        constraints=[LinearConstraint(balance, wanted.ravel(), wanted.ravel()), LinearConstraint(paid, 0.0)],
    )
    return float(found.fun)
