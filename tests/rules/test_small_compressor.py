from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import small_compressor as rule


@pytest.mark.parametrize(
    "average_l_s, found",
    [(5.0, []), (8.0, []), (8.01, ["note"]), (10.0, ["note"]), (10.01, ["warning"])],
)
def test_a_delivery_of_10_l_s(changed: Any, severities: Any, average_l_s: float, found: list[str]) -> None:
    design = changed(supply={"average_m3_s": average_l_s / 1000, "delivered_m3_s": 0.010})
    assert severities(rule, design) == found
