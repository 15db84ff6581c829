"""Marks of the latest revision: beside what it concerns, nearer to that than to any other tag, over nothing."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from drafter.drawing import Drawing, Insert, Leader, Text, View
from drafter.geometry import Box, Point
from drafter.pipeline import Designed, compose_drawing, design
from drafter.sheets.item_boxes import boxes_of, text_box

EXAMPLES = Path(__file__).parents[2] / "example_sites"
MARK, LAYER = "revision_mark", "M-ANNO-REVS"


@cache
def revised(name: str, *concerns: str, later: str = "") -> tuple[Designed, Drawing]:
    """An example whose last revision, B, concerns some things; or one before another that is given."""
    text = (EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("drawing:")]
    start = next((n for n, line in enumerate(lines) if line.startswith("  revisions:")), len(lines))
    end = next((n for n, line in enumerate(lines[start:], start) if line.startswith("rooms:")), len(lines))
    last = f"\n    - {{revision: {later}, what: all settled}}" if later else ""
    entry = (
        f"{{revision: B, what: changed, concerns: [{', '.join(concerns)}]}}" if concerns else "{revision: B, what: x}"
    )
    site = [*lines[: start - 1 if start < len(lines) else start], *lines[end:]]
    site.append(f"drawing:\n  revisions:\n    - {entry}{last}\n")
    designed = design("\n".join(site), name)
    return designed, compose_drawing(designed)


def marks(view: View) -> list[Insert]:
    return [item for item in view.items if isinstance(item, Insert) and item.symbol == MARK]


def box_of(mark: Insert, view: View, drawing: Drawing) -> Box:
    return boxes_of(mark, view.scale, dict(drawing.symbols))[0]


def tags(view: View) -> dict[str, list[Box]]:
    """Boxes of the first lines of labels, by their first words."""
    found: dict[str, list[Box]] = {}
    for item in view.items:
        if isinstance(item, Text) and item.weight == "bold" and item.layer != LAYER:
            found.setdefault(item.text.split("  ")[0], []).append(text_box(item, view.scale))
    return found


def nearest(mark: Insert, view: View) -> str:
    at = Point(mark.at.x / view.scale, mark.at.y / view.scale)
    return min(tags(view).items(), key=lambda each: min(box.distance(at) for box in each[1]))[0]


def test_the_depot_marks_its_new_outlets_on_plan_and_elevations_and_on_their_sheets_alone() -> None:
    designed = design((EXAMPLES / "bus_depot.yaml").read_bytes(), "bus_depot.yaml")
    drawing = compose_drawing(designed)
    plan = drawing.view("plan")
    assert len(marks(plan)) == 3
    assert {"W2", "P1"} <= {nearest(mark, plan) for mark in marks(plan)}
    by_view = {view.name: {nearest(mark, view) for mark in marks(view)} for view in drawing.views if marks(view)}
    assert by_view.keys() == {"plan", "elevation-workshop-west", "elevation-store-east", "isometric"}
    assert by_view["isometric"] == {"W2", "P1"}
    assert by_view["elevation-workshop-west"] == {"W2"}
    for sheet in drawing.sheets:
        shown = any(placement.view in by_view for placement in sheet.placements)
        tabled = any(isinstance(item, Text) and item.text == "REVISIONS" for item in sheet.items)
        beside = [i for i in sheet.items if isinstance(i, Insert) and i.symbol == MARK and i.layer == LAYER]
        of_diagram = 3 if sheet.title == "Flow diagram" else 0
        assert len(beside) == shown + tabled + of_diagram
    letters = [i.text for view in drawing.views for i in view.items if isinstance(i, Text) and i.layer == LAYER]
    assert set(letters) == {"B"}


@pytest.mark.parametrize("name", ["bus_depot", "cabinet_shop", "machinery_shed"])
def test_of_many_each_is_marked_and_no_mark_covers_a_text_or_another(name: str) -> None:
    layout = revised(name)[0].layout
    assert layout is not None
    wanted = sorted({node.tag for node in layout.nodes.values() if node.tag and node.tag[0] in "VTCONEWSP"})
    drawing = revised(name, *wanted)[1]
    for view in drawing.views:
        boxes = [box_of(mark, view, drawing) for mark in marks(view)]
        texts = [
            text_box(item, view.scale)
            for item in view.items
            if isinstance(item, Text) and item.layer != LAYER and item.angle_deg % 90.0 == 0.0
        ]
        for number, box in enumerate(boxes):
            inside = box.grown(-0.01)
            assert not any(inside.overlaps(other) for other in (*texts, *boxes[:number])), view.name
        if view.name == "plan" or view.name.startswith(("enlarged", "elevation")):
            led = [i for i in view.items if isinstance(i, Leader) and i.layer == LAYER]
            assert len(boxes) == sum(len(tags(view).get(tag, [])) for tag in wanted), view.name
            assert sum(nearest(mark, view) in wanted for mark in marks(view)) >= len(boxes) - len(led)


def test_walls_and_rooms_are_marked_too_whatever_the_capitals() -> None:
    drawing = revised("bus_depot", "store", "EAST wall of store", "w2")[1]
    plan = drawing.view("plan")
    assert len(marks(plan)) == 3
    assert {"STORE", "W2"} <= {nearest(mark, plan) for mark in marks(plan)}
    (corner,) = marks(drawing.view("elevation-store-east"))
    assert abs(corner.at.x) < 12.0 * 50.0


def test_an_earlier_revision_is_no_longer_marked() -> None:
    designed, drawing = revised("bus_depot", "W2", "what was taken away", later="C")
    assert [finding for finding in designed.findings if finding.rule == "ISSUE004"] == []
    assert [view.name for view in drawing.views if marks(view)] == []
    assert MARK not in drawing.symbols


def test_marks_are_the_same_each_time() -> None:
    designed, drawing = revised("cabinet_shop", "O3", "V-02", "closet")
    assert compose_drawing(designed) == drawing
