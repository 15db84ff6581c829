"""Legend and notes of a set: all on one sheet where the paper allows it, and rooms named within their walls."""

from __future__ import annotations

import re
from itertools import product
from pathlib import Path

import pytest
from shapely import Point as Spot
from shapely import Polygon

from drafter.drawing import Drawing, Sheet, Text
from drafter.geometry import Point
from drafter.lettering import wrapped
from drafter.pipeline import compose_drawing, design
from drafter.sheets.layers import Layers
from drafter.sheets.notes import BETWEEN_MM, HEAD_MM, PITCH_MM, in_columns, notes
from drafter.sheets.paper import paper
from drafter.sheets.scene import Scene
from drafter.sheets.title_strip import drawing_area
from drafter.symbol_library import load_all

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))
SMALL, NO_WIDER = ("boat_shed", "machinery_shed"), ("A4", "Letter")


def on_paper(name: str, size: str) -> tuple[Scene, Drawing]:
    text = (EXAMPLES[0].parent / f"{name}.yaml").read_text(encoding="utf-8")
    text, count = re.subn(r"\bpaper: \w+", f"paper: {size}", text)
    assert count == 1
    done = design(text, f"{name}.yaml")
    assert done.design is not None, done.findings
    assert done.takeoff is not None
    scene = Scene(done.design, done.takeoff, dict(load_all()), Layers("M"), {})
    return scene, compose_drawing(done)


def texts(sheet: Sheet) -> list[Text]:
    return [item for item in sheet.items if isinstance(item, Text)]


def begins(note: str) -> str:
    """A piece of a note that stands in one line at any width it is set to."""
    return " ".join(note.split()[:3])


@pytest.mark.parametrize("name, size", [*product(SMALL, ("A3", "A2", "A1", "11x17", "ARCH C", *NO_WIDER))])
def test_all_notes_stand_once_and_on_one_sheet_where_it_is_wide(name: str, size: str) -> None:
    scene, drawing = on_paper(name, size)
    told = [note for note in notes(scene) if not note.startswith("WARNINGS")]
    places = [
        [number for number, sheet in enumerate(drawing.sheets) for t in texts(sheet) if t.text.startswith(begins(note))]
        for note in told
    ]
    assert all(len(each) == 1 for each in places), places
    if size not in NO_WIDER:
        assert {each[0] for each in places} == {0}
        assert any(text.text == "LEGEND" for text in texts(drawing.sheets[0]))


@pytest.mark.parametrize("width_mm", [70.0, 150.0, 220.0, 300.0])
@pytest.mark.parametrize("done", [0, 4])
def test_columns_of_notes_are_whole_in_order_and_within_their_height(width_mm: float, done: int) -> None:
    scene, _ = on_paper("machinery_shed", "A3")
    columns = in_columns(scene, done, width_mm)
    assert [number for column in columns.columns for number in column] == list(range(done + 1, len(notes(scene)) + 1))
    assert columns.column_mm * len(columns.columns) <= width_mm
    for column in columns.columns:
        lines = sum(len(columns.lines[number]) for number in column)
        assert HEAD_MM + lines * PITCH_MM + (len(column) - 1) * BETWEEN_MM <= columns.height_mm + 1e-9
    for number, lines in columns.lines.items():
        assert " ".join(lines) == " ".join(wrapped(notes(scene)[number - 1], 1e6, 2.5))
    set_ = [item for item in columns.items(scene, Point(10.0, 200.0)) if isinstance(item, Text)]
    assert set_[0].text == ("NOTES (continued)" if done else "NOTES")
    assert min(item.at.y for item in set_) >= 200.0 - columns.height_mm


@pytest.mark.parametrize("name", ["boat_shed", "bus_depot", "machinery_shed"])
def test_a_room_is_named_within_its_walls(name: str) -> None:
    done = design((EXAMPLES[0].parent / f"{name}.yaml").read_bytes(), f"{name}.yaml")
    assert done.layout is not None
    plan = next(view for view in compose_drawing(done).views if view.name == "plan")
    for room, walls in done.layout.site.walls.items():
        floor = Polygon([(wall.left.x * 1000.0, wall.left.y * 1000.0) for wall in walls])
        (at,) = [item.at for item in plan.items if isinstance(item, Text) and item.text == room.upper()]
        assert floor.contains(Spot(at.x, at.y))


def test_the_note_on_a_ring_names_its_own_valves_alone() -> None:
    scene, _ = on_paper("boat_shed", "A2")
    of_ring = {node.tag for node in scene.layout.nodes.values() if node.what.startswith("ring valve")}
    others = {node.tag for node in scene.layout.nodes.values() if node.tag.startswith("V-")} - of_ring
    assert len(of_ring) == 3
    (note,) = [each for each in notes(scene) if each.startswith("The ring falls")]
    named = set(re.findall(r"V-\d+", note))
    assert of_ring <= named
    assert named - of_ring == {"V-01"} <= others


@pytest.mark.parametrize(("name", "size"), [("boat_shed", "A4"), ("cabinet_shop", "Letter"), ("bus_depot", "A3")])
def test_the_legend_stays_above_the_strip_on_small_paper(name: str, size: str) -> None:
    path = next(path for path in EXAMPLES if path.stem == name)
    drawing = compose_drawing(design(path.read_bytes(), path.name, paper=size))
    bottom = drawing_area(paper(size)).bottom
    legends = [i for sheet in drawing.sheets for i in sheet.items if i.layer == "M-ANNO-LEGN" and isinstance(i, Text)]
    assert len(legends) > 20
    assert min(item.at.y for item in legends) > bottom
