"""What air a room has stands in its plan, and that pipe is laid in sight among the notes."""

from __future__ import annotations

import pytest

from drafter.drawing import Text
from drafter.pipeline import compose_drawing, design

SITE = """
site: Cold shed (invented)
drawing: {{units: {units}}}
rooms: {{shed: {{size: [8 m, 6 m], ceiling: 3 m, coldest: {coldest}, warmest: {warmest}}}}}
compressor: {{wall: north, from left: 0.5 m, power: 4 kW, free air: 10 l/s, cut in: 7 bar, cut out: 9 bar,
  tank: 200 l, rated: 11 bar, relief: 10 bar}}
main: {{material: copper tube type L, height: 2.6 m, fall: 1 %}}
outlets:
  - {{tag: A1, wall: east, from left: 2 m, tools: [blow gun]}}
"""


@pytest.mark.parametrize(
    "units, coldest, warmest, told",
    [
        ("metric", "6 degC", "30 degC", "air 6 °C to 30 °C"),
        ("metric", "0 degC", "30 degC", "air 0 °C to 30 °C"),
        ("metric", "-1 degC", "30 degC", "air -1 °C to 30 °C: FROST"),
        ("imperial", "14 degF", "95 degF", "air 14 °F to 95 °F: FROST"),
    ],
)
def test_the_air_of_a_room_stands_below_its_name(units: str, coldest: str, warmest: str, told: str) -> None:
    drawing = compose_drawing(design(SITE.format(units=units, coldest=coldest, warmest=warmest), "cold.yaml"))
    plan = next(view for view in drawing.views if view.name == "plan")
    texts = [item for item in plan.items if isinstance(item, Text)]
    air = [item for item in texts if item.text.startswith("air ")]
    assert [item.text for item in air] == [told]
    (name,) = [item for item in texts if item.text == "SHED"]
    assert (air[0].at.x, air[0].at.y < name.at.y) == (name.at.x, True)
    words = " ".join(i.text for page in drawing.sheets for i in page.items if isinstance(i, Text))
    assert "All pipe lies in sight." in words
