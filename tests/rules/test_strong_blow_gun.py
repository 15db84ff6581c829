from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import strong_blow_gun as rule
from drafter.site.model import ToolUse, Treatment

GUN = (ToolUse(tool="air gun"),)


@pytest.mark.parametrize(
    "tools, service, set_pa, found",
    [
        (GUN, (), None, ["note"]),
        (GUN, ("regulator",), None, []),
        (GUN, (), 206843.0, []),
        (GUN, (), 206850.0, ["note"]),
        ((ToolUse(tool="drill"),), (), None, []),
        ((), (), None, []),
    ],
)
def test_limits(
    changed: Any, severities: Any, tools: Any, service: Any, set_pa: float | None, found: list[str]
) -> None:
    train = () if set_pa is None else (Treatment(kind="regulator", set_pa=set_pa),)
    design = changed(outlets={"tools": tools, "service": service}, site={"treatment": train})
    assert severities(rule, design) == found


def test_the_limit_is_that_of_the_law() -> None:
    """29 CFR 1910.242(b): 30 psi of 6894.757 Pa."""
    assert rule.CLEANING_PA.value == pytest.approx(30 * 6894.757, rel=1e-5)
