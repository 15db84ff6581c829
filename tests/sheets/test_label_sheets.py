"""Labels to print: every thing on the pipe has its own, at its place, with the right arrow, at the standard's size."""

from __future__ import annotations

from itertools import combinations, pairwise
from pathlib import Path

import pytest

from drafter.drawing import Area, Drawing, Polyline, Text
from drafter.geometry import Box
from drafter.layout.graph import NodeKind, RunKind
from drafter.lettering import text_width_mm
from drafter.pipeline import design
from drafter.sheets.label_sheets import CONTENTS, labels_drawing
from drafter.sheets.markers import label_count, marked_stations_m, pipe_markers, tags
from drafter.sizing.network import Network
from drafter.standards.rule_sets import label_size, labels_apart_m
from drafter.supports.lines import pipe_lines

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))
YARD = (Path(__file__).parents[1] / "data" / "keeps_every_rule.yaml").read_text(encoding="utf-8")
LONG = """
site: Long hall (invented)
rooms: {hall: {size: [40 m, 10 m], ceiling: 4 m}}
compressor:
  {wall: west, from left: 1 m, power: 4 kW, free air: 8 l/s, cut in: 8 bar, cut out: 9 bar, tank: 100 l, rated: 11 bar,
   relief: 10 bar}
main: {material: copper tube, height: 3.2 m, fall: 1 %, path: [west, north]}
outlets: [{tag: A1, wall: north, from left: 39 m, tools: [blow gun]}]
"""


def network_of(text: str) -> Network:
    done = design(text, "yard.yaml")
    assert done.network is not None, done.findings
    return done.network


def every(drawing: Drawing, kind: type) -> list:
    return [item for sheet in drawing.sheets for item in sheet.items if isinstance(item, kind)]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_everything_with_a_tag_has_one_to_hang_and_every_wall_with_main_a_marker(path: Path) -> None:
    network = network_of(path.read_text(encoding="utf-8"))
    drawing = labels_drawing(network)
    layout = network.layout
    words = [text.text for text in every(drawing, Text)]
    kinds = (NodeKind.VALVE, NodeKind.DRAIN, NodeKind.TREATMENT, NodeKind.COUPLING)
    for node in layout.nodes.values():
        if node.tag and node.kind in kinds:
            assert words.count(node.tag) == 1, node.tag
    markers = pipe_markers(network)
    assert words.count(CONTENTS) == len(markers)
    arrows = sum(2 if marker.toward == "both" else 1 for marker in markers)
    assert len(every(drawing, Area)) == arrows
    assert label_count(network) == len(markers) + sum(
        node.kind in (NodeKind.VALVE, NodeKind.DRAIN, NodeKind.TANK) for node in layout.nodes.values()
    )
    on_walls = {(line.wall.room, line.wall.name) for line in pipe_lines(network) if line.is_main and not line.upright}
    assert len(markers) >= len(on_walls)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_no_label_lies_on_another_or_off_the_paper(path: Path) -> None:
    drawing = labels_drawing(network_of(path.read_text(encoding="utf-8")))
    for sheet in drawing.sheets:
        assert {round(sheet.width_mm), round(sheet.height_mm)} in ({297, 210}, {279, 216})
        frames = [Box.around(item.points) for item in sheet.items if isinstance(item, Polyline) and item.closed]
        labels = [box for box in frames if 20.0 < box.height < 100.0]
        assert labels
        assert not [1 for a, b in combinations(labels, 2) if a.grown(-0.1).overlaps(b)]
        assert all(box.left > 0.0 and box.right < sheet.width_mm and box.bottom > 20.0 for box in labels)
        for text in (item for item in sheet.items if isinstance(item, Text)):
            assert text_width_mm(text.text, text.height_mm, text.weight) < sheet.width_mm - 25.0


