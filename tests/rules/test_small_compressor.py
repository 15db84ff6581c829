from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import small_compressor as rule


@pytest.mark.parametrize(
    "average_l_s, found",
    [(5.0, []), (8.0, []), (8.01, ["note"]), (10.0, ["note"]), (10.01, ["warning"])],
)
def test_a_delivery_of_10_l_s(changed: Any, severities: Any, average_l_s: float, found: list[str]) -> None:
    design = changed(
        compressor={"control": "load-unload"},
        supply={"delivered_m3_s": 0.010},
        motor={"demand_m3_s": average_l_s / 1000},
    )
    assert severities(rule, design) == found


@pytest.mark.parametrize("average_l_s, found", [(6.0, []), (6.01, ["note"]), (10.0, ["note"]), (10.01, ["warning"])])
def test_a_set_that_stops_at_the_cut_out_needs_rest(
    changed: Any, severities: Any, average_l_s: float, found: list[str]
) -> None:
    design = changed(supply={"delivered_m3_s": 0.010}, motor={"demand_m3_s": average_l_s / 1000})
    assert severities(rule, design) == found


def test_a_work_pattern_is_named(changed: Any) -> None:
    design = changed(supply={"delivered_m3_s": 0.010}, motor={"demand_m3_s": 0.009}, works=[("A1", 0.0, 30.0)])
    assert "the work pattern's average" in next(iter(rule.check(design))).message
