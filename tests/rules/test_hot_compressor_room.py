from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import hot_compressor_room as rule
from drafter.standards.heat import ventilation_m3_s


def test_limits(changed: Any, severities: Any) -> None:
    """A shop of 8 by 6 m, 3 m high: 132 m2 of walls and ceiling lose 2640 W at 10 K."""
    motor = {"demand_m3_s": 0.008}
    for power_w, found in ((2640.0, []), (2642.0, []), (2643.0, ["note"])):
        design = changed(compressor={"power_w": power_w}, motor=motor, supply={"delivered_m3_s": 0.008})
        assert severities(rule, design) == found
    idle = changed(compressor={"power_w": 5000.0}, motor={"demand_m3_s": 0.004}, supply={"delivered_m3_s": 0.008})
    assert severities(rule, idle) == []


@pytest.mark.parametrize("power_w, flow_m3_s", [(2200.0, 0.182), (4000.0, 0.331), (7500.0, 0.621), (15000.0, 1.243)])
def test_ventilation_for_10_kelvin(power_w: float, flow_m3_s: float) -> None:
    """Heat balance of room air: 1.2 kg/m3, 1005 J/(kg K)."""
    assert ventilation_m3_s(power_w, 10.0) == pytest.approx(flow_m3_s, abs=0.0015)
