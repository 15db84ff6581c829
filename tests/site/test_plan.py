"""Rooms in one plan: walls as one stands before them, with corners worked out by hand."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import pytest

from drafter.finding import Finding
from drafter.geometry import Point
from drafter.site import Site
from drafter.site.wall import Wall, find_wall, share_a_wall

SiteOf = Callable[[str], Site]
FoundIn = Callable[[str], list[Finding]]


def near(point: Point, x: float, y: float) -> bool:
    return point == pytest.approx((x, y), abs=1e-9)


def corners(walls: tuple[Wall, ...]) -> dict[str, tuple[float, float]]:
    return {wall.name: (round(wall.left.x, 6), round(wall.left.y, 6)) for wall in walls}


@pytest.mark.parametrize(
    "name, left, right, inward, length",
    [
        ("north", (0, 4), (6, 4), (0, -1), 6),
        ("east", (6, 4), (6, 0), (-1, 0), 4),
        ("south", (6, 0), (0, 0), (0, 1), 6),
        ("west", (0, 0), (0, 4), (1, 0), 4),
    ],
)
def test_each_wall_of_a_rectangle_has_its_left_hand_end_on_the_left(
    name: str, left: tuple[int, int], right: tuple[int, int], inward: tuple[int, int], length: int,
    shed: str, site_of: SiteOf,
) -> None:  # fmt: skip
    wall = site_of(shed).wall("shed", name)
    assert (wall.left, wall.right) == (left, right)
    assert near(wall.inward, *inward)
    assert wall.length_m == length
    assert wall.ceiling_m == 3.0


@pytest.mark.parametrize(
    "name, spot", [("north", (1, 3.5)), ("east", (5.5, 3)), ("south", (5, 0.5)), ("west", (0.5, 1))]
)
def test_a_place_is_measured_from_the_left_and_off_the_wall(
    name: str, spot: tuple[float, float], shed: str, site_of: SiteOf
) -> None:
    wall = site_of(shed).wall("shed", name)
    assert near(wall.at(1.0, 0.5), *spot)
    assert wall.measure(Point(*spot)) == pytest.approx((1.0, 0.5))


def test_a_footprint_begins_at_the_left_back_corner(shed: str, site_of: SiteOf) -> None:
    box = site_of(shed).wall("shed", "east").footprint(1.0, 0.1, 2.0, 0.6)
    assert [(round(x, 9), round(y, 9)) for x, y in box] == [(5.9, 3), (5.9, 1), (5.3, 1), (5.3, 3)]


L_SHAPE = "corners: {A: [0 m, 0 m], B: [0 m, 8 m], C: [10 m, 8 m], D: [10 m, 3 m], E: [6 m, 3 m], F: [6 m, 0 m]}"
TURNED = "corners: {F: [6 m, 0 m], E: [6 m, 3 m], D: [10 m, 3 m], C: [10 m, 8 m], B: [0 m, 8 m], A: [0 m, 0 m]}"
L_PLACES = {
    "wall: east": "wall: C-D",
    "wall: north": "wall: B-C",
    "wall: south": "wall: E-F",
    "wall: west": "wall: A-B",
}


def l_shaped(shed: str, shape: str = L_SHAPE) -> str:
    text = shed.replace("size: [6 m, 4 m]", shape)
    for side, wall in L_PLACES.items():
        text = text.replace(side, wall)
    return text


@pytest.mark.parametrize(
    "name, left, right, inward",
    [
        ("A-B", (0, 0), (0, 8), (1, 0)),
        ("B-C", (0, 8), (10, 8), (0, -1)),
        ("C-D", (10, 8), (10, 3), (-1, 0)),
        ("D-E", (10, 3), (6, 3), (0, 1)),
        ("E-F", (6, 3), (6, 0), (-1, 0)),
        ("F-A", (6, 0), (0, 0), (0, 1)),
    ],
)
def test_the_walls_of_an_l_shaped_room(
    name: str, left: tuple[int, int], right: tuple[int, int], inward: tuple[int, int], shed: str, site_of: SiteOf
) -> None:
    wall = site_of(l_shaped(shed)).wall("shed", name)
    assert (wall.left, wall.right) == (left, right)
    assert near(wall.inward, *inward)


def test_corners_listed_the_other_way_round_give_the_same_walls(shed: str, site_of: SiteOf) -> None:
    one, other = (site_of(l_shaped(shed, shape)).walls["shed"] for shape in (L_SHAPE, TURNED))
    assert {(wall.left, wall.right) for wall in one} == {(wall.left, wall.right) for wall in other}
    assert find_wall(other, "A-B") == find_wall(one, "A-B")


@pytest.mark.parametrize("name", ["a-b", "B-A", "A - B", " b - a "])
def test_a_wall_is_found_by_its_corners_in_either_order(name: str, shed: str, site_of: SiteOf) -> None:
    wall = find_wall(site_of(l_shaped(shed)).walls["shed"], name)
    assert wall is not None
    assert wall.name == "A-B"


def test_the_datum_is_the_south_west_corner_of_the_first_room(shed: str, site_of: SiteOf) -> None:
    text = shed.replace("size: [6 m, 4 m]", "size: [6 m, 4 m]\n    at: [10 m, 20 m]")
    assert corners(site_of(text).walls["shed"])["west"] == (0, 0)


ROOMS = {
    "behind north": ("{room: shed, wall: north, from left: 1 m}", "[2 m, 3 m]", (1, 4.15), (3, 7.15)),
    "behind east": ("{room: shed, wall: east, from left: 1 m}", "[2 m, 3 m]", (6.15, 0), (8.15, 3)),
    "behind south": ("{room: shed, wall: south, from left: 1 m}", "[2 m, 3 m]", (3, -3.15), (5, -0.15)),
    "behind west": ("{room: shed, wall: west, from left: 1 m}", "[2 m, 3 m]", (-2.15, 1), (-0.15, 4)),
    "past the corner": ("{room: shed, wall: north, from left: -1 m}", "[2 m, 3 m]", (-1, 4.15), (1, 7.15)),
}


def with_store(shed: str, place: str, size: str = "[2 m, 3 m]") -> str:
    for wall in ("north, from left: 0.5", "south", "west"):
        shed = shed.replace(f"wall: {wall}", f"room: shed, wall: {wall}")
    store = f"  store: {{size: {size}, ceiling: 3 m, {place}}}\n"
    return shed.replace("compressor:", store + "compressor:", 1)


@pytest.mark.parametrize("place, size, south_west, north_east", ROOMS.values(), ids=ROOMS.keys())
def test_a_room_behind_a_wall_lies_its_thickness_away_from_its_near_corner(
    place: str, size: str, south_west: tuple[float, float], north_east: tuple[float, float], shed: str, site_of: SiteOf
) -> None:
    site = site_of(with_store(shed, f"behind: {place}", size))
    found = corners(site.walls["store"])
    assert (found["west"], found["east"]) == (south_west, north_east)
    assert any(share_a_wall(wall, other) for wall in site.walls["shed"] for other in site.walls["store"])


def test_a_room_may_stand_behind_one_that_is_listed_later(site_of: SiteOf, shed: str) -> None:
    text = with_store(shed, "behind: {room: Shed, wall: North, from left: 1 m}")
    rooms, rest = text.split("compressor:", 1)
    head, store = rooms.split("  store:")
    first, shed_room = head.split("  shed:")
    site = site_of(f"{first}  store:{store}  shed:{shed_room}compressor:{rest}")
    assert corners(site.walls["store"])["west"] == (0, 0)
    assert corners(site.walls["shed"])["west"] == (-1, -4.15)


def walls_apart(gap_m: float, shift_m: float) -> bool:
    south = Wall("a", "north", Point(0, 0), Point(4, 0), 3, 0.15)
    north = Wall("b", "south", Point(4 + shift_m, gap_m), Point(shift_m, gap_m), 3, 0.15)
    return share_a_wall(south, north)


@pytest.mark.parametrize(
    "gap_m, shift_m, shared",
    [
        (0.15, 0, True),
        (0, 0, True),
        (0.2, 0, True),
        (0.3, 0, False),
        (-0.1, 0, False),
        (0.15, 3.4, True),
        (0.15, 3.6, False),
    ],
)
def test_two_faces_share_a_wall_that_a_pipe_can_pass(gap_m: float, shift_m: float, shared: bool) -> None:
    assert walls_apart(gap_m, shift_m) is shared


def test_walls_at_right_angles_share_nothing(shed: str, site_of: SiteOf) -> None:
    walls: Mapping[str, Wall] = {wall.name: wall for wall in site_of(shed).walls["shed"]}
    assert not share_a_wall(walls["north"], walls["east"])


@pytest.mark.parametrize(
    "shape, rule, says",
    [
        ("coldest: 5 degC", "ROOM001", "neither 'size' nor 'corners'"),
        ("size: [6 m, 4 m]\n    " + L_SHAPE, "ROOM001", "both 'size' and 'corners'"),
        (L_SHAPE + "\n    at: [1 m, 1 m]", "ROOM001", "already say where"),
        ("size: [6 mm, 4 mm]", "ROOM002", "an area of"),
        ("corners: {A: [0 m, 0 m], B: [4 m, 4 m], C: [4 m, 0 m], D: [0 m, 4 m]}", "ROOM002", "walls cross"),
        ("corners: {A: [0 m, 0 m], B: [0 m, 4 m], C: [0 m, 8 m]}", "ROOM002", "no area"),
        ("corners: {A: [0 m, 0 m], B: [0 m, 4 m], C: [0 m, 4.02 m], D: [5 m, 0 m]}", "ROOM002", "B and C"),
        ("corners: {A: [0 m, 0 m], B: [0 m, 4 m]}", "FILE005", "2 names"),
        ("size: [6 m, 4 m]\n    behind: {room: shed, wall: north, from left: 0 m}", "ROOM003", "in turn"),
        ("size: [6 m, 4 m]\n    behind: {room: barn, wall: north, from left: 0 m}", "REF001", "no room 'barn'"),
    ],
)  # fmt: skip
def test_a_room_that_cannot_be_placed_is_the_only_finding(
    shape: str, rule: str, says: str, shed: str, found_in: FoundIn
) -> None:
    (finding,) = found_in(shed.replace("size: [6 m, 4 m]", shape))
    assert finding.rule == rule
    assert says in finding.message
    assert 3 < finding.place.line < 8


def test_a_second_room_must_say_where_it_lies(shed: str, found_in: FoundIn) -> None:
    (finding,) = found_in(with_store(shed, "coldest: 4 degC"))
    assert (finding.rule, finding.subject) == ("ROOM003", "store")


def test_a_slanted_wall_has_nothing_behind_it(shed: str, found_in: FoundIn) -> None:
    shape = "corners: {A: [0 m, 0 m], B: [0 m, 4 m], C: [6 m, 5 m], D: [6 m, 0 m]}"
    text = with_store(shed.replace("size: [6 m, 4 m]", shape), "behind: {room: shed, wall: B-C, from left: 0 m}")
    for side, wall in {"east": "C-D", "north": "B-C", "south": "D-A", "west": "A-B"}.items():
        text = text.replace(f"wall: {side}", f"wall: {wall}")
    (finding,) = found_in(text)
    assert finding.rule == "REF002"
