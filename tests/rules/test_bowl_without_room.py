from __future__ import annotations

from typing import Any

import pytest

from drafter.pipeline import design as whole_design
from drafter.rules import bowl_without_room as rule
from drafter.supports import Design

SITE = """
site: Bench row (invented)
rooms:
  shop:
    size: [8 m, 6 m]
    ceiling: 3 m
    equipment: [{{kind: bench, wall: east, from left: 1 m, width: 4 m, depth: 0.6 m, height: {bench} m}}]
compressor:
  {{wall: north, from left: 0.6 m, power: 4 kW, free air: 8 l/s, cut in: 7.5 bar, cut out: 8.5 bar,
   tank: 80 l, rated: 11 bar, relief: 10 bar}}
main: {{material: copper tube, height: 2.6 m, fall: 1 %}}
outlets: [{{tag: A1, wall: east, from left: 2 m, height: 1.4 m, tools: [blow gun], service: [{unit}]}}]
"""


def made(unit: str, bench_m: float) -> Design:
    done = whole_design(SITE.format(unit=unit, bench=bench_m), "bench.yaml").design
    assert done is not None
    return done


@pytest.mark.parametrize(
    "unit, bench_m, found",
    [
        ("filter", 0.9, []),
        ("filter", 1.1, []),
        ("filter", 1.11, ["note"]),
        ("lubricator", 1.11, ["note"]),
        ("regulator", 1.11, []),
    ],
)
def test_a_unit_1_4_m_up_over_a_bench(severities: Any, unit: str, bench_m: float, found: list[str]) -> None:
    assert severities(rule, made(unit, bench_m)) == found


def test_it_is_told_where_and_how_much() -> None:
    (finding,) = rule.check(made("filter", 1.2))
    assert finding.message == "under the filter at A1 there is 200 mm to draw its bowl off"
