"""The pressure ladder: all inside its rectangle, bars true to their scale, words that say the numbers."""

from __future__ import annotations

from pathlib import Path

import pytest

from drafter.drawing import Area, Line, Polyline, Text
from drafter.geometry import Box
from drafter.lettering import text_width_mm
from drafter.pipeline import Designed, design
from drafter.sheets.layers import Layers
from drafter.sheets.pressure_ladder import ladder_panel, ladder_words
from drafter.sheets.scene import Scene
from drafter.symbol_library import load_all

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))


def scene_of(made: Designed) -> Scene:
    assert made.design is not None
    assert made.takeoff is not None
    return Scene(made.design, made.takeoff, load_all(), Layers("M"), {}, 0)


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def scene(request: pytest.FixtureRequest) -> Scene:
    return scene_of(design(request.param.read_bytes(), request.param.name))


@pytest.mark.parametrize("box", [Box(10, 10, 180, 104), Box(0, 0, 390, 110), Box(5, 5, 700, 300)], ids=str)
def test_all_stays_in_the_rectangle(scene: Scene, box: Box) -> None:
    room = box.grown(0.01)
    for item in ladder_panel(scene, box):
        if isinstance(item, Text):
            width = text_width_mm(item.text, item.height_mm, item.weight)
            left = item.at.x - {"right": width, "top": width / 2, "bottom": width / 2}.get(item.anchor, 0.0)
            assert room.left <= left <= left + width <= room.right, item.text
            assert room.bottom <= item.at.y - (item.height_mm if item.anchor == "top" else 0.0)
        else:
            points = {Line: lambda i: (i.start, i.end), Area: lambda i: i.boundary, Polyline: lambda i: i.points}
            for point in points[type(item)](item):
                assert room.left <= point.x <= room.right
                assert room.bottom <= point.y <= room.top


def test_bars_are_as_long_as_what_is_lost(scene: Scene) -> None:
    flow = scene.design.network.least_to_spare
    bars = [item for item in ladder_panel(scene, Box(0, 0, 500, 150)) if isinstance(item, Area)]
    assert len(bars) == len(flow.ladder)
    widths = [max(p.x for p in bar.boundary) - min(p.x for p in bar.boundary) for bar in bars]
    longest = max(range(len(bars)), key=lambda n: flow.ladder[n].drop_pa)
    scale = widths[longest] / flow.ladder[longest].drop_pa
    for width, step in zip(widths, flow.ladder, strict=True):
        assert width == pytest.approx(max(step.drop_pa * scale, 0.4), abs=0.01)
    tops = [max(p.y for p in bar.boundary) for bar in bars]
    assert tops == sorted(tops, reverse=True)


def test_words_say_the_numbers(scene: Scene) -> None:
    network, units = scene.design.network, scene.units
    told = " ".join(ladder_words(network, units))
    flow = network.least_to_spare
    assert told.startswith(f"{flow.tag} takes {units.free_air(flow.free_air_m3_s)}")
    assert f"{units.pressure(flow.tool_pressure_pa)} are left at the tool" in told
    assert all(tag in told for tag in flow.together_with)
    assert all(
        flow.tool_pressure_pa - flow.needed_pa <= other.tool_pressure_pa - other.needed_pa for other in network.outlets
    )
