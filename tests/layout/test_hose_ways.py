"""Ways over an open floor against circles, Pythagoras, and a slow second way of finding them."""

from __future__ import annotations

import math
from itertools import product
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, box, make_valid, unary_union
from shapely import Point as Spot

from drafter.geometry import Point
from drafter.layout.hose_ways import CHORDS, Piece, floor_within, ways_from
from drafter.layout.sight import Outline, look_round

ROOM = box(0.0, 0.0, 10.0, 8.0)
ARC = CHORDS / (2 * math.pi) * math.sin(2 * math.pi / CHORDS)
"""Area of a disc drawn with chords, as a share of the round one."""

NONE = np.empty((0, 2))


def reached(floor: Any, start: Point, length_m: float) -> Any:
    return floor_within(ways_from(Piece(Outline.of(floor)), start, length_m), length_m)


def way_m(floor: Any, start: Point, end: Point) -> float:
    return ways_from(Piece(Outline.of(floor), [end]), start, math.inf).to_spots_m[0]


@pytest.mark.parametrize(
    "start, area",
    [((5.0, 4.0), 9 * math.pi), ((5.0, 0.0), 4.5 * math.pi), ((0.0, 0.0), 2.25 * math.pi)],
    ids=["middle", "wall", "corner"],
)
def test_in_the_open_it_is_a_circle_or_its_half_or_quarter(start: tuple[float, float], area: float) -> None:
    assert reached(ROOM, Point(*start), 3.0).area == pytest.approx(area * ARC, rel=1e-9)
    assert ARC > 0.9998


def test_a_wall_cuts_a_segment_off_the_circle() -> None:
    """A chord 1 m from the centre of a circle of 3 m: r² acos(d/r) - d √(r² - d²) is cut off."""
    cut = 9 * math.acos(1 / 3) - math.sqrt(8)
    assert reached(ROOM, Point(5.0, 1.0), 3.0).area == pytest.approx(9 * math.pi - cut, rel=3e-4)


def test_round_a_box_it_is_two_legs_of_pythagoras() -> None:
    floor = ROOM.difference(box(4.0, 3.0, 6.0, 5.0))
    assert way_m(floor, Point(2.0, 4.0), Point(8.0, 4.0)) == pytest.approx(2.0 + 2 * math.sqrt(5))
    assert way_m(floor, Point(2.0, 4.0), Point(6.0, 4.0)) == pytest.approx(math.sqrt(5) + 2.0 + 1.0)
    assert way_m(floor, Point(2.0, 4.5), Point(8.0, 4.5)) == pytest.approx(2.0 + 2 * math.hypot(2.0, 0.5))


def test_behind_a_screen_it_turns_about_the_edge_with_what_is_left() -> None:
    """From 3.5 m before the far side of a screen, in line with its end, 5 m of hose: a quarter circle of 1.5 m."""
    floor = ROOM.difference(box(4.0, 0.0, 4.5, 4.0))
    start = Point(1.0, 4.0)
    behind = reached(floor, start, 5.0).intersection(box(4.5, 0.0, 10.0, 4.0)).area
    assert behind == pytest.approx(math.pi * 1.5**2 / 4, rel=1e-3)


def test_a_wall_from_side_to_side_is_the_end() -> None:
    left = box(0.0, 0.0, 4.0, 8.0)
    assert reached(left, Point(1.0, 1.0), 99.0).area == pytest.approx(left.area)
    assert way_m(left, Point(1.0, 1.0), Point(8.0, 1.0)) == math.inf


ACROSS, UP = (st.integers(0, most).map(lambda n: n / 2) for most in (20, 16))
BOXES = st.lists(st.tuples(ACROSS, UP, st.sampled_from((0.5, 1.0, 3.0)), st.sampled_from((0.5, 2.0))), max_size=7)


def floor_of(boxes: list[tuple[float, float, float, float]]) -> Polygon:
    """The largest piece of the room without boxes that lie side by side, in line and through each other.

    Where two boxes touch at their corners only, the slow search would slip through.
    """
    shape = ROOM.difference(unary_union([box(x, y, x + w, y + d) for x, y, w, d in boxes]))
    shape = shape.buffer(-0.05, join_style="mitre").buffer(0.05, join_style="mitre")
    assume(not shape.is_empty)
    floor = max(getattr(shape, "geoms", [shape]), key=lambda part: part.area)
    corners = [(round(x, 6), round(y, 6)) for ring in (floor.exterior, *floor.interiors) for x, y in ring.coords[:-1]]
    assume(len(set(corners)) == len(corners))
    return floor


def spots_on(floor: Polygon, shift: float) -> list[Point]:
    spots = (
        Point(x + shift, y + 1.618 * shift**2) for x, y in product(np.arange(0.0, 10.0, 1.0), np.arange(0.0, 8.0, 1.0))
    )
    return [spot for spot in spots if floor.contains(Spot(spot))]


