from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafter.rules import starved_ring_arm as rule
from drafter.sizing.arm_shut import ArmShut, Starved


@pytest.mark.parametrize(
    "left_bar, needed_bar, found", [(6.3, 6.3, []), (6.2, 6.3, ["note"]), (0.0, 6.3, ["note"]), (2.0, 0.0, [])]
)
def test_what_the_tool_with_the_least_to_spare_gets(
    changed: Any, severities: Any, left_bar: float, needed_bar: float, found: list[str]
) -> None:
    starved = (Starved("A1", left_bar * 1e5, needed_bar * 1e5),) if left_bar < needed_bar else ()
    shut = ArmShut("V-09", 8.0, "A1", left_bar * 1e5, needed_bar * 1e5, starved)
    assert severities(rule, changed(network={"arms_shut": (shut,)})) == found


def test_a_tool_short_with_both_arms_open_is_not_found_again(changed: Any, severities: Any) -> None:
    shut = ArmShut("V-09", 8.0, "A1", 2e5, 6.3e5, (Starved("A1", 2e5, 6.3e5), Starved("A2", 5e5, 6.3e5)))
    design = changed(network={"arms_shut": (shut,)}, flows={"tool_pressure_pa": 5e5, "needed_pa": 6.3e5})
    assert severities(rule, design) == []


def test_one_short_anyway_does_not_hide_another(changed: Any) -> None:
    shut = ArmShut("V-09", 8.0, "A1", 2e5, 6.3e5, (Starved("A1", 2e5, 6.3e5), Starved("A2", 6.299e5, 6.3e5)))
    flows = changed(flows={"tool_pressure_pa": 7e5, "needed_pa": 6.3e5}).network.outlets
    low = tuple(replace(flow, tool_pressure_pa=2e5) if flow.tag == "A1" else flow for flow in flows)
    (finding,) = rule.check(changed(network={"arms_shut": (shut,), "outlets": low}))
    assert finding.subject == "A2"
    assert "gets 6.299 bar gauge at cut-in, less than the 6.300 bar it needs" in finding.message
