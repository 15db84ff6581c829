from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import hot_dryer as rule


@pytest.mark.parametrize(
    "treatment, warmest_deg_c, rise_k, found",
    [
        ("refrigeration dryer", 30.0, 15.0, ["note"]),
        ("desiccant dryer", 30.0, 15.0, ["note"]),
        ("refrigeration dryer", 30.0, 5.0, []),
        ("refrigeration dryer", 30.0, 5.5, ["note"]),
        ("refrigeration dryer", 20.0, 15.0, []),
        ("aftercooler, refrigeration dryer", 25.0, 40.0, []),
        ("filter", 40.0, 15.0, []),
    ],
)
def test_limits(
    drawn: Any, severities: Any, treatment: str, warmest_deg_c: float, rise_k: float, found: list[str]
) -> None:
    design = drawn(treatment, warmest=f"{warmest_deg_c} degC", plant=f", air warmer by: {rise_k} K")
    assert severities(rule, design) == found
