from __future__ import annotations

from typing import Any

import pytest

from drafter.pipeline import design
from drafter.rules import outlet_behind_equipment as rule

YARD = """\
site: Yard (invented)
rooms:
  shop:
    size: [8 m, 6 m]
    ceiling: 3 m
    equipment:
      - {{kind: machine, name: lathe, wall: {wall}, from left: {left} m, off wall: {off} m, width: 1.5 m, depth: 1 m,
         height: {height} m}}
compressor:
  {{wall: north, from left: 0.6 m, power: 4 kW, free air: 8 l/s, cut in: 7.5 bar, cut out: 8.5 bar,
   tank: 80 l, rated: 11 bar, relief: 10 bar}}
main: {{material: copper tube, height: 2.6 m, fall: 1 %}}
outlets: [{{tag: A1, wall: east, from left: 2 m, height: 1.2 m, tools: [blow gun]}}]
"""


@pytest.mark.parametrize(
    "left, off, height, found",
    [
        (1.5, 0.8, 1.6, 0),
        (1.5, 0.79, 1.6, 1),
        (1.5, 0.5, 1.6, 1),
        (1.5, 0.5, 0.9, 0),
        (2.4, 0.5, 1.6, 0),
    ],
)
def test_limits(severities: Any, left: float, off: float, height: float, found: int) -> None:
    """The coupling is 0.2 m off the wall, and 0.6 m before it are to be free."""
    made = design(YARD.format(wall="east", left=left, off=off, height=height), "yard.yaml").design
    assert made is not None
    assert severities(rule, made) == ["note"] * found


def test_what_stands_at_another_wall_counts_where_it_comes_before_the_outlet(severities: Any) -> None:
    """Off the south wall by 3.5 m, with its end 0.5 m before the east wall."""
    made = design(YARD.format(wall="south", left=0.5, off=3.5, height=1.6), "yard.yaml").design
    assert made is not None
    assert severities(rule, made) == ["note"]
