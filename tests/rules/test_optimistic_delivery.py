from __future__ import annotations

import math
from typing import Any

import pytest

from drafter.rules import optimistic_delivery as rule


def test_limits(changed: Any, severities: Any) -> None:
    """8 l/s from 1.01325 to 9.51325 bar absolute takes 800 W times ln 9.389 = 1791.6 W at the best."""
    best_w = 0.008 * 1e5 * math.log(9.51325 / 1.01325)
    assert best_w == pytest.approx(1791.6, abs=0.5)
    for power_w, found in ((4000.0, []), (best_w / 0.7, []), (best_w / 0.701, ["warning"]), (1500.0, ["warning"])):
        design = changed(compressor={"power_w": power_w}, supply={"delivered_m3_s": 0.008})
        assert severities(rule, design) == found


@pytest.mark.parametrize("altitude_m", [0.0, 1500.0])
def test_in_thin_air_the_ratio_is_larger(changed: Any, severities: Any, altitude_m: float) -> None:
    design = changed(compressor={"power_w": 2600.0}, supply={"delivered_m3_s": 0.008}, site={"altitude_m": altitude_m})
    assert severities(rule, design) == (["warning"] if altitude_m else [])
