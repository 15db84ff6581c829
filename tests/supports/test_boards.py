"""Backing boards: one for brackets near one another, apart from its neighbours, from post to post."""

from __future__ import annotations

from itertools import pairwise

import pytest

from drafter.geometry import Point3
from drafter.site import Site, read
from drafter.standards.materials import material
from drafter.supports.boards import BOARD_TALL_M, with_boards
from drafter.supports.design import Bracket
from drafter.supports.framing import STUD_WIDTH_M, posts_at, studs_on

SHED = """
site: Frame shed (invented)
rooms:
  shed:
    size: [3 m, 3 m]
    ceiling: 3 m
    studs: {spacing: 600 mm, first: 500 mm}
    openings: [{kind: window, wall: north, from left: 1.2 m, width: 1 m, height: 2.1 m, sill: 1 m}]
compressor: {wall: south, from left: 0.5 m, power: 1.5 kW, free air: 3 l/s, cut in: 6 bar, cut out: 8 bar,
  tank: 50 l, rated: 11 bar, relief: 10 bar}
main: {material: copper tube type L, height: 2.5 m}
outlets: [{tag: A1, wall: south, from left: 2.5 m, tools: [blow gun]}]
"""


@pytest.fixture(scope="module")
def site() -> Site:
    site, findings = read(SHED, "shed.yaml")
    assert site is not None, findings
    return site


def bracket(number: int, from_left_m: float, height_m: float) -> Bracket:
    at = Point3(from_left_m, 2.94, height_m)
    size = material("copper tube type L").sizes[1]
    return Bracket(f"B-{number:02d}", "P1", at, "shed", "north", from_left_m, 0.06, size, False)


def test_posts_of_a_wall_with_a_window(site: Site) -> None:
    wall = site.wall("shed", "north")
    assert [post.at_m for post in studs_on(site, wall)] == pytest.approx([0.5, 1.1, 1.7, 2.3, 2.9])
    beside = [(post.name, round(post.at_m, 3)) for post in posts_at(site, wall, 1.5)]
    assert beside == [
        ("left-hand corner", 0.0), ("stud 1", 0.5), ("stud 2", 1.1), ("side of the window", 1.2),
        ("side of the window", 2.2), ("stud 4", 2.3), ("stud 5", 2.9), ("right-hand corner", 3.0),
    ]  # fmt: skip
    assert [post.stud for post in posts_at(site, wall, 2.5) if post.stud] == [1, 2, 3, 4, 5]


def test_a_board_covers_the_faces_of_its_studs(site: Site) -> None:
    (held,), _, (board,) = with_boards(site, [bracket(1, 0.8, 2.5)])
    assert board.between == ("stud 1", "stud 2")
    assert board.from_left_m == pytest.approx(0.5 - STUD_WIDTH_M / 2)
    assert board.length_m == pytest.approx(0.6 + STUD_WIDTH_M)
    assert (held.board, board.height_m) == (board.tag, 2.5)


def test_a_board_ends_at_a_corner(site: Site) -> None:
    _, _, (board,) = with_boards(site, [bracket(1, 0.2, 2.5)])
    assert (board.between, board.from_left_m) == (("left-hand corner", "stud 1"), 0.0)


@pytest.mark.parametrize("apart_m, boards", [(0.0, 1), (0.07, 1), (0.075, 2), (0.1, 2), (0.139, 2), (0.3, 2)])
@pytest.mark.parametrize("along_m", [0.0, 0.6])
def test_two_brackets_share_a_board_or_have_two_that_do_not_meet(
    site: Site, apart_m: float, boards: int, along_m: float
) -> None:
    held, _, found = with_boards(site, [bracket(1, 0.8, 2.4 + apart_m), bracket(2, 0.8 + along_m, 2.4)])
    assert len(found) == boards
    by_tag = {board.tag: board for board in found}
    for each in held:
        assert abs(each.at.z - by_tag[each.board].height_m) <= BOARD_TALL_M / 4 + 1e-9
    for low, high in pairwise(sorted(board.height_m for board in found)):
        assert high - low >= BOARD_TALL_M - 1e-9


def test_a_board_across_two_bays_reaches_over_both(site: Site) -> None:
    _, _, (board,) = with_boards(site, [bracket(1, 0.8, 2.5), bracket(2, 1.4, 2.49)])
    assert board.between == ("stud 1", "stud 3")
