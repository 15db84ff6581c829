from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import large_pressure_loss as rule
from drafter.site.model import ServiceUnit


@pytest.mark.parametrize(
    "loss_bar, found",
    [(0.1, []), (0.3, []), (0.31, ["warning"]), (0.75, ["warning"]), (0.76, ["error"])],
)
def test_limits_at_a_cut_in_of_7_5_bar(changed: Any, severities: Any, loss_bar: float, found: list[str]) -> None:
    design = changed(flows={"gauge_pressure_pa": (7.5 - loss_bar) * 1e5})
    assert severities(rule, design) == found


def test_units_at_the_outlet_do_not_count(changed: Any, severities: Any) -> None:
    lost = {"gauge_pressure_pa": 7.1e5}
    assert severities(rule, changed(flows=lost)) == ["warning"]
    assert severities(rule, changed(flows=lost, outlets={"service": (ServiceUnit(kind="regulator"),)})) == []
