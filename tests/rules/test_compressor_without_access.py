from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import compressor_without_access as rule
from drafter.site.model import Standing


def thing(off_wall_m: float, kind: str = "machine", above_floor_m: float = 0.0) -> Standing:
    return Standing(
        kind=kind, wall="north", from_left_m=0.8, off_wall_m=off_wall_m, width_m=0.5, above_floor_m=above_floor_m
    )


@pytest.mark.parametrize(
    "stands, found",
    [
        (thing(2.0), []),
        (thing(1.6), []),
        (thing(1.59), ["note"]),
        (thing(1.2), ["note"]),
        (thing(1.2, "vehicle"), []),
        (thing(1.2, "shelf", 1.5), []),
    ],
)
def test_before_a_set_that_ends_0_8_m_off_its_wall(
    changed: Any, severities: Any, stands: Standing, found: list[str]
) -> None:
    assert severities(rule, changed(room={"equipment": (stands,)})) == found


def test_a_wall_may_be_too_near_as_well(changed: Any, severities: Any) -> None:
    assert severities(rule, changed(compressor={"off_wall_m": 4.7})) == []
    assert severities(rule, changed(compressor={"off_wall_m": 4.76})) == ["note"]
