from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import low_pressure_at_outlet as rule
from drafter.site.model import ServiceUnit


@pytest.mark.parametrize(
    "before_bar, at_tool_bar, found",
    [
        (7.0, 6.5, None),
        (6.5, 6.0, None),
        (6.49, 6.2, "warning"),
        (6.0, 6.0, "warning"),
        (7.0, 5.99, "error"),
        (6.49, 5.99, "error"),
        (0.0, 0.0, "error"),
    ],
)
def test_need_of_6_bar(changed: Any, severities: Any, before_bar: float, at_tool_bar: float, found: str | None) -> None:
    flows = {"gauge_pressure_pa": before_bar * 1e5, "tool_pressure_pa": at_tool_bar * 1e5, "needed_pa": 6.0e5}
    design = changed(flows=flows)
    assert severities(rule, design) == ([found] * 2 if found else [])


@pytest.mark.parametrize("gauge_pressure_bar, found", [(7.0, None), (6.99, "warning")])
def test_a_regulator_wants_1_bar(changed: Any, severities: Any, gauge_pressure_bar: float, found: str | None) -> None:
    flows = {"gauge_pressure_pa": gauge_pressure_bar * 1e5, "needed_pa": 6.0e5}
    design = changed(flows=flows, outlets={"service": (ServiceUnit(kind="filter"), ServiceUnit(kind="regulator"))})
    assert severities(rule, design) == ([found] * 2 if found else [])


def test_nothing_is_said_where_the_need_is_not_known(changed: Any, severities: Any) -> None:
    assert severities(rule, changed(flows={"gauge_pressure_pa": 1e5, "needed_pa": 0.0})) == []
