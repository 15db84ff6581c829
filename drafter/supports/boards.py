"""Backing boards behind what meets no stud, brackets and consoles: stud to stud, one for all that it can carry."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import TypeAlias, TypeVar

from drafter.site.model import Site
from drafter.site.wall import Wall
from drafter.supports.design import Board, Bracket, Console
from drafter.supports.framing import STUD_WIDTH_M, Post, posts_at

Fixed: TypeAlias = Bracket | Console
AnyFixed = TypeVar("AnyFixed", Bracket, Console)

BOARD_TALL_M = 0.14
"""Height of a board: 140 mm, 5 1/2 in, the dressed width of a nominal 6 in (PS 20)."""

BOARD_THICK_M = 0.019
"""Thickness of a board: 3/4 in, the dressed thickness of a nominal 1 in (PS 20)."""

OFF_MIDDLE_M = BOARD_TALL_M / 4
"""So far from the middle of its board a bracket may stand, and its screws still hold (common practice)."""


@dataclass(frozen=True)
class _Need:
    """Brackets and consoles to be carried by one board, and the posts it reaches between."""

    held: tuple[Fixed, ...]
    left: Post
    right: Post

    @property
    def heights(self) -> tuple[float, float]:
        heights = [each.at.z for each in self.held]
        return min(heights), max(heights)

    def goes_with(self, other: _Need) -> bool:
        """Whether one board can carry both: their bays meet, and their heights are alike."""
        low, high = (f(*self.heights, *other.heights) for f in (min, max))
        meet = self.left.at_m <= other.right.at_m + 1e-9 and other.left.at_m <= self.right.at_m + 1e-9
        return meet and high - low <= 2 * OFF_MIDDLE_M + 1e-9

    def and_(self, other: _Need) -> _Need:
        left = min(self.left, other.left, key=lambda post: post.at_m)
        right = max(self.right, other.right, key=lambda post: post.at_m)
        return _Need((*self.held, *other.held), left, right)


def with_boards(
    site: Site, brackets: Sequence[Bracket], consoles: Sequence[Console] = ()
) -> tuple[tuple[Bracket, ...], tuple[Console, ...], tuple[Board, ...]]:
    """Return brackets and consoles with the boards they are screwed to, and these boards, wall by wall from the left.

    Args:
        brackets, consoles: wall by wall from the left.
    """
    every: tuple[Fixed, ...] = (*brackets, *consoles)
    carried: dict[Fixed, str] = {}
    boards: list[Board] = []
    for face in site.faces:
        if site.rooms[face.room].studs_of(face.name) is None:
            continue
        here = [each for each in every if (each.room, each.wall) == (face.room, face.name)]
        needs = _needs(site, face, [each for each in here if _asks_for_a_board(each, face)])
        for need, middle_m in zip(needs, _middles_m(needs), strict=True):
            boards.append(_board(f"W-{len(boards) + 1:02d}", face, need, middle_m))
            carried |= dict.fromkeys(need.held, boards[-1].tag)
    return (
        tuple(_on_board(each, carried, boards) for each in brackets),
        tuple(_on_board(each, carried, boards) for each in consoles),
        tuple(boards),
    )


def _on_board(each: AnyFixed, carried: Mapping[Fixed, str], boards: Sequence[Board]) -> AnyFixed:
    return replace(each, board=carried[each]) if each in carried else _before(each, boards)


def _asks_for_a_board(each: Fixed, wall: Wall) -> bool:
    if each.stud:
        return False
    if isinstance(each, Console):
        return not each.on_floor
    return not each.on_column and (not each.hangs or wall.is_crossing)


def _before(each: AnyFixed, boards: Sequence[Board]) -> AnyFixed:
    """What a board runs over on its stud is screwed through the board; a bracket stands so much nearer to the pipe."""
    for board in boards:
        over = board.from_left_m <= each.from_left_m <= board.from_left_m + board.length_m
        here = (board.room, board.wall) == (each.room, each.wall)
        if each.stud and here and over and abs(board.height_m - each.at.z) <= BOARD_TALL_M / 2:
            if isinstance(each, Bracket):
                return replace(each, board=board.tag, stand_off_m=each.stand_off_m - BOARD_THICK_M)
            return replace(each, board=board.tag)
    return each


def _needs(site: Site, wall: Wall, held: list[Fixed]) -> list[_Need]:
    found: list[_Need] = []
    for each in held:
        posts = posts_at(site, wall, each.at.z)
        left = max((post for post in posts if post.at_m <= each.from_left_m), key=lambda post: post.at_m)
        right = min((post for post in posts if post.at_m > each.from_left_m), key=lambda post: post.at_m)
        need = _Need((each,), left, right)
        fellow = next((other for other in found if other.goes_with(need)), None)
        if fellow is None:
            found.append(need)
        else:
            found[found.index(fellow)] = fellow.and_(need)
    return sorted(found, key=lambda need: (need.left.at_m, -need.heights[1]))


def _middles_m(needs: list[_Need]) -> list[float]:
    """Set each board with what it carries in the middle, or as far from there as keeps it off its neighbours."""
    middles = [sum(need.heights) / 2 for need in needs]
    for (i, one), (j, other) in combinations(enumerate(needs), 2):
        if one.right.at_m < other.left.at_m - 1e-9 or other.right.at_m < one.left.at_m - 1e-9:
            continue
        low, high = (i, j) if middles[i] <= middles[j] else (j, i)
        lack_m = BOARD_TALL_M - (middles[high] - middles[low])
        if lack_m > 0.0:
            middles[low] = max(middles[low] - lack_m / 2, needs[low].heights[1] - OFF_MIDDLE_M)
            middles[high] = min(middles[high] + lack_m / 2, needs[high].heights[0] + OFF_MIDDLE_M)
    return middles


def _board(tag: str, wall: Wall, need: _Need, middle_m: float) -> Board:
    """A board over the whole face of the studs at its ends, as far as a corner or the side of an opening."""
    start, end = (
        post.at_m + (side * STUD_WIDTH_M / 2 if post.stud else 0.0) for post, side in ((need.left, -1), (need.right, 1))
    )
    between = need.left.name, need.right.name
    if wall.is_crossing:
        middle_m = wall.ceiling_m - BOARD_THICK_M / 2
    return Board(tag, wall.room, wall.name, start, end - start, middle_m, between)
