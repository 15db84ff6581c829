from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafter.rules import freezing_water as rule
from drafter.site.model import Treatment


@pytest.mark.parametrize(
    "dryer, coldest_deg_c, found",
    [
        (None, 10.0, []),
        (None, 5.0, []),
        (None, 4.9, ["warning"]),
        ("refrigeration dryer", 3.0, []),
        ("refrigeration dryer", 2.9, ["warning"]),
        ("desiccant dryer", -20.0, []),
        ("filter", 4.9, ["warning"]),
    ],
)
def test_limits(changed: Any, severities: Any, dryer: str | None, coldest_deg_c: float, found: list[str]) -> None:
    treatment = (Treatment(kind=dryer),) if dryer else ()
    design = changed(room={"coldest_k": coldest_deg_c + 273.15}, site={"treatment": treatment})
    assert severities(rule, design) == found


def test_a_room_without_pipes_may_freeze(changed: Any, severities: Any, design: Any) -> None:
    shop = design.network.layout.site.rooms["shop"]
    rooms = {"shop": shop, "shed": replace(shop, coldest_k=253.15)}
    assert severities(rule, changed(site={"rooms": rooms})) == []
