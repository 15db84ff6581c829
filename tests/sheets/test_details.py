"""The typical details: only what a job has, with its own numbers, every label in its frame and covering nothing."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from generated_site import site_text

from drafter.backends.dimension_lines import dimension_lines, dimension_text
from drafter.drawing import Circle, Dimension, Insert, Item, Polyline, Text
from drafter.geometry import Box
from drafter.layout.graph import NodeKind, RunKind
from drafter.pipeline import design
from drafter.sheets.detail_picture import Place
from drafter.sheets.details import SLACKS_MM, detail_pages, row_of_details, typical_details
from drafter.sheets.details_drop import drops
from drafter.sheets.details_support import usual_bracket
from drafter.sheets.diagram_and_details import diagram_and_details
from drafter.sheets.item_boxes import boxes_of, text_box
from drafter.sheets.layers import Layers
from drafter.sheets.paper import paper
from drafter.sheets.scene import Scene
from drafter.sheets.title_strip import drawing_area
from drafter.symbol_library import load_all

STUDS = ", studs: {spacing: 900 mm, first: 450 mm}"
UNITS = "service: [filter, regulator, lubricator]"
EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))
CHANCE = [
    (1, 1, 5, "A4", ""), (3, 1, 2, "Letter, units: imperial", ""), (5, 1, 4, "A3, units: imperial", STUDS),
    (12, 2, 4, "A3", STUDS), (40, 3, 1, "ARCH D", ""),
    (3, 1, 6, "ARCH C, units: imperial", UNITS),
]  # fmt: skip


def made(text: str | bytes) -> Scene:
    done = design(text, "site.yaml")
    assert done.design is not None, done.findings
    assert done.takeoff is not None
    return Scene(done.design, done.takeoff, dict(load_all()), Layers("M"), {})


@pytest.fixture(scope="module", params=[*EXAMPLES, *CHANCE], ids=lambda each: getattr(each, "stem", None))
def scene(request: pytest.FixtureRequest) -> Scene:
    given = request.param
    if isinstance(given, Path):
        return made(given.read_bytes())
    text = site_text(*given[:3]).replace("rooms:", f"drawing: {{paper: {given[3]}}}\nrooms:", 1)
    if given[4] == UNITS:
        text = text.replace("wall: north, from left", f"{UNITS}, wall: north, from left")
    return made(text.replace("ceiling: 3.2 m", f"ceiling: 3.2 m{STUDS if given[4] == STUDS else ''}"))


@pytest.fixture(scope="module")
def area(scene: Scene) -> Box:
    return drawing_area(paper(scene.site.drawing.paper)).grown(-6.0)


def dimension_words(items: list[Item]) -> set[str]:
    return {item.text for item in items if isinstance(item, Dimension)}


def drawn(scene: Scene, title: str) -> list[Item]:
    detail = next(detail for detail in typical_details(scene) if detail.title.startswith(title))
    return detail.draw(Place(Box(0.0, 0.0, 80.0, 100.0))).finished()[0]


def test_only_what_the_job_has(scene: Scene) -> None:
    titles = [detail.title for detail in typical_details(scene)]
    hangs = any(bracket.hangs for bracket in scene.design.brackets)
    assert any(title.startswith("HANGER") for title in titles) == hangs
    assert titles[-1] == "CONNECTION AT THE COMPRESSOR"
    assert len(titles) == 5 + hangs + any(title.startswith("BRACKET ON A BOARD") for title in titles)


def test_the_swan_neck_has_the_designs_sizes(scene: Scene) -> None:
    units, layout = scene.units, scene.layout
    shown = dimension_words(drawn(scene, "TAKE-OFF"))
    rises = {units.length(layout.nodes[run.end].at.z - layout.nodes[run.start].at.z)
             for run in layout.runs if run.kind is RunKind.SWAN_NECK and layout.is_upright(run)}  # fmt: skip
    assert shown & rises
    assert units.length(scene.site.main.drop_off_wall_m) in shown


def test_heights_at_the_outlet_are_those_of_its_nodes(scene: Scene) -> None:
    layout, units = scene.layout, scene.units
    title = next(detail.title for detail in typical_details(scene) if detail.title.startswith("OUTLET"))
    tag = title.rpartition(" ")[2]
    shown = dimension_words(drawn(scene, "OUTLET"))
    for run in layout.runs:
        end = layout.nodes[run.end]
        if run.outlet == tag and end.kind in (NodeKind.VALVE, NodeKind.COUPLING):
            assert units.length(end.at.z) in shown
        if run.outlet == tag and end.kind is NodeKind.DRAIN:
            assert units.length(end.at.z) in dimension_words(drawn(scene, "DRIP LEG"))
    coupling = next(node for node in layout.couplings if node.tag == tag)
    foot = layout.outlet_foot(coupling)
    off_m = scene.wall_of(coupling).measure(coupling.at.plan)[1]
    along_m = coupling.at.plan.minus(foot.at.plan).length
    is_along = abs(off_m - scene.wall_of(coupling).measure(foot.at.plan)[1]) < 0.001
    assert units.length(along_m if is_along else off_m) in shown


def test_units_along_the_wall_stand_on_the_side_that_they_are_on(scene: Scene) -> None:
    if not (hanging := drops(scene)) or not hanging[0].is_along_wall:
        return
    layout, coupling = scene.layout, hanging[0].node(NodeKind.COUPLING)
    aside_m = layout.from_left_m(coupling) - layout.from_left_m(layout.outlet_foot(coupling))
    signs = {item.symbol: item.at.x for item in drawn(scene, "OUTLET AT THE WALL") if isinstance(item, Insert)}
    assert (signs["outlet"] - signs["ball_valve"]) * aside_m > 0.0


def test_a_bracket_on_a_board_has_a_detail_of_its_own(scene: Scene) -> None:
    titles = [detail.title for detail in typical_details(scene)]
    usual = usual_bracket(scene, hangs=False)
    boarded = [each.tag for each in scene.design.brackets if each.board]
    told = [title for title in titles if title.startswith("BRACKET ON A BOARD")]
    assert len(told) == (bool(boarded) and not (usual is not None and usual.tag == boarded[0]))
    assert all(title.endswith(f" {boarded[0]}") for title in told)


def test_leg_bracket_and_connection_have_the_designs_sizes(scene: Scene) -> None:
    layout, units = scene.layout, scene.units
    legs = {units.length(layout.length_m(run)) for run in layout.runs if run.kind is RunKind.DRIP_LEG and run.outlet}
    assert dimension_words(drawn(scene, "DRIP LEG")) & legs
    bracket = next(detail for detail in typical_details(scene) if detail.title.startswith("BRACKET"))
    held = next(each for each in scene.design.brackets if bracket.title.endswith(each.tag))
    assert dimension_words(drawn(scene, "BRACKET")) == {units.length(held.stand_off_m)}
    assert units.length_with_unit(held.size.bracket_span_m) in bracket.words[0]
    shown = dimension_words(drawn(scene, "CONNECTION"))
    connection = scene.site.compressor.connection
    assert connection is not None
    assert units.length(connection.height_m) in shown
    foot = next(node for node in layout.nodes.values() if node.tag == "D-01")
    assert units.length(foot.at.z) in shown


def test_every_label_finds_room_inside_its_frame(scene: Scene, area: Box) -> None:
    row = row_of_details(scene, replace(area, bottom=area.top - 110.0))
    for page in [*(items for items, _ in detail_pages(scene, area)), *([row] if row else [])]:
        frames = [
            Box.around(list(item.points)) for item in page if isinstance(item, Polyline) and _is_frame(item, scene)
        ]
        numbers = [dimension_text(item, 1.0) for item in page if isinstance(item, Dimension)]
        written = [item for item in page if isinstance(item, Text)]
        texts = [(item.text, text_box(item, 1.0)) for item in (*written, *numbers)]
        for _, box in texts:
            head = box.bottom > max(frame.top for frame in frames)
            assert head or any(_holds(frame.grown(0.2), box) for frame in frames)
        for dimension in (item for item in page if isinstance(item, Dimension)):
            for line in dimension_lines(dimension, 1.0):
                span = Box.around([line.start, line.end]).grown(0.01)
                assert [text for text, box in texts if box.grown(-0.1).overlaps(span)] == [], dimension.text
        for number, (text, box) in enumerate(texts):
            assert not [other for other, there in texts[number + 1 :] if box.grown(-0.05).overlaps(there)], text
        bubbles = sorted(item.centre for item in page if isinstance(item, Circle) and item.layer == scene.layers.tag)
        assert len(bubbles) == len(frames)
        for item in page:
            for box in boxes_of(item, 1.0, scene.symbols):
                head = box.bottom > max(frame.top for frame in frames)
                inside = any(_holds(frame.grown(0.2), box) for frame in frames)
                assert head or inside, item
    for detail in typical_details(scene):
        width = 70.0
        tried = [detail.draw(Place(Box(0.0, 0.0, width, 56.0), slack)).finished()[1] for slack in SLACKS_MM]
        assert [] in tried, (detail.title, tried)


def _is_frame(item: Polyline, scene: Scene) -> bool:
    return item.layer == scene.layers.table and item.closed


def _holds(frame: Box, box: Box) -> bool:
    return (
        frame.left <= box.left and box.right <= frame.right and frame.bottom <= box.bottom and box.top <= frame.top
    )  # fmt: skip


def test_details_are_numbered_through(scene: Scene, area: Box) -> None:
    numbers = [
        int(item.text)
        for page, _ in detail_pages(scene, area)
        for item in page
        if isinstance(item, Text) and item.text.isdigit() and item.height_mm > 3.0
    ]
    assert numbers == list(range(1, len(typical_details(scene)) + 1))


def test_a_small_job_has_diagram_and_details_on_one_sheet() -> None:
    scene = made((EXAMPLES[0].parent / "bicycle_coop.yaml").read_bytes())
    area = drawing_area(paper("A3")).grown(-6.0)
    (page,) = diagram_and_details(scene, area)
    assert (page.series, page.title) == (6, "Flow diagram and details")
    words = [item.text for item in page.items if isinstance(item, Text)]
    assert words.count("NOT TO SCALE") == 1
    assert any(word.startswith("NOT TO SCALE. ") for word in words)
    assert diagram_and_details(scene, area) == [page]
