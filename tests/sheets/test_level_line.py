"""The level line: marks counted from it, its place on the elevations, and how it is written."""

from __future__ import annotations

import pytest

from drafter.drawing import Text
from drafter.pipeline import compose_drawing, design
from drafter.sheets.layers import Layers
from drafter.sheets.scene import Scene
from drafter.sheets.schedules import mark_tables
from drafter.symbol_library import load_all

SITE = """
site: Level room (invented)
rooms: {{room: {{size: [{width}, {depth}], ceiling: {ceiling}}}}}
compressor: {{wall: north, from left: {left}, power: 4 kW, free air: 10 l/s, cut in: 7 bar, cut out: 9 bar,
  tank: 200 l, rated: 11 bar, relief: 10 bar}}
main: {{material: copper tube type L, height: {height}, fall: 1 %}}
outlets:
  - {{tag: A1, wall: east, from left: {outlet}, tools: [blow gun]}}
{more}
"""
METRIC = {"width": "6 m", "depth": "5 m", "ceiling": "3 m", "left": "0.5 m", "height": "2.6 m", "outlet": "2 m"}
FEET = {"width": "20 ft", "depth": "16 ft", "ceiling": "10 ft", "left": "2 ft", "height": "8 ft", "outlet": "7 ft"}


@pytest.mark.parametrize(
    "lengths, more, line_m", [(METRIC, "", 1.0), (METRIC, "level line: 1.2 m", 1.2), (FEET, "", 1.2192)]
)
def test_marks_are_counted_from_it(lengths: dict[str, str], more: str, line_m: float) -> None:
    done = design(SITE.format(**lengths, more=more), "level.yaml")
    assert done.design is not None, done.findings
    assert done.takeoff is not None
    scene = Scene(done.design, done.takeoff, dict(load_all()), Layers("M"), {})
    assert scene.site.level_line_m == pytest.approx(line_m)
    units = scene.units
    assert scene.takeoff.marks
    heights = {}
    for table in mark_tables(scene):
        heights |= {row[0] + row[1] + row[2]: row[-1] for row in table.rows}
    for mark in scene.takeoff.marks:
        off = round((mark.height_m - line_m) / units.grid_m) * units.grid_m
        sign = "" if off == 0.0 else "+" if off > 0.0 else "-"
        assert heights[mark.tag + mark.what + units.length(mark.from_left_m)] == sign + units.length(abs(off))


def test_it_stands_on_every_elevation() -> None:
    drawing = compose_drawing(design(SITE.format(**METRIC, more="level line: 1.1 m"), "level.yaml"))
    elevations = [view for view in drawing.views if view.name.startswith("elevation")]
    assert elevations
    for view in elevations:
        (words,) = [item for item in view.items if isinstance(item, Text) and item.text.startswith("level line")]
        assert (words.text, words.at.y) == ("level line +1.100", pytest.approx(1100.0))
