"""The linear system of a Newton step over the nodes: its pattern made once, then filled and solved again and again.

The flows are eliminated, so that only nodes of unknown pressure remain. Every element adds to four entries; in
each column what it adds sums to zero, hence no pivoting is needed.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from drafter.sizing.solving.equations import Equations

if TYPE_CHECKING:
    from scipy.sparse.linalg import SuperLU

Floats = NDArray[np.float64]
Integers = NDArray[np.intp]

SPARSE_ABOVE = 80
"""Unknown pressures of one network above which sparse matrices pay, from measurements of both."""


class NodeSystem:
    """The system of one network, dense or sparse by its size."""

    def __init__(self, equations: Equations) -> None:
        self._free = np.flatnonzero(~equations.known)
        self._position = np.full(equations.node_count, -1)
        self._position[self._free] = np.arange(self._free.size)
        self._start, self._end = self._position[equations.start], self._position[equations.end]
        self._node_count = equations.node_count
        block = self._free.size // equations.copies
        self._solver: _Dense | _Sparse = (
            _Dense(self._start, self._end, block, equations.copies)
            if block <= SPARSE_ABOVE
            else _Sparse(self._start, self._end, self._free.size)
        )

    def fill(self, start_weight: Floats, end_weight: Floats) -> None:
        """Put in how flows answer to drops.

        Args:
            start_weight, end_weight: flow by drop at the start and end of each element [kg/(s Pa2)].

        Raises:
            numpy.linalg.LinAlgError: the system has no single solution.
        """
        if self._free.size:
            self._solver.fill(start_weight, end_weight)

    def step(self, short: Floats) -> Floats:
        """Further drop at every node that makes up what its inflow is short of [Pa2].

        Args:
            short: over the nodes [kg/s].

        Raises:
            numpy.linalg.LinAlgError: the system has no single solution.
        """
        drop = np.zeros(self._node_count)
        if self._free.size:
            drop[self._free] = self._solver.solve(short[self._free])
        return drop

    def drop_by_draw(self, nodes: Integers) -> Floats:
        """Further drop at the nodes named by a further draw at every node [Pa2 s/kg], one row a node named."""
        by_draw = np.zeros((nodes.size, self._node_count))
        unknown = np.flatnonzero(self._position[nodes] >= 0)
        if unknown.size:
            chosen = np.zeros((self._free.size, unknown.size))
            chosen[self._position[nodes[unknown]], np.arange(unknown.size)] = 1.0
            by_draw[unknown[:, None], self._free] = self._solver.solve_transposed(chosen).T
        return by_draw


class _Dense:
    """Dense matrices, one a copy of the network."""

    def __init__(self, start: Integers, end: Integers, block: int, copies: int) -> None:
        self._shape = (copies, block, block)
        rows = np.concatenate([end, start, end, start])
        columns = np.concatenate([end, start, start, end])
        self._kept = np.flatnonzero((rows >= 0) & (columns >= 0))
        self._slots = rows[self._kept] * block + columns[self._kept] % max(block, 1)
        self._matrix = np.empty(self._shape)

    def fill(self, start_weight: Floats, end_weight: Floats) -> None:
        values = np.concatenate([end_weight, start_weight, -start_weight, -end_weight])[self._kept]
        copies, block, _ = self._shape
        filled = np.bincount(self._slots, values, copies * block * block)
        self._matrix = np.asarray(filled, float).reshape(self._shape)

    def solve(self, right: Floats) -> Floats:
        copies, block, _ = self._shape
        return np.asarray(np.linalg.solve(self._matrix, right.reshape(copies, block, 1)).ravel(), float)

    def solve_transposed(self, right: Floats) -> Floats:
        return np.asarray(np.linalg.solve(self._matrix[0].T, right), float)


class _Sparse:
    """A sparse matrix; the order of elimination found with the first one serves for all that follow."""

    def __init__(self, start: Integers, end: Integers, size: int) -> None:
        self._ends, self._size = (start, end), size
        self._order = np.arange(size)
        self._filled = 0
        self._factors: SuperLU
        self._lay_out(start, end)

    def _lay_out(self, start: Integers, end: Integers) -> None:
        """Make the pattern by columns, and for every entry of an element the place its value goes to."""
        size = self._size
        self._at_start, self._at_end = np.flatnonzero(start >= 0), np.flatnonzero(end >= 0)
        self._inner = np.flatnonzero((start >= 0) & (end >= 0))
        one, other = start[self._inner], end[self._inner]
        keys = np.concatenate([np.arange(size) * (size + 1), one * size + other, other * size + one])
        unique, places = np.unique(keys, return_inverse=True)
        self._rows = (unique % size).astype(np.int32)
        self._columns = np.searchsorted(unique, np.arange(size + 1) * size).astype(np.int32)
        self._places = np.concatenate([places[start[self._at_start]], places[end[self._at_end]], places[size:]])

    def fill(self, start_weight: Floats, end_weight: Floats) -> None:
        from scipy.sparse import csc_array
        from scipy.sparse.linalg import splu

        if self._filled == 1:
            self._order = self._factors.perm_c.astype(np.intp)
            self._lay_out(*(np.where(ends >= 0, self._order[ends], -1) for ends in self._ends))
        values = np.concatenate(
            [start_weight[self._at_start], end_weight[self._at_end],
             -start_weight[self._inner], -end_weight[self._inner]]
        )  # fmt: skip
        data = np.bincount(self._places, values, self._rows.size)
        matrix = csc_array((data, self._rows, self._columns), shape=(self._size, self._size))
        how: dict[str, Any] = {"diag_pivot_thresh": 0.0, "options": {"SymmetricMode": True}}
        if self._filled:
            how |= {"permc_spec": "NATURAL", "relax": 1, "panel_size": 1}
        try:
            self._factors = splu(matrix, **{"permc_spec": "MMD_AT_PLUS_A"} | how)
        except RuntimeError as fault:
            raise np.linalg.LinAlgError(str(fault)) from fault
        self._filled += 1

    def solve(self, right: Floats) -> Floats:
        return self._solve(right, "N")

    def solve_transposed(self, right: Floats) -> Floats:
        return self._solve(right, "T")

    def _solve(self, right: Floats, trans: str) -> Floats:
        turned = np.empty_like(right)
        turned[self._order] = right
        solved: Floats = self._factors.solve(turned, trans=trans)[self._order]
        return solved