def slow_ways_m(floor: Polygon, start: Point, ends: list[Point]) -> list[float]:
    """Shortest ways by trying every line between corners for whether it leaves the floor."""
    corners = [Point(x, y) for ring in (floor.exterior, *floor.interiors) for x, y in ring.coords[:-1]]
    wide = floor.buffer(1e-6, join_style="mitre")
    nodes = [start, *corners]

    def sees(a: Point, b: Point) -> bool:
        return a == b or bool(wide.covers(LineString([a, b])))

    far = dict.fromkeys(range(len(nodes)), math.inf) | {0: 0.0}
    open_ = set(far)
    while open_:
        here = min(open_, key=lambda index: far[index])
        open_.remove(here)
        if far[here] == math.inf:
            break
        for other in open_:
            length_m = nodes[other].minus(nodes[here]).length
            if far[here] + length_m < far[other] and sees(nodes[here], nodes[other]):
                far[other] = far[here] + length_m
    return [
        min((far[i] + end.minus(node).length for i, node in enumerate(nodes) if sees(node, end)), default=math.inf)
        for end in ends
    ]


@settings(max_examples=40, deadline=None)
@given(BOXES, st.integers(0, 60), st.sampled_from((0.0, 0.25, 0.31)))
def test_ways_are_those_of_the_slow_search(
    boxes: list[tuple[float, float, float, float]], which: int, shift: float
) -> None:
    floor = floor_of(boxes)
    spots = spots_on(floor, shift)
    assume(spots)
    start, ends = spots[which % len(spots)], spots[::7]
    found = ways_from(Piece(Outline.of(floor), ends), start, math.inf).to_spots_m
    assert found == pytest.approx(slow_ways_m(floor, start, ends), abs=1e-5)
    assert all(far >= end.minus(start).length - 1e-9 for far, end in zip(found, ends, strict=True))


@settings(max_examples=40, deadline=None)
@given(BOXES, st.integers(0, 60), st.sampled_from((0.0, 0.25, 0.31)), st.sampled_from((1.0, 2.5, 6.0)))
def test_the_floor_reached_is_that_whose_ways_are_short_enough(
    boxes: list[tuple[float, float, float, float]], which: int, shift: float, length_m: float
) -> None:
    floor = floor_of(boxes)
    spots = spots_on(floor, shift)
    assume(spots)
    start = spots[which % len(spots)]
    region, more = reached(floor, start, length_m), reached(floor, start, length_m + 0.5)
    assert region.is_valid
    assert region.difference(floor.buffer(1e-6)).area < 1e-6
    assert region.difference(more).area < 1e-6
    ways = ways_from(Piece(Outline.of(floor), spots), start, math.inf).to_spots_m
    for spot, far in zip(spots, ways, strict=True):
        if abs(far - length_m) > 0.001:
            assert (region.distance(Spot(spot)) < 1e-6) == (far < length_m)


@settings(max_examples=40, deadline=None)
@given(BOXES, st.integers(0, 60), st.sampled_from((0.0, 0.25, 0.31)))
def test_what_is_seen_is_what_a_straight_line_gets_to(
    boxes: list[tuple[float, float, float, float]], which: int, shift: float
) -> None:
    floor = floor_of(boxes)
    corners = [Point(x, y) for x, y in floor.exterior.coords[:-1]]
    spots = [*spots_on(floor, shift), *corners]
    at = spots[which % len(spots)]
    sight = look_round(Outline.of(floor), np.array(at), NONE)
    seen, wide = Polygon(sight.ring).buffer(0), floor.buffer(1e-6, join_style="mitre")
    assert seen.area == pytest.approx(make_valid(Polygon(sight.ring)).area)
    for spot in spots_on(floor, 0.1234567):
        if seen.boundary.distance(Spot(spot)) > 1e-5:
            assert seen.covers(Spot(spot)) == wide.covers(LineString([at, spot]))


def test_the_order_of_corners_and_holes_does_not_matter() -> None:
    first, second = box(2.0, 2.0, 3.0, 6.0), box(5.0, 1.0, 6.0, 5.0)
    one = Polygon(ROOM.exterior, [first.exterior, second.exterior])
    other = Polygon(ROOM.exterior.coords[::-1], [list(second.exterior.coords)[1:], first.exterior.coords[::-1]])
    start = Point(1.0, 4.0)
    assert reached(one, start, 7.0).area == pytest.approx(reached(other, start, 7.0).area, rel=1e-12)
    assert way_m(one, start, Point(9.0, 2.0)) == pytest.approx(way_m(other, start, Point(9.0, 2.0)), rel=1e-12)
