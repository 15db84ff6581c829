from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import damp_behind_dryer as rule


@pytest.mark.parametrize(
    "treatment, coldest_deg_c, found",
    [
        ("filter", 3.0, []),
        ("refrigeration dryer", 10.0, []),
        ("refrigeration dryer", 5.0, []),
        ("refrigeration dryer", 4.9, ["note"]),
        ("refrigeration dryer", 3.0, ["note"]),
        ("refrigeration dryer", 2.9, ["warning"]),
        ("desiccant dryer", -30.0, []),
    ],
)
def test_a_dew_point_of_3_degrees(
    drawn: Any, severities: Any, treatment: str, coldest_deg_c: float, found: list[str]
) -> None:
    assert severities(rule, drawn(treatment, coldest=f"{coldest_deg_c} degC")) == found
