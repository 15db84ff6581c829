from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafter.layout.graph import NodeKind
from drafter.rules import wet_tank as rule
from drafter.sizing.water import WaterDay


@pytest.mark.parametrize(
    "a_day_kg, drain, found",
    [(0.2, "manual", []), (1.0, "manual", []), (1.01, "manual", ["note"]), (9.0, "automatic", [])],
)
def test_limits(
    changed: Any, severities: Any, monkeypatch: pytest.MonkeyPatch, a_day_kg: float, drain: str, found: list[str]
) -> None:
    design = changed(compressor={"drain": drain})
    tank = next(node for node in design.network.layout.nodes.values() if node.kind is NodeKind.TANK)
    water = design.network.water
    wet = tuple(replace(place, a_day_kg=a_day_kg) for place in water.warm.places if place.node == tank.id)
    assert wet
    day: WaterDay = replace(water.warm, places=wet)
    monkeypatch.setitem(design.network.__dict__, "water", replace(water, warm=day))
    assert severities(rule, design) == found
