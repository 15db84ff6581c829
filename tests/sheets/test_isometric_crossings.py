"""Crossings of an isometric: only pairs of lines that are near each other are looked at, and none is missed."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.sheets.isometric_crossings import CLOSE_MM, _close_pairs

ENDS = st.tuples(*[st.floats(-200.0, 200.0)] * 4)


@given(st.lists(ENDS, min_size=1, max_size=40), st.integers(1, 7))
@settings(deadline=None, max_examples=80)
def test_pairs_are_those_whose_boxes_are_near(lines: list[tuple[float, float, float, float]], rows: int) -> None:
    import drafter.sheets.isometric_crossings as crossings

    ends = np.array(lines)
    low, high = np.minimum(ends[:, :2], ends[:, 2:]), np.maximum(ends[:, :2], ends[:, 2:])
    usual, crossings.ROWS_AT_ONCE = crossings.ROWS_AT_ONCE, rows
    try:
        one, other = _close_pairs(low, high)
    finally:
        crossings.ROWS_AT_ONCE = usual
    found = sorted(zip(one.tolist(), other.tolist(), strict=True))
    wanted = [
        (a, b)
        for a in range(len(lines))
        for b in range(a + 1, len(lines))
        if all(low[a][k] - high[b][k] <= CLOSE_MM and low[b][k] - high[a][k] <= CLOSE_MM for k in (0, 1))
    ]
    assert found == wanted
