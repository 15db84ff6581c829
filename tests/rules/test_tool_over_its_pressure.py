from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import tool_over_its_pressure as rule
from drafter.site.model import ServiceUnit, ToolUse, Treatment


@pytest.mark.parametrize(
    "highest_bar, service, set_bar, found",
    [
        (None, (), None, 0),
        (8.5, (), None, 0),
        (8.49, (), None, 2),
        (6.3, ("regulator",), None, 0),
        (6.3, (), 6.3, 0),
        (6.3, (), 6.4, 2),
    ],
)
def test_a_cut_out_of_8_5_bar(
    changed: Any, severities: Any, highest_bar: float | None, service: Any, set_bar: float | None, found: int
) -> None:
    place = changed().network.layout.site.main.place
    use = ToolUse(place=place, tool="drill", highest_pa=None if highest_bar is None else highest_bar * 1e5)
    train = () if set_bar is None else (Treatment(kind="regulator", set_pa=set_bar * 1e5),)
    design = changed(
        outlets={"tools": (use,), "service": tuple(ServiceUnit(kind=kind) for kind in service)},
        site={"treatment": train},
    )
    assert severities(rule, design) == ["warning"] * found
