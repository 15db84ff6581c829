from __future__ import annotations

import math
from typing import Any

import pytest

from drafter.rules import short_lived_tank as rule


def together(design: Any, lasts_s: float, needed_at_tank_pa: float = 5e5) -> dict[str, Any]:
    tool = design.network.tank.together.tools[0]
    short = None if math.isinf(lasts_s) else tool
    return {"lasts_s": lasts_s, "short": short, "needed_at_tank_pa": needed_at_tank_pa}


@pytest.mark.parametrize("lasts_s, found", [(math.inf, []), (30.0, []), (29.9, ["note"]), (0.5, ["note"])])
def test_half_a_minute(changed: Any, severities: Any, design: Any, lasts_s: float, found: list[str]) -> None:
    assert severities(rule, changed(together=together(design, lasts_s))) == found


def test_a_tool_short_at_cut_in_is_left_to_the_outlets_rule(changed: Any, severities: Any, design: Any) -> None:
    assert severities(rule, changed(together=together(design, 5.0, 7.6e5))) == []


def test_a_work_pattern_takes_its_place(changed: Any, severities: Any, design: Any) -> None:
    assert severities(rule, changed(together=together(design, 5.0), works=[("A1", 0.0, 30.0)])) == []
