"""Elevations of all examples tell what one sets out and mounts by: levels, boards, sleeves, what is behind columns."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from drafter.drawing import Line, Ordinate, Sheet, Text, View
from drafter.layout.graph import NodeKind, RunKind
from drafter.pipeline import Designed, compose_drawing, design
from drafter.sheets.elevation import elevation_name
from drafter.sheets.wall_face import COLUMN_WITHIN_M
from drafter.site.wall import Wall

SITES = sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))
LEVELLED = (NodeKind.COUPLING, NodeKind.VALVE, NodeKind.DRAIN, NodeKind.TREATMENT)


class Told:
    """An example with its elevations and sheets."""

    def __init__(self, path: Path) -> None:
        self.designed: Designed = design(path.read_bytes(), path.name)
        drawing = compose_drawing(self.designed)
        self.views = {view.name: view for view in drawing.views}
        self.sheets: tuple[Sheet, ...] = drawing.sheets
        assert self.designed.design is not None
        assert self.designed.takeoff is not None
        self.design, self.takeoff = self.designed.design, self.designed.takeoff
        self.layout = self.design.network.layout
        self.units = self.layout.site.units

    def walls(self) -> list[tuple[Wall, View]]:
        names = {elevation_name(face): face for face in self.layout.site.faces}
        return [(names[name], view) for name, view in self.views.items() if name in names]


@pytest.fixture(scope="module", params=SITES, ids=lambda path: path.stem)
def told(request: pytest.FixtureRequest) -> Told:
    return Told(request.param)


def words(view: View) -> list[str]:
    return [item.text for item in view.items if isinstance(item, Text)]


def test_all_that_has_a_tag_has_its_level(told: Told) -> None:
    for wall, view in told.walls():
        said = words(view)
        for node in told.layout.nodes.values():
            if node.kind not in LEVELLED or (node.room, node.wall) != (wall.room, wall.name):
                continue
            level = told.units.level(node.at.z)
            in_short = (a == node.tag and b == level for a, b in pairwise(said))
            assert f"{node.tag}  {level}" in said or any(in_short), node.tag


def test_boards_are_told_at_the_heights_of_the_mark_out(told: Told) -> None:
    heights = {mark.tag: told.units.length(mark.height_m) for mark in told.takeoff.marks if "board, half" in mark.what}
    said = " | ".join(word for _, view in told.walls() for word in words(view))
    for tag, height in heights.items():
        assert f"{tag}  {height}" in said


def test_each_sleeve_has_one_level_that_of_the_mark_out(told: Told) -> None:
    marks = [mark for mark in told.takeoff.marks if mark.what.startswith("sleeve, core")]
    for wall, view in told.walls():
        said = words(view)
        here = [mark for mark in marks if (mark.room, mark.wall) == (wall.room, wall.name)]
        for mark in here:
            after = [b for a, b in pairwise(said) if a == mark.what]
            assert any(each.startswith(told.units.level(mark.height_m)) for each in after)


def test_outlets_with_units_are_set_out_where_they_are(told: Told) -> None:
    for wall, view in told.walls():
        stops = {item.text for item in view.items if isinstance(item, Ordinate)}
        for node in told.layout.couplings:
            if (node.room, node.wall) == (wall.room, wall.name):
                for each in (node, told.layout.outlet_foot(node)):
                    at_m = wall.measure(each.at.plan)[0]
                    assert told.units.length(told.units.snapped_m(at_m)) in stops


def test_pipes_are_dashed_behind_columns_and_nowhere_else(told: Told) -> None:
    for wall, view in told.walls():
        hidden = [item for item in view.items if isinstance(item, Line) and item.layer.endswith("PIPE-HIDN")]
        columns = []
        for column in told.layout.site.rooms[wall.room].columns:
            own = told.layout.site.wall(wall.room, column.wall)
            placed = (column.from_left_m, column.off_wall_m, column.width_m, column.depth_m)
            spots = [wall.measure(corner) for corner in own.footprint(*placed)]
            if max(off for _, off in spots) < COLUMN_WITHIN_M:
                columns.append((min(s for s, _ in spots), max(s for s, _ in spots), min(off for _, off in spots)))
        for line in hidden:
            ends = sorted((line.start.x / 1000.0, line.end.x / 1000.0))
            assert any(low - 1e-6 <= ends[0] and ends[1] <= high + 1e-6 for low, high, _ in columns)
        for run in told.layout.runs:
            ends_m = [told.layout.nodes[id] for id in (run.start, run.end)]
            if run.kind is not RunKind.MAIN or (run.room, run.wall) != (wall.room, wall.name) or wall.is_crossing:
                continue
            along = sorted(wall.measure(node.at.plan)[0] for node in ends_m)
            off = max(wall.measure(node.at.plan)[1] for node in ends_m)
            for low, high, back in columns:
                if back > off and along[0] < low and high < along[1]:
                    across = [line for line in hidden if line.id == run.id]
                    assert sum(abs(line.end.x - line.start.x) for line in across) == pytest.approx((high - low) * 1000)


def test_a_column_that_the_main_passes_behind_is_among_the_examples() -> None:
    bus = Told(SITES[0].with_name("bus_depot.yaml"))
    assert any(item.layer.endswith("PIPE-HIDN") for item in bus.views["elevation-workshop-east"].items)
    assert "600 mm off the wall" in words(bus.views["elevation-workshop-east"])


def test_mark_outs_stand_with_their_elevations_where_a_sheet_has_room_beside_the_last() -> None:
    bus = Told(SITES[0].with_name("bus_depot.yaml"))
    last = next(sheet for sheet in bus.sheets if sheet.title.startswith("Elevations 4, 5, 6"))
    titles = [item.text for item in last.items if isinstance(item, Text) and item.text.startswith("MARK-OUT")]
    assert {title.split(" ")[1] for title in titles} == {"4", "5", "6"}
