"""The integer program of stepped sizes: one size for each group, least cost, every row within its budget."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

TIME_LIMIT_S = 20.0


@dataclass(frozen=True)
class Row:
    """Sum over the groups of what the chosen size contributes, at most the budget.

    Attributes:
        contributions: one array a group, over its sizes; None where a group has no part in it.
    """

    contributions: tuple[Floats | None, ...]
    budget: float


@dataclass(frozen=True)
class LeastCost:
    """Index of the chosen size of each group, and a bound below which no choice can cost."""

    chosen: tuple[int, ...]
    bound: float


def least_cost(
    costs: Sequence[Floats],
    widths_m: Sequence[Floats],
    fed_by: Sequence[int | None],
    rows: Sequence[Row],
    within: float = 0.0,
) -> LeastCost | None:
    """Choose one size for each group at least cost.

    Args:
        costs: of each group over its sizes.
        widths_m: bores of each group's sizes [m]; none is chosen larger than the one that feeds it.
        fed_by: index of the feeding group, None at the tank.
        rows: what must stay within its budget.
        within: how far the bound may stay below the choice, as a share.

    Returns:
        The choice, proven best where its cost equals the bound; None where no choice keeps all rows.

    Source:
        mixed-integer linear programming, the HiGHS solver of scipy.
    """
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import lil_array

    offsets = np.concatenate([[0], np.cumsum([cost.size for cost in costs])]).astype(int)
    feeding = [(number, before) for number, before in enumerate(fed_by) if before is not None]
    matrix = lil_array((len(costs) + len(feeding) + len(rows), int(offsets[-1])))
    low, high = np.full(matrix.shape[0], -np.inf), np.zeros(matrix.shape[0])
    for number in range(len(costs)):
        matrix[number, offsets[number] : offsets[number + 1]] = 1.0
        low[number] = high[number] = 1.0
    for line, (number, before) in enumerate(feeding, len(costs)):
        matrix[line, offsets[number] : offsets[number + 1]] = widths_m[number]
        matrix[line, offsets[before] : offsets[before + 1]] = -widths_m[before]
    for line, row in enumerate(rows, len(costs) + len(feeding)):
        scale = max([abs(row.budget), *(float(np.abs(part).max()) for part in row.contributions if part is not None)])
        for number, part in enumerate(row.contributions):
            if part is not None:
                matrix[line, offsets[number] : offsets[number + 1]] = part / scale
        high[line] = row.budget / scale
    objective = np.concatenate(costs)
    found = milp(
        objective / objective.max(),
        integrality=np.ones(objective.size),
        bounds=Bounds(0.0, 1.0),
        constraints=LinearConstraint(matrix.tocsr(), low, high),
        options={"time_limit": TIME_LIMIT_S, "mip_rel_gap": within},
    )
    if found.x is None:
        return None
    chosen = tuple(int(np.argmax(found.x[offsets[n] : offsets[n + 1]])) for n in range(len(costs)))
    return LeastCost(chosen, float(found.mip_dual_bound) * float(objective.max()))
