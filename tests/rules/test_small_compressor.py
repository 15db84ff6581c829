from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import small_compressor as rule
from drafter.site.model.own_limits import OwnLimit


@pytest.mark.parametrize(
    "average_l_s, found",
    [
        (5.0, []),
        (8.0, []),
        (8.01, ["note"]),
        (10.0, ["note"]),
        (10.01, ["warning"]),
        (12.0, ["warning"]),
        (12.01, ["error"]),
    ],
)
def test_a_delivery_of_10_l_s(changed: Any, severities: Any, average_l_s: float, found: list[str]) -> None:
    design = changed(
        compressor={"control": "load-unload"},
        supply={"delivered_m3_s": 0.010},
        motor={"demand_m3_s": average_l_s / 1000},
    )
    assert severities(rule, design) == found


@pytest.mark.parametrize(
    "average_l_s, found",
    [(6.0, []), (6.01, ["note"]), (10.0, ["note"]), (10.01, ["warning"]), (12.0, ["warning"]), (12.01, ["error"])],
)
def test_a_set_that_stops_at_the_cut_out_needs_rest(
    changed: Any, severities: Any, average_l_s: float, found: list[str]
) -> None:
    design = changed(supply={"delivered_m3_s": 0.010}, motor={"demand_m3_s": average_l_s / 1000})
    assert severities(rule, design) == found


def test_a_work_pattern_has_no_growth_in_it(changed: Any, severities: Any) -> None:
    design = changed(supply={"delivered_m3_s": 0.010}, motor={"demand_m3_s": 0.01001}, works=[("A1", 0.0, 30.0)])
    assert severities(rule, design) == ["error"]


def test_where_people_wait_a_site_says_so(changed: Any, severities: Any) -> None:
    own = {"PLANT001": OwnLimit(limit="150 %", reason="people wait")}
    for average_l_s, found in ((15.0, []), (15.01, ["error"])):
        supply, motor = {"delivered_m3_s": 0.010}, {"demand_m3_s": average_l_s / 1000}
        assert severities(rule, changed(supply=supply, motor=motor, site={"own_limits": own})) == found


def test_a_work_pattern_is_named(changed: Any) -> None:
    design = changed(supply={"delivered_m3_s": 0.010}, motor={"demand_m3_s": 0.009}, works=[("A1", 0.0, 30.0)])
    assert "the work pattern's average" in next(iter(rule.check(design))).message
