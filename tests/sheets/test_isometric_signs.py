"""Signs, bends and ends of the isometric on lines that are not theirs are found, and lengths changed to part them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from isometric_scenes import NAMES, SEEDS, scene_of
from shapely import LineString
from shapely import Point as ShapelyPoint

from drafter.geometry import Box, Point
from drafter.layout.graph import NodeKind
from drafter.sheets import isometric_signs
from drafter.sheets.isometric_parts import whole
from drafter.sheets.isometric_signs import NEAR_MM, Pairs, SignsAmongLines, axes_of
from drafter.sheets.isometric_space import APART_MM, DRAIN_SIGN_MM, IsometricSpace, IsometricSpacing, Shape
from drafter.sheets.isometric_spots import SpotsAndStrokes
from drafter.sheets.isometric_stretching import LONGER_MM, SHORTER, Stretching
from drafter.sheets.scene import Scene

ROOM = Box(0.0, 0.0, 500.0, 300.0)
SHAPES = [Shape(turn, 0.3, 0.6, 1.0) for turn in range(4)]


def fitted(scene: Scene, shape: Shape, room: Box = ROOM) -> tuple[IsometricSpacing, IsometricSpace]:
    spacing = IsometricSpacing(scene, whole(scene.layout))
    return spacing, spacing.fitted(room.width, room.height, shape)


def signs_of(scene: Scene, spacing: IsometricSpacing) -> SignsAmongLines:
    return SignsAmongLines(scene, whole(scene.layout), spacing)


def mistaken_in(signs: SignsAmongLines, space: IsometricSpace) -> Pairs:
    axes = axes_of(space)
    return signs.mistaken(axes, space.turn, signs.near(axes, space.turn, NEAR_MM))


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape.turn)
@pytest.mark.parametrize("name", NAMES)
def test_what_is_seen_on_another_line_is_what_a_plain_search_finds(name: str, shape: Shape) -> None:
    """Each spot against each stroke that is neither joined to its pipe nor of its outlet, by plain distances."""
    scene = scene_of(name)
    layout, part = scene.layout, whole(scene.layout)
    spacing, space = fitted(scene, shape)
    mistaken = mistaken_in(signs_of(scene, spacing), space)
    found = set(zip(mistaken.spots.tolist(), mistaken.strokes.tolist(), strict=True))
    marks = SpotsAndStrokes(scene, part)
    places = [ShapelyPoint(spot.seen(space, layout.nodes[spot.node])) for spot in marks.spots]
    ends = [[end.seen(space, layout.nodes[end.node]) for end in (each.start, each.end)] for each in marks.strokes]
    expected = set()
    for number, spot in enumerate(marks.spots):
        joined = layout.runs_at[spot.node]
        beside = {id for run in joined for id in (run.start, run.end)}
        outlets = {run.outlet for run in joined if run.outlet}
        for index, stroke in enumerate(marks.strokes):
            own = stroke.nodes & beside or stroke.outlet in outlets
            if not own and LineString(ends[index]).distance(places[number]) < NEAR_MM:
                expected.add((number, index))
    assert expected
    assert found == expected


def test_every_device_has_its_spots_and_every_pipe_its_stroke() -> None:
    """A sign has its two ends, a drain hangs down from its node, a coupling reaches on past it."""
    scene = scene_of("machinery_shed")
    marks = SpotsAndStrokes(scene, whole(scene.layout))
    assert [stroke.run for stroke in marks.strokes if stroke.run] == [run.id for run in scene.layout.runs]
    _, space = fitted(scene, SHAPES[0])
    counts = {NodeKind.DRAIN: 3, NodeKind.COUPLING: 2, NodeKind.VALVE: 3, NodeKind.TREATMENT: 3, NodeKind.SERVICE: 3}
    for node in scene.layout.nodes.values():
        mine = [spot for spot in marks.spots if spot.node == node.id]
        assert len(mine) == counts.get(node.kind, 1)
        here = space.at_node(node)
        far = max(spot.seen(space, node).minus(here).length for spot in mine)
        assert far == pytest.approx(DRAIN_SIGN_MM) if node.kind is NodeKind.DRAIN else far < 6.0
        if node.kind is NodeKind.DRAIN:
            assert Point(here.x, here.y - DRAIN_SIGN_MM) in [spot.seen(space, node) for spot in mine]


def test_what_is_misread_does_not_hang_on_the_scale_and_grows_where_all_is_flat() -> None:
    scene = scene_of("bus_depot")
    spacing, space = fitted(scene, SHAPES[2])
    signs = signs_of(scene, spacing)
    assert signs.misread(replace(space, scale=50.0)) == signs.misread(space)
    flat = replace(space, up=replace(space.up, drawn_mm=tuple(0.01 * mm for mm in space.up.drawn_mm)))
    assert signs.misread(flat) > signs.misread(space)


def test_many_ways_to_draw_it_are_judged_as_each_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    scene = scene_of("boat_shed")
    spacing = IsometricSpacing(scene, whole(scene.layout))
    signs = signs_of(scene, spacing)
    spaces = [spacing.fitted(width, 300.0, SHAPES[1]) for width in (300.0, 400.0, 500.0)]
    axes = [axes_of(space) for space in spaces]
    east, north, up = (np.concatenate([each[axis] for each in axes], axis=1) for axis in range(3))
    everything = signs.near((east, north, up), 1, 1e4)
    together = signs.badness((east, north, up), 1, everything)
    assert together == pytest.approx([signs.misread(space) for space in spaces])
    widths, heights = spacing.sizes((east, north, up), 1)
    boxes = [spacing.box(space) for space in spaces]
    assert widths == pytest.approx([box.width for box in boxes])
    assert heights == pytest.approx([box.height for box in boxes])
    monkeypatch.setattr(isometric_signs, "ROWS_AT_ONCE", 7)
    again: Pairs = signs.near(axes[0], 1, 30.0)
    monkeypatch.undo()
    for some, all_at_once in zip(arrays(again), arrays(signs.near(axes[0], 1, 30.0)), strict=True):
        assert some.tolist() == all_at_once.tolist()


def arrays(pairs: Pairs) -> list[np.ndarray]:
    return [pairs.spots, pairs.strokes, pairs.one, pairs.other]


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape.turn)
@pytest.mark.parametrize("name", [*NAMES, *SEEDS])
def test_changed_lengths_part_signs_and_keep_order_room_and_least_distances(name: str | int, shape: Shape) -> None:
    scene = scene_of(name)
    spacing, space = fitted(scene, shape)
    signs = signs_of(scene, spacing)
    box = spacing.box(space)
    room = Box(0.0, 0.0, max(ROOM.width, box.width), max(ROOM.height, box.height))
    changed = Stretching(spacing, signs, room).stretched(space, shape.tightness)
    if not signs.count(space):
        assert changed == space
    assert signs.misread(changed) < signs.misread(space) if changed != space else True
    assert spacing.box(changed).width <= room.width + 0.05
    assert spacing.box(changed).height <= room.height + 0.05
    for axis, old, of in (
        (changed.east, space.east, spacing.east),
        (changed.north, space.north, spacing.north),
        (changed.up, space.up, spacing.up),
    ):
        gaps, first = np.diff(axis.drawn_mm), np.diff(old.drawn_mm)
        assert axis.places_m == old.places_m
        assert (gaps >= SHORTER * first - 1e-6).all()
        assert (gaps <= first + np.maximum(LONGER_MM, first) + 1e-6).all()
        for (low, high), mm in of.least_mm.items():
            assert axis.drawn_mm[high] - axis.drawn_mm[low] > mm - 0.1


@pytest.mark.parametrize("name", SEEDS)
def test_most_of_what_is_seen_on_another_line_is_parted(name: int) -> None:
    """On sites made by chance, from the corner that leaves least."""
    scene = scene_of(name)
    before, after = list[int](), list[int]()
    for shape in SHAPES:
        spacing, space = fitted(scene, shape)
        signs = signs_of(scene, spacing)
        changed = Stretching(spacing, signs, Box(0.0, 0.0, 532.0, 326.0)).stretched(space, shape.tightness)
        for each, counts in ((space, before), (changed, after)):
            counts.append(signs.count(each))
    assert min(after) <= 0.25 * min(before)


def test_units_along_the_wall_end_off_the_next_drop() -> None:
    """In the bus depot N1's filter, regulator and coupling lead towards N2."""
    scene = scene_of("bus_depot")
    _, space = fitted(scene, SHAPES[2], Box(0.0, 0.0, 200.0, 120.0))
    layout = scene.layout
    coupling = next(node for node in layout.couplings if node.tag == "N1")
    drop = next(
        node for node in layout.nodes.values() if node.kind is NodeKind.TAKE_OFF and layout.outlet_at(node) == "N2"
    )
    apart_mm = abs(space.node(coupling).x - space.node(drop).x) + abs(space.node(coupling).y - space.node(drop).y)
    assert apart_mm > APART_MM * 0.99 > NEAR_MM
