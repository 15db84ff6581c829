"""What the hoses of a site get to: heights, what is gone round, doors, places."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.geometry import Point3
from drafter.layout.hose_ways import CHORDS
from drafter.layout.open_floor import OpenFloor
from drafter.layout.reach import PlaceReach, Reach, over_floor_m, reach_of
from drafter.site import Site, read

SITE = """
site: Reach room (invented)
rooms:
  room:
    size: [12 m, 8 m]
    ceiling: 3 m
    openings: [{openings}]
    columns: [{columns}]
    equipment: [{equipment}]
{rooms}
compressor: {{room: room, wall: north, from left: 0.2 m, off wall: 0.1 m, width: 1 m, depth: 0.4 m, power: 4 kW,
  free air: 10 l/s, cut in: 7 bar, cut out: 9 bar, tank: 200 l, rated: 11 bar, relief: 10 bar}}
main: {{material: copper tube type L, height: 2.6 m}}
outlets:
  - {{tag: A1, room: room, wall: south, from left: 6 m, hose: {{length: {hose} m}}{outlet}}}
places: [{places}]
"""
AT = Point3(6.0, 0.0, 1.2)
"""In the middle of the south wall, on its face."""

ARC = CHORDS / (2 * math.pi) * math.sin(2 * math.pi / CHORDS)
BOX = (
    "{{kind: {kind}, wall: south, from left: {left} m, off wall: {off} m, width: {width} m, depth: {depth} m, {more}}}"
)


def site_of(
    *, openings: str = "", columns: str = "", equipment: str = "", rooms: str = "", hose: float = 4.2, outlet: str = "",
    places: str = "",
) -> Site:  # fmt: skip
    text = SITE.format(
        openings=openings, columns=columns, equipment=equipment, rooms=rooms, hose=hose, outlet=outlet, places=places
    )
    site, findings = read(text, "reach.yaml")
    assert site is not None, findings
    return site


def thing(kind: str, left: float, off: float, width: float, depth: float, more: str = "height: 0.9 m") -> str:
    return BOX.format(kind=kind, left=left, off=off, width=width, depth=depth, more=more)


def reach(at: Point3 = AT, **said: object) -> Reach:
    return reach_of(site_of(**said), {"A1": at})  # type: ignore[arg-type]


def place(found: Reach) -> PlaceReach:
    (one,) = found.places
    return one


def test_in_an_open_room_it_serves_half_a_circle() -> None:
    found = reach()
    (served,) = found.outlets
    assert (served.hose_m, served.over_floor_m) == (4.2, pytest.approx(4.0))
    assert served.area_m2 == pytest.approx(8 * math.pi * ARC, rel=1e-6)
    (room,) = found.rooms
    assert room.open_m2 == pytest.approx(12 * 8 - 1.0 * 0.5)
    assert room.reached_m2 == pytest.approx(served.area_m2)
    assert room.share == pytest.approx(served.area_m2 / room.open_m2)


def test_the_unreached_floor_is_the_rest() -> None:
    found = reach()
    (patch,) = found.unreached
    (room,) = found.rooms
    corners = patch.boundary
    area = abs(sum(a.cross(b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True))) / 2
    assert not patch.holes
    assert area == pytest.approx(room.open_m2 - room.reached_m2)


@pytest.mark.parametrize("height, left", [(1.2, 4.0), (1.0, 4.2), (0.6, 3.8), (3.0, 2.2)])
def test_the_height_from_coupling_to_work_is_lost(height: float, left: float) -> None:
    assert over_floor_m(4.2, height) == pytest.approx(left)
    (served,) = reach(AT._replace(z=height)).outlets
    assert served.area_m2 == pytest.approx(left**2 * math.pi / 2 * ARC, rel=1e-6)


def test_a_hose_shorter_than_that_serves_nothing() -> None:
    (served,) = reach(AT._replace(z=3.0), hose=1.5).outlets
    assert (served.over_floor_m, served.area_m2, served.ends) == (0.0, 0.0, ())


def test_a_reel_counts_with_what_it_lets_out() -> None:
    (served,) = reach(hose=1.0, outlet=", reach: 6.2 m").outlets
    assert (served.hose_m, served.over_floor_m) == (6.2, 6.0)


@pytest.mark.parametrize(
    "more, blocked",
    [
        ("height: 0.9 m", True),
        ("height: 0.31 m", True),
        ("height: 0.3 m", False),
        ("above floor: 0.9 m, height: 2 m", True),
        ("above floor: 1 m, height: 2 m", False),
    ],
)
def test_what_is_low_is_dragged_over_and_what_hangs_high_passed_under(more: str, blocked: bool) -> None:
    spot = "{name: behind, room: room, wall: south, from left: 6 m, off wall: 4 m}"
    found = place(reach(equipment=thing("other", 5, 1, 2, 2, more), places=spot))
    straight, round_it = 4.0, 2 * math.hypot(1, 1) + 2.0
    assert found.left_m == pytest.approx(4.0 - (round_it if blocked else straight))


def test_a_column_is_gone_round_and_a_narrow_gap_not_passed() -> None:
    spot = "{name: behind, room: room, wall: south, from left: 6 m, off wall: 3 m}"
    column = "{{wall: south, from left: {} m, off wall: 1 m, width: 1 m, depth: 1 m}}"
    wide = place(reach(columns=f"{column.format(4.9)}, {column.format(6.1)}", places=spot))
    narrow = place(reach(columns=f"{column.format(4.96)}, {column.format(6.04)}", places=spot))
    assert wide.left_m == pytest.approx(1.0)
    assert narrow.left_m == pytest.approx(4.0 - 1.0 - 2 * math.hypot(1.04, 1.0))


def test_it_lies_across_what_its_coupling_hangs_over() -> None:
    bench = thing("bench", 5, 0, 2, 1)
    across, along = (
        f"{{name: {name}, room: room, wall: south, from left: {left} m, off wall: {off} m}}"
        for name, left, off in (("vice", 6.5, 0.5), ("floor", 6, 3))
    )
    found = reach(equipment=bench, places=f"{across}, {along}")
    assert [place.left_m for place in found.places] == pytest.approx([4.0 - math.hypot(0.5, 0.5), 1.0])
    (served,) = found.outlets
    assert served.area_m2 == pytest.approx(8 * math.pi - 2.0, rel=1e-3)


def test_what_a_place_is_on_does_not_stand_in_its_way() -> None:
    spot = "{name: vice, room: room, wall: south, from left: 6 m, off wall: 2.5 m}"
    assert place(reach(equipment=thing("bench", 5, 2, 2, 1), places=spot)).left_m == pytest.approx(1.5)


SECOND = "  back: {size: [12 m, 3 m], ceiling: 3 m, behind: {room: room, wall: south, from left: 0 m}}"
DOORWAY = "{{kind: {}, wall: south, from left: 7 m, width: 1 m}}"


@pytest.mark.parametrize("kind, through", [("opening", True), ("door", False), ("overhead door", False)])
def test_doors_are_shut_and_plain_openings_let_it_through(kind: str, through: bool) -> None:
    spot = "{name: behind, room: back, wall: south, from left: 7.5 m, off wall: 2 m}"
    found = place(reach(openings=DOORWAY.format(kind), rooms=SECOND, places=spot))
    assert (found.left_m > -math.inf) is through
    assert found.is_reached is through
    if not through:
        assert found.remedy is None


def test_an_opening_to_the_yard_leads_nowhere() -> None:
    assert reach(openings=DOORWAY.format("opening")).outlets[0].area_m2 == pytest.approx(8 * math.pi * ARC, rel=1e-6)


def test_all_round_a_thing_means_its_far_side() -> None:
    """Half way along the far side both ways round are alike: to a near corner, along a side of 1 m, and 1 m on."""
    box = thing("other", 5, 1, 2, 1, "name: cradle, height: 0.5 m")
    found = place(reach(equipment=box, places="{around: Cradle}"))
    need = math.hypot(1, 1) + 1.0 + 1.0
    assert found.left_m == pytest.approx(4.0 - need)
    assert found.hardest == pytest.approx((6.0, 2.0))
    assert found.alone == (("A1", pytest.approx(4.0 - need)),)
    (side,) = found.sides
    assert side[0] == side[-1]


def test_sides_that_lean_on_a_wall_need_no_hose() -> None:
    found = place(reach(equipment=thing("bench", 1, 0, 2, 1), places="bench"))
    assert all(spot.y > 0.0 or spot.x in (9.0, 11.0) for spot in found.spots)
    assert {spot.y for spot in found.spots} > {1.0}
    (side,) = found.sides
    assert side[0] != side[-1]


def test_hoses_share_the_sides_of_a_thing() -> None:
    box = thing("other", 5, 1, 2, 4, "name: hull, height: 1.5 m")
    site = site_of(equipment=box, places="{around: hull}")
    one = reach_of(site, {"A1": AT})
    assert not place(one).is_reached
    assert place(one).in_part == ("A1",)
    tag, more_m = place(one).remedy or ("", 0.0)
    assert (tag, more_m) == ("A1", pytest.approx(math.hypot(1, 1) + 4.0 + 1.0 - 4.0))
    second = replace(site.outlets[0], tag="A2", reach_m=5.0)
    both = reach_of(replace(site, outlets=(*site.outlets, second)), {"A1": AT, "A2": Point3(6.0, 8.0, 1.2)})
    assert place(both).is_reached
    assert place(both).alone == ()
    assert place(both).in_part == ("A1", "A2")
    assert place(both).remedy is None


def test_the_outlet_nearest_to_the_gap_is_named() -> None:
    site = site_of(places="{name: far, room: room, wall: north, from left: 3 m, height: 0.2 m}")
    second = replace(site.outlets[0], tag="A2", hose=replace(site.outlets[0].hose, length_m=2.0))
    couplings = {"A1": Point3(1.0, 0.0, 1.2), "A2": Point3(9.0, 4.0, 1.2)}
    found = place(reach_of(replace(site, outlets=(*site.outlets, second)), couplings))
    needs = {"A1": math.hypot(2, 8) + 1.0 - 4.2, "A2": math.hypot(6, 4) + 1.0 - 2.0}
    assert needs["A1"] < needs["A2"]
    assert found.remedy == ("A1", pytest.approx(needs["A1"]))
    assert found.left_m == pytest.approx(-needs["A1"])


SPOTS = st.tuples(st.floats(0.5, 9.5), st.floats(0.5, 6.0), st.floats(0.3, 2.0), st.floats(0.3, 1.5))


@settings(max_examples=30, deadline=None)
@given(st.lists(SPOTS, max_size=5), st.floats(1.3, 9.0), st.randoms(use_true_random=False))
def test_more_hose_serves_more_and_the_order_of_the_file_does_not_matter(
    spots: list[tuple[float, float, float, float]], hose: float, order: random.Random
) -> None:
    things = [thing("machine", *(round(each, 3) for each in spot)) for spot in spots]
    shuffled = order.sample(things, len(things))
    one, other, more = (
        reach(equipment=", ".join(group), hose=round(length, 3)).rooms[0]
        for group, length in ((things, hose), (shuffled, hose), (things, hose + 0.5))
    )
    assert one.open_m2 == pytest.approx(other.open_m2)
    assert one.reached_m2 == pytest.approx(other.reached_m2, abs=1e-6)
    assert one.reached_m2 <= more.reached_m2 + 1e-6 <= more.open_m2 + 2e-6


def test_the_floor_of_a_room_is_what_is_not_stood_on() -> None:
    floor = OpenFloor(site_of(equipment=thing("bench", 2, 0, 3, 1), columns=""))
    assert floor.room("room").area == pytest.approx(96.0 - 0.5 - 3.0)


def test_a_kind_means_the_one_without_a_name() -> None:
    benches = f"{thing('bench', 1, 0, 2, 1, 'name: paint bench')}, {thing('bench', 9, 0, 2, 1)}"
    (plain, painted) = reach(equipment=benches, places="bench, paint bench").places
    assert max(spot.x for spot in plain.spots) <= 3.0
    assert min(spot.x for spot in painted.spots) >= 9.0
