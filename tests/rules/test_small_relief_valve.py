from __future__ import annotations

from typing import Any

import pytest

from drafter.quantity import Quantity
from drafter.rules import small_relief_valve as rule


@pytest.mark.parametrize("passes_l_s, found", [(None, []), (12.0, []), (8.0, []), (7.99, ["error"])])
def test_a_delivery_of_8_litres(changed: Any, severities: Any, passes_l_s: float | None, found: list[str]) -> None:
    flow = None if passes_l_s is None else Quantity(passes_l_s / 1000.0)
    design = changed(compressor={"relief_flow": flow}, supply={"delivered_m3_s": 0.008})
    assert severities(rule, design) == found
