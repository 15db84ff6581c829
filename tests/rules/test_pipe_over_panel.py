from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import pipe_over_panel as rule
from drafter.site.model import KeepClear


@pytest.mark.parametrize(
    "wall, top_m, found",
    [
        ("east", 2.0, ["warning"]),
        ("west", 2.0, []),
        ("east", 0.65, ["note"]),
        ("east", 0.8, ["warning"]),
        ("east", 2.7, ["warning"]),
    ],
)
def test_below_a_main_on_the_east_wall(
    changed: Any, severities: Any, wall: str, top_m: float, found: list[str]
) -> None:
    place = changed().network.layout.site.main.place
    panel = KeepClear(place=place, kind="electrical panel", wall=wall, from_left_m=0.5, width_m=0.8, height_m=top_m)
    assert severities(rule, changed(room={"keep_clear": (panel,)})) == found


def test_from_six_feet_above_on_a_shield_does(changed: Any, severities: Any, design: Any) -> None:
    layout = design.network.layout
    over = [run for run in layout.runs if run.wall == "east" and run.kind.name == "MAIN"]
    low_m = min(layout.nodes[id].at.z for run in over for id in (run.start, run.end))
    place = layout.site.main.place
    for gap_m, found in ((1.8288, ["note"]), (1.82, ["warning"])):
        panel = KeepClear(
            place=place, kind="electrical panel", wall="east", from_left_m=3.0, width_m=2.0, height_m=low_m - gap_m
        )
        assert severities(rule, changed(room={"keep_clear": (panel,)})) == found
