from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafter.pipeline import design as whole_design
from drafter.rules import low_crossing as rule
from drafter.supports import Design

SITE = """
site: Across the lane (invented)
rooms:
  hall:
    size: [10 m, 6 m]
    ceiling: 4 m
    crossings: [{wall: north, from left: 6 m}]
    openings:
      - {kind: overhead door, wall: west, from left: 1 m, width: 3 m, height: 3.2 m}
compressor: {wall: north, from left: 0.6 m, power: 4 kW, free air: 8 l/s, cut in: 7 bar, cut out: 9 bar,
  tank: 200 l, rated: 11 bar, relief: 10 bar}
main: {material: copper tube type L, height: 2.8 m, fall: 1 %, size: 3/4}
outlets:
  - {tag: A1, wall: north, from left: 5 m, tools: [blow gun]}
  - {tag: A2, wall: south, from left: 3 m, tools: [blow gun]}
"""


@pytest.fixture(scope="module")
def crossed() -> Design:
    done = whole_design(SITE, "lane.yaml")
    assert done.design is not None, done.findings
    return done.design


def underside_m(design: Design) -> float:
    layout = design.network.layout
    (across,) = [run for run in layout.runs if run.wall == "crossing 1"]
    ends = (layout.nodes[across.start].at.z, layout.nodes[across.end].at.z)
    return min(ends) - design.network.sizes[across.id].outside_m / 2


def with_door(design: Design, **changes: Any) -> Design:
    layout = design.network.layout
    hall = layout.site.rooms["hall"]
    (door,) = hall.openings
    rooms = {"hall": replace(hall, openings=(replace(door, **changes),))}
    site = replace(layout.site, rooms=rooms)
    return replace(design, network=replace(design.network, layout=replace(layout, site=site)))


@pytest.mark.parametrize("above_m, found", [(0.4, ["warning"]), (0.001, ["warning"]), (0.0, []), (-0.2, [])])
def test_the_head_of_the_door_is_the_limit(crossed: Design, severities: Any, above_m: float, found: list[str]) -> None:
    door = with_door(crossed, height_m=underside_m(crossed) + above_m)
    assert severities(rule, door) == found


@pytest.mark.parametrize(
    "changes", [{"wall": "north", "from_left_m": 7.0, "width_m": 2.5}, {"kind": "opening"}, {"kind": "window"}]
)
def test_beside_the_strip_and_where_nobody_drives_it_may_hang_lower(
    crossed: Design, severities: Any, changes: dict[str, Any]
) -> None:
    assert severities(rule, with_door(crossed, height_m=3.2, **changes)) == []
