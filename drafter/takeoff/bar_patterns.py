"""Many pieces of few lengths: how often to cut each pattern, as an integer programme."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import islice

import numpy as np

from drafter.takeoff.bar_filling import Filled
from drafter.takeoff.bar_search import OutOfWorkError, Work, completions, listed

MOST_PATTERNS = 10_000
"""With more ways to fill a bar the programme is not tried."""

WORK = 100_000
"""Steps to write the patterns out in."""

NODES = 500
"""Branches of the programme that are looked into: counted, not timed."""


def patterned(sizes: Sequence[int], capacities: Sequence[int], lost: int) -> tuple[Filled, bool] | None:
    """Return a filling of least length, then fewest bars, and whether that is proved; None where it is not tried.

    A pattern is a set of pieces that fills a bar so that no other can be added. Each piece is cut at least once, and
    what patterns give more than is wanted is left in the bar.

    Args:
        sizes: of the pieces, falling, each longer than its length by one cut.
        capacities: of the bars on sale, likewise.
        lost: at each cut.

    Source:
        Gilmore and Gomory, A linear programming approach to the cutting-stock problem, Operations Research 9 (1961);
        here all patterns are written out, and solved in whole numbers with HiGHS.
    """
    kinds = tuple(dict.fromkeys(sizes))
    wanted = tuple(list(sizes).count(kind) for kind in kinds)
    try:
        work = Work(WORK)
        ways = (
            (capacity, pattern)
            for capacity in capacities
            for pattern in completions(kinds, wanted, 0, capacity, capacity, work)
        )
        patterns = list(islice(ways, MOST_PATTERNS + 1))
    except OutOfWorkError:
        return None
    if len(patterns) > MOST_PATTERNS:
        return None
    found = _solved(patterns, wanted, math.gcd(*(capacity - lost for capacity in capacities)), lost)
    if found is None:
        return None
    times, proved = found
    return _bars(kinds, wanted, patterns, times), proved


def _solved(
    patterns: list[tuple[int, tuple[int, ...]]], wanted: tuple[int, ...], unit: int, lost: int
) -> tuple[list[int], bool] | None:
    """Return how often each pattern is cut, and whether nothing costs less; lengths are counted in units."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    most = sum(wanted)
    cost = np.array([(capacity - lost) // unit * (most + 1) + 1 for capacity, _ in patterns], float)
    gives = np.array([pattern for _, pattern in patterns], float).T
    result = milp(
        cost,
        integrality=np.ones(len(patterns)),
        bounds=Bounds(0, most),
        constraints=LinearConstraint(gives, np.array(wanted, float), np.inf),
        options={"node_limit": NODES, "mip_rel_gap": 0.0},
    )
    if result.x is None:
        return None
    return [round(value) for value in result.x], result.status == 0


def _bars(
    kinds: tuple[int, ...], wanted: tuple[int, ...], patterns: list[tuple[int, tuple[int, ...]]], times: list[int]
) -> Filled:
    left, bars = list(wanted), Filled()
    for (capacity, pattern), count in zip(patterns, times, strict=True):
        for _ in range(count):
            taken = tuple(min(have, gives) for have, gives in zip(left, pattern, strict=True))
            left = [have - use for have, use in zip(left, taken, strict=True)]
            bars.append((capacity, listed(kinds, taken)))
    assert not any(left)
    return bars
