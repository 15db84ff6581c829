from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import wide_hose as rule
from drafter.site.model import Hose, ServiceUnit


@pytest.mark.parametrize(
    "bore_m, length_m, found", [(0.010, 5.0, 0), (0.0127, 5.0, 0), (0.013, 5.0, 0), (0.0131, 5.0, 2), (0.019, 0.0, 0)]
)
def test_limits(changed: Any, severities: Any, bore_m: float, length_m: float, found: int) -> None:
    hose = Hose(length_m=length_m, bore_m=bore_m)
    assert severities(rule, changed(outlets={"hose": hose})) == ["warning"] * found


def test_the_usual_hose_of_the_largest_coupling_passes(changed: Any, severities: Any) -> None:
    assert severities(rule, changed(outlets={"coupling": "1/2"})) == []


def test_an_excess_flow_valve_settles_it(changed: Any, severities: Any) -> None:
    outlets = {"hose": Hose(bore_m=0.019), "service": (ServiceUnit(kind="excess-flow valve"),)}
    assert severities(rule, changed(outlets=outlets)) == []
