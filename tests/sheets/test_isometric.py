"""The isometric: all of the piping on it, written lengths true, lines along the axes, nothing over anything."""

from __future__ import annotations

import dataclasses
from collections import Counter
from functools import cache, lru_cache
from io import StringIO
from pathlib import Path

import ezdxf
import pytest
from dxf_read import pipe_lines
from generated_site import site_text
from shapely import LineString, Polygon, STRtree

from drafter.backends.dxf import to_dxf
from drafter.drawing import Drawing, Item, Leader, Line, Polyline, Text, View
from drafter.geometry import Box, Point
from drafter.layout.graph import NodeKind, RunKind
from drafter.lettering import text_width_mm
from drafter.pipeline import Designed, compose_drawing, design
from drafter.sheets.isometric_parts import split

EXAMPLES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))
WRITTEN = (RunKind.MAIN, RunKind.SLEEVE, RunKind.RISE, RunKind.RISING)
CHANCE = (
    (1, 1, 1, "A4", False, False),
    (4, 1, 3, "A3", False, False),
    (6, 1, 13, "Letter", False, False),
    (8, 2, 4, "A3", True, False),
    (10, 1, 21, "A3", False, True),
    (15, 3, 6, "A3", False, False),
    (30, 3, 9, "A2", False, False),
    (40, 2, 7, "A3", False, False),
)
"""Outlets, rooms, seed and paper of sites made by chance; with columns and a crossing; with a ring main."""


@lru_cache(maxsize=4)
def drawn(path: Path) -> tuple[Designed, Drawing]:
    designed = design(path.read_bytes(), path.name)
    return designed, compose_drawing(designed)


@cache
def by_chance(outlets: int, rooms: int, seed: int, paper: str, full: bool, ring: bool) -> tuple[Designed, Drawing]:
    text = site_text(outlets, rooms, seed, full=full).replace("rooms:", f"drawing: {{paper: {paper}}}\nrooms:", 1)
    text = (
        text.replace("height: 2.6 m, fall: 0.5 %", "height: 2.95 m, fall: 0.5 %, arrangement: ring") if ring else text
    )
    designed = design(text, "chance.yaml")
    assert designed.takeoff is not None, designed.findings
    return designed, compose_drawing(designed)


@pytest.fixture(params=[*EXAMPLES, *CHANCE], ids=lambda each: each.stem if isinstance(each, Path) else str(each[:4]))
def made(request: pytest.FixtureRequest) -> tuple[Designed, Drawing]:
    return drawn(request.param) if isinstance(request.param, Path) else by_chance(*request.param)


def isometrics(drawing: Drawing) -> list[View]:
    found = [view for view in drawing.views if view.name.startswith("isometric")]
    assert found
    return found


def texts(view: View) -> list[Text]:
    return [item for item in view.items if isinstance(item, Text)]


def room_of(text: Text, scale: float) -> Polygon:
    """The box of a text's capitals in the view."""
    width, height = text_width_mm(text.text, text.height_mm, text.weight) * scale, text.height_mm * scale
    across, up = (0.5, 0.5) if text.anchor == "centre" else (0.5 if text.anchor == "bottom" else 0.0, 0.0)
    box = Box(-across * width, -up * height, (1 - across) * width, (1 - up) * height)
    return Polygon([corner.turned(text.angle_deg).plus(text.at) for corner in box.corners])


def lines_of(item: Item) -> list[tuple[Point, ...]]:
    match item:
        case Line():
            return [(item.start, item.end)]
        case Polyline():
            return [(*item.points, *(item.points[:1] if item.closed else ()))]
        case Leader():
            return [item.points]
    return []


def test_every_tag_and_level_of_outlets_stands_on_it(made: tuple[Designed, Drawing]) -> None:
    designed, drawing = made
    assert designed.layout is not None
    assert designed.site is not None
    words = Counter(text.text for view in isometrics(drawing) for text in texts(view))
    tags = {node.tag for node in designed.layout.nodes.values() if node.tag}
    assert sorted(tag for tag in tags if words[tag] != 1) == []
    levels = Counter(designed.site.units.level(node.at.z) for node in designed.layout.couplings)
    assert all(words[level] >= count for level, count in levels.items())


