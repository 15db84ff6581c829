from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import valve_far_from_exit as rule
from drafter.site.model import Opening


@pytest.mark.parametrize("from_left_m, kind, found", [(9.87, "door", []), (9.9, "door", ["note"]), (9.9, "window", [])])
def test_limits(changed: Any, severities: Any, design: Any, from_left_m: float, kind: str, found: list[str]) -> None:
    layout = design.network.layout
    valve = layout.nodes[layout.runs[0].end]
    wall = layout.site.wall("shop", "north")
    along_m, off_m = wall.measure(valve.at.plan)
    from_left_m = along_m + (from_left_m**2 - off_m**2) ** 0.5 + 0.12 - 0.5
    way = Opening(place=layout.site.main.place, kind=kind, wall="north", from_left_m=from_left_m, width_m=1.0)
    assert severities(rule, changed(room={"openings": (way,)})) == found


def test_without_a_way_out_nothing_is_said(changed: Any, severities: Any) -> None:
    assert severities(rule, changed(room={"openings": ()})) == []