def test_arrows_point_the_way_the_air_flows_for_somebody_who_faces_the_wall() -> None:
    """From the west wall the air comes to the left-hand corner of the north wall, which one faces from inside."""
    markers = pipe_markers(network_of(LONG))
    assert [marker.toward for marker in markers] == ["up", "right", "right", "right", "right"]
    turned = LONG.replace("west, north]", "west, south]").replace("wall: north", "wall: south").replace("39 m", "1 m")
    assert {marker.toward for marker in pipe_markers(network_of(turned))} == {"up", "left"}


def test_a_long_line_is_marked_every_50_ft() -> None:
    network = network_of(LONG)
    line = max(pipe_lines(network), key=lambda line: line.high_m - line.low_m)
    stations = marked_stations_m(network.layout, line, "right")
    assert stations[0] == pytest.approx(line.low_m + 0.4)
    assert all(after - before <= labels_apart_m() for before, after in pairwise((*stations, line.high_m)))
    assert labels_apart_m() == pytest.approx(15.24)


def test_both_sides_of_a_wall_are_marked() -> None:
    network = network_of((EXAMPLES[0].parent / "bus_depot.yaml").read_text(encoding="utf-8"))
    layout = network.layout
    through = {id for run in layout.runs if run.kind is RunKind.SLEEVE for id in (run.start, run.end)}
    assert through
    for line in (line for line in pipe_lines(network) if line.is_main and not line.upright):
        ends = {line.runs[0].start, line.runs[0].end, line.runs[-1].start, line.runs[-1].end} & through
        for id in ends:
            there = line.wall.measure(layout.nodes[id].at.plan)[0]
            stations = marked_stations_m(layout, line, "right") + marked_stations_m(layout, line, "left")
            assert min(abs(station - there) for station in stations) < 0.5


def test_a_ring_is_fed_from_both_sides() -> None:
    network = network_of((EXAMPLES[0].parent / "boat_shed.yaml").read_text(encoding="utf-8"))
    assert {marker.toward for marker in pipe_markers(network)} == {"up", "both"}


@pytest.mark.parametrize(
    "size, letters_mm, field_mm", [("1/2", 6.0, 0.0), ("3/4", 12.7, 203.2), ("1-1/2", 19.05, 203.2)]
)
def test_letters_and_fields_are_those_of_the_table(size: str, letters_mm: float, field_mm: float) -> None:
    """ASME A13.1: 3/4 to 1 1/4 in outside letters of 1/2 in on 8 in, to 2 in letters of 3/4 in on 8 in."""
    network = network_of(LONG.replace("copper tube,", f"copper tube, size: {size},"))
    drawing = labels_drawing(network)
    markers = [text for text in every(drawing, Text) if text.text == CONTENTS]
    assert {round(text.height_mm, 6) for text in markers} == {letters_mm}
    (outside_m,) = {network.sizes[run.id].outside_m for run in network.layout.runs if run.kind is RunKind.MAIN}
    assert label_size(outside_m).field_m * 1000.0 == pytest.approx(field_mm)
    frames = [Box.around(item.points) for item in every(drawing, Polyline) if item.closed]
    assert max(box.width for box in frames if box.width < 265.0) >= field_mm


def test_pressures_are_those_the_pipe_works_at_and_no_tag_leaves_out_its_caution() -> None:
    text = YARD + "treatment: [filter, {kind: regulator, set: 6.5 bar}]\n"
    network = network_of(text)
    markers = pipe_markers(network)
    assert markers[0].pressure == network.layout.site.units.pressure(network.layout.site.compressor.cut_out_pa)
    assert {marker.pressure for marker in markers[1:]} == {"6.50 bar"}
    said = {tag.name: " ".join(tag.lines) for tag in tags(network)}
    assert "lock" in said["V-01"]
    assert "bleed" in said["C-01"]
    assert "Set to 6.50 bar, no more" in said["T-02"]
    assert all("bucket" in words for name, words in said.items() if name.startswith("D-"))


def test_labels_of_a_design_with_errors_are_stamped() -> None:
    network = network_of(YARD)
    drawing = labels_drawing(network, "NOT FOR CONSTRUCTION - 1 ERROR")
    for sheet in drawing.sheets:
        assert any("NOT FOR CONSTRUCTION" in item.text for item in sheet.items if isinstance(item, Text))