def test_written_lengths_are_those_of_the_model(made: tuple[Designed, Drawing]) -> None:
    designed, drawing = made
    assert designed.layout is not None
    assert designed.site is not None
    layout, units = designed.layout, designed.site.units
    words = Counter(text.text for view in isometrics(drawing) for text in texts(view))
    lengths = Counter(units.length(layout.length_m(run)) for run in layout.runs if run.kind in WRITTEN)
    assert {length: count for length, count in lengths.items() if words[length] < count} == {}


def test_lengths_and_piece_numbers_stand_beside_what_they_belong_to(made: tuple[Designed, Drawing]) -> None:
    """Beside the line of a run that is so long, of a drop that is, or that the piece lies on."""
    designed, drawing = made
    assert designed.layout is not None
    assert designed.takeoff is not None
    assert designed.site is not None
    layout, units = designed.layout, designed.site.units
    said: dict[str, set[str]] = {}
    for run in layout.runs:
        said.setdefault(units.length(layout.length_m(run)), set()).add(run.id)
    for node in layout.couplings:
        drop = [run for run in layout.runs if run.outlet == node.tag and run.kind is RunKind.DROP]
        length = units.length(sum(layout.length_m(run) for run in drop))
        said.setdefault(length, set()).update(run.id for run in drop)
    for piece in designed.takeoff.pieces:
        said[f"pc {piece.number}"] = set(piece.runs)
    for view in isometrics(drawing):
        slanted = [text for text in texts(view) if text.angle_deg and text.text in said]
        assert len(slanted) >= 4
        for text in slanted:
            middle = room_of(text, view.scale).centroid
            lines = [i for i in view.items if isinstance(i, Line) and i.id in said[text.text]]
            assert min(LineString([i.start, i.end]).distance(middle) for i in lines) < 4.0 * view.scale, text.text


def test_sizes_and_levels_of_the_main_stand_on_it(made: tuple[Designed, Drawing]) -> None:
    designed, drawing = made
    assert designed.layout is not None
    assert designed.site is not None
    assert designed.network is not None
    layout, shown = designed.layout, " ".join(t.text for view in isometrics(drawing) for t in texts(view))
    for run in layout.runs:
        if run.kind is RunKind.MAIN:
            assert designed.network.sizes[run.id].name in shown
    ends = [layout.nodes[run.start] for run in layout.runs if run.kind is RunKind.DRIP_LEG and not run.outlet]
    low = [node for node in ends if layout.is_low_point(node)]
    assert low
    assert [node.id for node in low if designed.site.units.level(node.at.z) not in shown] == []


def test_texts_cover_no_text_and_are_struck_by_no_line(made: tuple[Designed, Drawing]) -> None:
    _, drawing = made
    for view in isometrics(drawing):
        written = texts(view)
        rooms = [room_of(text, view.scale) for text in written]
        tree = STRtree(rooms)
        for number, room in enumerate(rooms):
            for other in tree.query(room, predicate="intersects"):
                if other > number:
                    shared = room.intersection(rooms[other]).area / min(room.area, rooms[other].area)
                    assert shared < 0.02, (written[number].text, written[other].text)
        for item in view.items:
            for points in lines_of(item):
                for other in tree.query(LineString(points), predicate="intersects"):
                    inside = rooms[other].buffer(-0.25 * view.scale).intersection(LineString(points)).length
                    assert inside == 0.0, (written[other].text, item)


def test_pipes_run_along_the_three_axes(made: tuple[Designed, Drawing]) -> None:
    """At 30 degrees to either side, or upright, as every run of these sites lies along an axis of the plan."""
    designed, drawing = made
    assert designed.layout is not None
    shown = set()
    for view in isometrics(drawing):
        for line in (item for item in view.items if isinstance(item, Line) and item.id):
            shown.add(line.id)
            angle = line.end.minus(line.start).angle_deg % 180.0
            assert min(abs(angle - axis) for axis in (30.0, 90.0, 150.0)) < 0.01, line.id
    drawn_otherwise = (RunKind.FLEXIBLE,)
    assert shown == {run.id for run in designed.layout.runs if run.kind not in drawn_otherwise}


