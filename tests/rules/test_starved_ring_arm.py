from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import starved_ring_arm as rule
from drafter.sizing.arm_shut import ArmShut


@pytest.mark.parametrize(
    "left_bar, needed_bar, found", [(6.3, 6.3, []), (6.2, 6.3, ["note"]), (0.0, 6.3, ["note"]), (2.0, 0.0, [])]
)
def test_what_the_tool_with_the_least_to_spare_gets(
    changed: Any, severities: Any, left_bar: float, needed_bar: float, found: list[str]
) -> None:
    shut = ArmShut("V-09", 8.0, "A1", left_bar * 1e5, needed_bar * 1e5)
    assert severities(rule, changed(network={"arms_shut": (shut,)})) == found


def test_a_tool_short_with_both_arms_open_is_not_found_again(changed: Any, severities: Any) -> None:
    shut = ArmShut("V-09", 8.0, "A1", 2e5, 6.3e5)
    design = changed(network={"arms_shut": (shut,)}, flows={"tool_pressure_pa": 5e5, "needed_pa": 6.3e5})
    assert severities(rule, design) == []
