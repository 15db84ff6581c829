"""The flow diagram: everything of the design stands in it once, with the numbers of the sizing; nothing overlaps."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from generated_site import site_text

from drafter.drawing import Circle, Insert, Item, Line, Text
from drafter.geometry import Box, Point
from drafter.layout.graph import NodeKind
from drafter.pipeline import design
from drafter.sheets.flow_chains import all_stations, flow_chain
from drafter.sheets.flow_diagram import LETTERS, FlowPage, flow_pages
from drafter.sheets.item_boxes import text_box
from drafter.sheets.layers import Layers
from drafter.sheets.paper import paper
from drafter.sheets.scene import Scene
from drafter.sheets.title_strip import drawing_area
from drafter.symbol_library import load_all

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))
CHANCE = {
    "1 outlet": (1, 1, 5, "A3", ""),
    "4 outlets, automatic drains": (4, 2, 7, "A4", "drains: automatic, "),
    "9 outlets, stepped": (9, 3, 3, "Letter", "sizing: stepped, "),
    "17 outlets, back to the riser": (17, 2, 11, "A3", "falls to: riser, "),
    "30 outlets": (30, 3, 2, "A3", ""),
    "60 outlets": (60, 3, 1, "A1", ""),
    "60 outlets on small sheets": (60, 2, 4, "A4", ""),
    "ring of 6": (6, 1, 8, "A3", "arrangement: ring, "),
    "ring of 25, branches": (25, 3, 6, "A3", "arrangement: ring, "),
    "ring of 60": (60, 2, 9, "A4", "arrangement: ring, "),
    "3 outlets, small sheets": (3, 1, 1, "Letter", ""),
    "spare tee": (
        3, 1, 3, "A3",
        "spare tees: [{room: r1, wall: south, from left: 5 m}], by way of: [{room: r1, wall: south, from left: 6 m}], ",
    ),
}  # fmt: skip


def chance_text(outlets: int, rooms: int, seed: int, sheet: str, main: str) -> str:
    text = site_text(outlets, rooms, seed).replace("height: 2.7 m", "height: 2 m").replace("main: {", f"main: {{{main}")
    return text.replace("rooms:", f"drawing: {{paper: {sheet}}}\nrooms:", 1)


@pytest.fixture(scope="module", params=[*EXAMPLES, *CHANCE], ids=lambda each: getattr(each, "stem", each))
def scene(request: pytest.FixtureRequest) -> Scene:
    given = request.param
    text = given.read_bytes() if isinstance(given, Path) else chance_text(*CHANCE[given])
    done = design(text, "site.yaml")
    assert done.design is not None, done.findings
    assert done.takeoff is not None
    return Scene(done.design, done.takeoff, dict(load_all()), Layers("M"), {})


@pytest.fixture(scope="module")
def area(scene: Scene) -> Box:
    return drawing_area(paper(scene.site.drawing.paper)).grown(-6.0)


@pytest.fixture(scope="module")
def pages(scene: Scene, area: Box) -> list[FlowPage]:
    return flow_pages(scene, area)


def items_of(pages: list[FlowPage]) -> list[Item]:
    return [item for page in pages for item in page.items]


def test_everything_with_a_tag_stands_in_it_once(scene: Scene, pages: list[FlowPage]) -> None:
    drawn = Counter(
        dict(item.attributes)["TAG"] for item in items_of(pages) if isinstance(item, Insert) and item.attributes
    )
    written = Counter(item.text for item in items_of(pages) if isinstance(item, Text))
    symbols = (NodeKind.VALVE, NodeKind.DRAIN, NodeKind.COUPLING, NodeKind.TREATMENT, NodeKind.TANK)
    for node in scene.layout.nodes.values():
        if node.kind in symbols:
            assert drawn[node.tag] == 1, node.tag
        if node.tag and node.kind is not NodeKind.SERVICE:
            assert written[node.tag] == 1, node.tag
    units = Counter(node.what for node in scene.layout.nodes.values() if node.kind is NodeKind.SERVICE)
    shown = Counter(
        dict(item.attributes)["TYPE"]
        for item in items_of(pages)
        if isinstance(item, Insert)
        and item.attributes
        and item.layer == scene.layers.outlet
        and item.symbol != "outlet"
    )
    assert shown == units


def test_stations_follow_the_air(scene: Scene) -> None:
    chain = flow_chain(scene)
    outlets = [station.outlet for station in all_stations(chain) if station.outlet]
    assert sorted(outlets) == sorted(outlet.tag for outlet in scene.site.outlets)
    treatment = [s.node.what for s in chain.stations if s.node.kind is NodeKind.TREATMENT and s.kind == "treatment"]
    assert treatment == [unit.kind for unit in scene.site.treatment]
    reached = {scene.layout.runs[0].start}
    for run in scene.layout.runs:
        assert run.start in reached
        reached.add(run.end)


def test_numbers_are_those_of_the_sizing(scene: Scene, pages: list[FlowPage]) -> None:
    units, network = scene.units, scene.design.network
    for page in pages:
        texts = [item for item in page.items if isinstance(item, Text)]
        for flow in network.outlets:
            for tag in (text for text in texts if text.text == flow.tag):
                under = [t for t in texts if abs(t.at.x - tag.at.x) < 0.01 and 0.0 < tag.at.y - t.at.y < 11.0]
                words = [t.text for t in sorted(under, key=lambda t: -t.at.y)]
                assert words[:2] == [units.free_air(flow.free_air_m3_s), units.pressure(flow.gauge_pressure_pa)]
    shown = {item.text for item in items_of(pages) if isinstance(item, Text)}
    for flow in network.outlets:
        before = [scene.site.compressor.cut_in_pa, *(step.gauge_pressure_pa for step in flow.ladder)]
        names = [step.what for step in flow.ladder]
        in_main_pa = before[names.index("drop")] if "drop" in names else before[len(names)]
        assert units.pressure(in_main_pa) in shown
        assert flow.gauge_pressure_pa <= in_main_pa + 1.0
    assert units.pressure(network.supply.supply_gauge_pa) in shown
    taking = [run for run in scene.layout.runs if run.kind.name == "MAIN" and network.pipe(run.id).free_air_m3_s > 0.0]
    assert {units.free_air(network.pipe(taking[0].id).free_air_m3_s)} <= shown
    for run in taking:
        assert scene.size_of(run) in shown


def test_the_legend_shows_just_the_symbols_used(scene: Scene, pages: list[FlowPage]) -> None:
    legend = scene.layers.legend
    inserts = [item for item in items_of(pages) if isinstance(item, Insert)]
    in_legend = Counter(item.symbol for item in inserts if item.layer == legend)
    assert set(in_legend) == {item.symbol for item in inserts if item.layer != legend}
    assert max(in_legend.values()) == 1


def test_texts_lie_apart_and_on_the_sheet(pages: list[FlowPage], area: Box) -> None:
    for page in pages:
        boxes = [(item.text, text_box(item, 1.0)) for item in page.items if isinstance(item, Text)]
        for number, (text, box) in enumerate(boxes):
            assert area.left - 3.0 <= box.left, text
            assert box.right <= area.right + 3.0, text
            assert area.bottom - 0.1 <= box.bottom, text
            assert box.top <= area.top + 0.1, text
            assert not [other for other, there in boxes[number + 1 :] if box.grown(-0.05).overlaps(there)], text


def test_no_line_crosses_another_or_a_text(pages: list[FlowPage]) -> None:
    for page in pages:
        lines = [item for item in page.items if isinstance(item, Line)]
        assert all(
            line.start.x == pytest.approx(line.end.x) or line.start.y == pytest.approx(line.end.y) for line in lines
        )
        spans = [Box.around([line.start, line.end]) for line in lines]
        for text in (item for item in page.items if isinstance(item, Text)):
            box = text_box(text, 1.0)
            assert not any(_meet(box, span) for span in spans), text.text
        for number, a in enumerate(spans):
            for b in spans[number + 1 :]:
                assert not _crosses(a, b), (a, b)


def _meet(box: Box, span: Box) -> bool:
    return box.overlaps(span.grown(0.05))


def _crosses(a: Box, b: Box) -> bool:
    """Whether a level and an upright line cross away from their ends."""
    for level, upright in ((a, b), (b, a)):
        if level.height < 0.01 and upright.width < 0.01:
            inside = level.left + 0.01 < upright.left < level.right - 0.01
            if inside and upright.bottom + 0.01 < level.bottom < upright.top - 0.01:
                return True
    return False


def test_letters_stand_where_a_line_leaves_and_where_it_goes_on(pages: list[FlowPage]) -> None:
    rings = [[item.centre for item in page.items if isinstance(item, Circle)] for page in pages]
    letters = Counter(
        item.text
        for page, centres in zip(pages, rings, strict=True)
        for item in page.items
        if isinstance(item, Text) and any(_at(item.at, centre) for centre in centres)
    )
    assert all(count == 2 for count in letters.values())
    with_lines = [page for page in pages if any(isinstance(item, Line) for item in page.items)]
    assert letters or len(with_lines) == 1
    said = [any(isinstance(item, Text) and LETTERS in item.text for item in page.items) for page in pages]
    assert said == [bool(letters)] * len(pages)


def _at(a: Point, b: Point) -> bool:
    return a.minus(b).length < 0.01


def test_it_is_repeatable(scene: Scene, area: Box, pages: list[FlowPage]) -> None:
    assert flow_pages(scene, area) == pages


def test_symbols_are_as_large_as_the_fewest_sheets_allow() -> None:
    done = design(chance_text(2, 1, 5, "A2", ""), "site.yaml")
    assert done.design is not None
    assert done.takeoff is not None
    scene = Scene(done.design, done.takeoff, dict(load_all()), Layers("M"), {})
    wide = drawing_area(paper("A2"))
    (alone,), (spared,) = flow_pages(scene, wide), flow_pages(scene, wide, 240.0)
    assert spared.bottom > alone.bottom
    assert spared.bottom - 240.0 >= wide.bottom