def test_a_line_is_broken_where_it_passes_behind(made: tuple[Designed, Drawing]) -> None:
    designed, drawing = made
    assert designed.layout is not None
    runs = designed.layout.run_by_id
    for view in isometrics(drawing):
        pipes = [item for item in view.items if isinstance(item, Line) and item.id]
        strokes = [LineString([pipe.start, pipe.end]) for pipe in pipes]
        for a, b in STRtree(strokes).query(strokes, predicate="crosses").T:
            ends = [{runs[pipes[index].id].start, runs[pipes[index].id].end} for index in (a, b)]
            assert ends[0] & ends[1], (pipes[a].id, pipes[b].id)


def test_it_fills_a_window_of_its_own_sheet_and_says_that_it_is_not_to_scale(made: tuple[Designed, Drawing]) -> None:
    _, drawing = made
    for view in isometrics(drawing):
        (sheet,) = [sheet for sheet in drawing.sheets if view.name in {p.view for p in sheet.placements}]
        (placement,) = sheet.placements
        assert not view.to_scale
        assert view.box.width / view.scale <= placement.window.width + 0.01
        assert view.box.height / view.scale <= placement.window.height + 0.01
        assert any(isinstance(item, Text) and item.text == "NOT TO SCALE" for item in sheet.items)
        assert dict(sheet.fields)["SCALE"] == "not to scale"


def test_a_site_too_full_for_one_sheet_is_drawn_in_parts() -> None:
    designed, drawing = by_chance(*CHANCE[-1])
    assert designed.layout is not None
    views = isometrics(drawing)
    assert len(views) > 1
    for view in views:
        others = {other.title.split(" ")[1] for other in views if other is not view}
        pointers = {text.text for text in texts(view) if text.text.startswith("see isometric")}
        assert pointers
        assert pointers <= {f"see isometric {number}" for number in others}


@pytest.mark.parametrize("count", [2, 3, 7])
def test_parts_hold_every_run_once(count: int) -> None:
    for path in EXAMPLES:
        layout = drawn(path)[0].layout
        assert layout is not None
        parts = split(layout, count)
        assert Counter(run.id for part in parts for run in part.runs) == Counter(run.id for run in layout.runs)
        own = Counter(node.id for part in parts for node in part.own_nodes)
        assert set(own) == set(layout.nodes)
        assert {own[node.id] for node in layout.nodes.values() if node.tag} == {1}
        assert {part.number for part in parts} == set(range(1, len(parts) + 1))


def test_drawing_it_again_gives_the_same(made: tuple[Designed, Drawing]) -> None:
    designed, drawing = made
    if len(isometrics(drawing)) == 1:
        again = compose_drawing(dataclasses.replace(designed))
        assert isometrics(again) == isometrics(drawing)


def test_rises_are_drawn_as_rises() -> None:
    """In the machinery shed, whose main rises twice: the upper end of each upright is higher on paper."""
    designed, drawing = drawn(next(path for path in EXAMPLES if path.stem == "machinery_shed"))
    assert designed.layout is not None
    (view,) = isometrics(drawing)
    nodes = designed.layout.nodes
    rises = [run for run in designed.layout.runs if run.kind is RunKind.RISE]
    assert len(rises) == 3
    for run in rises:
        pieces = [item for item in view.items if isinstance(item, Line) and item.id == run.id]
        up = nodes[run.end].at.z > nodes[run.start].at.z
        assert pieces
        assert all((piece.end.y > piece.start.y) == up for piece in pieces)


def test_the_model_holds_it_with_its_title_and_no_unit() -> None:
    _, drawing = drawn(EXAMPLES[0])
    data = to_dxf(drawing, ["plan", "isometric"]).decode()
    assert "ISOMETRIC" in data
    assert "not to scale   1 unit" not in data
    assert "not to scale" in data
    named = [id for id, _ in pipe_lines(ezdxf.read(StringIO(data)))]
    assert sorted(named) == sorted(set(named))


def test_signs_stand_for_every_device() -> None:
    """Each valve, drain and coupling has the strokes of its sign on its layer."""
    designed, drawing = drawn(next(path for path in EXAMPLES if path.stem == "boat_shed"))
    assert designed.layout is not None
    (view,) = isometrics(drawing)
    for kind, ending, least in (
        (NodeKind.VALVE, "VALV", 2),
        (NodeKind.DRAIN, "DRAN", 4),
        (NodeKind.COUPLING, "OUTL", 4),
    ):
        count = sum(node.kind is kind for node in designed.layout.nodes.values())
        strokes = [item for item in view.items if not isinstance(item, Text) and item.layer.endswith(ending)]
        assert len(strokes) >= least * count
