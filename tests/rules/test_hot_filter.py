from __future__ import annotations

from typing import Any

import pytest

from drafter.layout.graph import NodeKind
from drafter.rules import hot_filter as rule


@pytest.mark.parametrize(
    "treatment, rise_k, found",
    [
        ("filter", 15.0, ["note"]),
        ("filter", 3.1, []),
        ("filter", 4.0, ["note"]),
        ("filter", 0.0, []),
        ("filter, coalescing filter", 15.0, ["note", "note"]),
        ("aftercooler, separator", 40.0, ["note"]),
        ("filter, refrigeration dryer", 15.0, []),
        ("desiccant dryer, filter", 15.0, []),
        ("regulator", 15.0, []),
        ("", 15.0, []),
    ],
)
def test_limits(drawn: Any, severities: Any, treatment: str, rise_k: float, found: list[str]) -> None:
    assert severities(rule, drawn(treatment, plant=f", air warmer by: {rise_k} K")) == found


def test_the_limit_is_3_k_at_the_filter(drawn: Any) -> None:
    for tenths in range(28, 60):
        design = drawn("filter", plant=f", air warmer by: {tenths / 10} K")
        (unit,) = (node for node in design.network.layout.nodes.values() if node.kind is NodeKind.TREATMENT)
        above = design.network.water.warm.before[unit.id].temperature_k - 303.15
        assert bool(list(rule.check(design))) is (above > 3.05)


def test_it_says_where_the_filter_stands(drawn: Any) -> None:
    design = drawn("filter")
    (finding,) = rule.check(design)
    unit = next(node.id for node in design.network.layout.nodes.values() if node.what == "filter")
    assert f"{design.network.water.from_tank_m(unit):.2f} m along the pipe" in finding.message
    assert f"needs {design.network.water.near_room_m:.0f} m to cool" in finding.fix
