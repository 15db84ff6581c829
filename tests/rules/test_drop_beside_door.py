from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import drop_beside_door as rule
from drafter.site.model import Opening


@pytest.mark.parametrize(
    "from_left_m, kind, found",
    [
        (2.15, "door", []),
        (2.14, "door", ["warning"]),
        (2.05, "window", []),
        (0.85, "door", []),
        (0.86, "opening", ["warning"]),
    ],
)
def test_beside_an_outlet_2_m_from_the_left(
    changed: Any, severities: Any, from_left_m: float, kind: str, found: list[str]
) -> None:
    place = changed().network.layout.site.main.place
    way = Opening(place=place, kind=kind, wall="east", from_left_m=from_left_m, width_m=1.0)
    assert severities(rule, changed(room={"openings": (way,)})) == found
