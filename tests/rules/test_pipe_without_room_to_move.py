from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafter.pipeline import design as whole_design
from drafter.rules import pipe_without_room_to_move as rule
from drafter.supports.straights import movements

LONG = """
site: Long shed (invented)
rooms: {{shed: {{size: [{length} m, 6 m], ceiling: 3 m, coldest: 5 degC, warmest: {warmest} degC}}}}
compressor:
  {{wall: west, from left: 3 m, power: 4 kW, free air: 8 l/s, cut in: 7.5 bar, cut out: 8.5 bar, tank: 80 l,
   rated: 11 bar, relief: 10 bar}}
main: {{material: {material}, height: 2.6 m, fall: 0.5 %}}
outlets: [{{tag: A1, wall: east, from left: 3 m, tools: [blow gun]}}]
"""


@pytest.mark.parametrize(
    "material, length, warmest, found",
    [
        ("polyamide tube", 7, 35, []),
        ("polyamide tube", 12, 35, ["warning"]),
        ("polyamide tube", 12, 5, []),
        ("steel pipe", 12, 35, []),
        ("steel pipe", 33, 35, ["warning"]),
    ],
)
def test_a_long_line(severities: Any, material: str, length: int, warmest: int, found: list[str]) -> None:
    done = whole_design(LONG.format(material=material, length=length, warmest=warmest), "shed.yaml")
    assert done.design is not None, done.findings
    assert severities(rule, done.design) == found


def test_at_the_limit_of_length(design: Any, severities: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    longest_m = max(movement.straight.length_m for movement in movements(design))
    monkeypatch.setattr(rule, "longest_straight_m", lambda _: longest_m)
    assert severities(rule, design) == []
    monkeypatch.setattr(rule, "longest_straight_m", lambda _: longest_m - 0.001)
    assert severities(rule, design) == ["warning"]


def test_the_leg_across_a_bend(design: Any, changed: Any, severities: Any) -> None:
    """The constant of the material is raised until the leg that is tightest just gives way, then beyond."""
    family = design.network.material
    moving = [end for movement in movements(design) for end in movement.ends if end.moves_m >= rule.TAKEN_UP_M]
    room = min(end.leg_m / end.needed_m for end in moving if end.leg_m and end.needed_m)

    def stiff(share: float) -> Any:
        return changed(network={"material": replace(family, free_leg_factor=family.free_leg_factor * room * share)})

    assert room > 1
    assert severities(rule, stiff(0.9999)) == []
    assert severities(rule, stiff(1.001)) == ["warning"]


def test_a_line_has_one_fixed_point_and_grows_both_ways_from_it(design: Any) -> None:
    for movement in movements(design):
        ends = sum(end.moves_m for end in movement.ends)
        assert ends == pytest.approx(movement.growth_m)
        assert movement.take_off_m <= max(end.moves_m for end in movement.ends) + 1e-12
