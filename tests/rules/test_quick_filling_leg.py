from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafter.rules import quick_filling_leg as rule
from drafter.sizing.water import DripLeg


@pytest.mark.parametrize(
    "times, drains, found",
    [
        (0.0, "manual", []),
        (1.0, "manual", []),
        (1.01, "manual", ["note"]),
        (2.0, "manual", ["note"]),
        (2.01, "manual", ["warning"]),
        (9.0, "manual", ["warning"]),
        (9.0, "automatic", []),
    ],
)
def test_limits(changed: Any, severities: Any, times: float, drains: str, found: list[str]) -> None:
    design = changed(main={"drains": drains, "places": {"drains": changed().network.layout.site.main.place}})
    legs = (DripLeg(design.network.water.legs[0].node, 0.1, 0.1 * times),)
    design.network.__dict__["water"] = replace(design.network.water, legs=legs)
    assert severities(rule, design) == found


def test_it_says_when_the_worst_leg_is_full(drawn: Any) -> None:
    design = drawn(plant=", intake humidity: 100 %", warmest="40 degC", tool="{tool: blow gun, use: 90 %}")
    layout, legs = design.network.layout, design.network.water.legs
    full = [leg for leg in legs if leg.a_day_kg > leg.holds_kg]
    worst = max(full, key=lambda leg: leg.a_day_kg / leg.holds_kg)
    (finding,) = rule.check(design)
    assert finding.subject == layout.nodes[worst.node].tag
    assert finding.measured == f"{8.0 * worst.holds_kg / worst.a_day_kg:.1f} h"
    assert f"{worst.times_a_day} times a day" in finding.fix
    told = finding.message.split(" on a warm day")[0]
    assert {tag for tag in told.replace(",", "").split() if tag.startswith("D-")} == {
        layout.nodes[leg.node].tag for leg in full
    }
