"""Backing boards behind the brackets that meet no stud: from stud to stud, one for all that a board can carry."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import combinations, groupby

from drafter.site.model import Site
from drafter.site.wall import Wall
from drafter.supports.design import Board, Bracket
from drafter.supports.framing import STUD_WIDTH_M, Post, posts_at

BOARD_TALL_M = 0.14
"""Height of a board: 140 mm, 5 1/2 in, the dressed width of a nominal 6 in (PS 20)."""

BOARD_THICK_M = 0.019
"""Thickness of a board: 3/4 in, the dressed thickness of a nominal 1 in (PS 20)."""

OFF_MIDDLE_M = BOARD_TALL_M / 4
"""So far from the middle of its board a bracket may stand, and its screws still hold (common practice)."""


@dataclass(frozen=True)
class _Need:
    """Brackets to be carried by one board, and the posts it reaches between."""

    brackets: tuple[Bracket, ...]
    left: Post
    right: Post

    @property
    def heights(self) -> tuple[float, float]:
        heights = [bracket.at.z for bracket in self.brackets]
        return min(heights), max(heights)

    def goes_with(self, other: _Need) -> bool:
        """Whether one board can carry both: their bays meet, and their heights are alike."""
        low, high = (f(*self.heights, *other.heights) for f in (min, max))
        meet = self.left.at_m <= other.right.at_m + 1e-9 and other.left.at_m <= self.right.at_m + 1e-9
        return meet and high - low <= 2 * OFF_MIDDLE_M + 1e-9

    def and_(self, other: _Need) -> _Need:
        left = min(self.left, other.left, key=lambda post: post.at_m)
        right = max(self.right, other.right, key=lambda post: post.at_m)
        return _Need((*self.brackets, *other.brackets), left, right)


def with_boards(site: Site, brackets: Iterable[Bracket]) -> tuple[tuple[Bracket, ...], tuple[Board, ...]]:
    """Return brackets with the boards they are screwed to, and these boards, wall by wall from the left.

    Args:
        brackets: wall by wall from the left.
    """
    placed: list[Bracket] = []
    boards: list[Board] = []
    for (room, name), here in groupby(brackets, key=lambda bracket: (bracket.room, bracket.wall)):
        mine, wall = list(here), site.wall(room, name)
        tags: dict[str, str] = {}
        if site.rooms[room].studs_of(name) is not None:
            needs = _needs(
                site,
                wall,
                [
                    each
                    for each in mine
                    if not each.stud and not each.on_column and (not each.hangs or wall.is_crossing)
                ],
            )
            for need, middle_m in zip(needs, _middles_m(needs), strict=True):
                board = _board(f"W-{len(boards) + 1:02d}", wall, need, middle_m)
                tags |= {bracket.tag: board.tag for bracket in need.brackets}
                boards.append(board)
        mine = [_before(bracket, boards) for bracket in mine]
        placed += [replace(bracket, board=tags.get(bracket.tag, bracket.board)) for bracket in mine]
    return tuple(placed), tuple(boards)


def _before(bracket: Bracket, boards: list[Board]) -> Bracket:
    """A bracket on a stud that a board runs over is screwed through the board, so much nearer to the pipe."""
    for board in boards:
        over = board.from_left_m <= bracket.from_left_m <= board.from_left_m + board.length_m
        here = (board.room, board.wall) == (bracket.room, bracket.wall)
        if bracket.stud and here and over and abs(board.height_m - bracket.at.z) <= BOARD_TALL_M / 2:
            return replace(bracket, board=board.tag, stand_off_m=bracket.stand_off_m - BOARD_THICK_M)
    return bracket


def _needs(site: Site, wall: Wall, brackets: list[Bracket]) -> list[_Need]:
    found: list[_Need] = []
    for bracket in brackets:
        posts = posts_at(site, wall, bracket.at.z)
        left = max((post for post in posts if post.at_m <= bracket.from_left_m), key=lambda post: post.at_m)
        right = min((post for post in posts if post.at_m > bracket.from_left_m), key=lambda post: post.at_m)
        need = _Need((bracket,), left, right)
        fellow = next((other for other in found if other.goes_with(need)), None)
        if fellow is None:
            found.append(need)
        else:
            found[found.index(fellow)] = fellow.and_(need)
    return sorted(found, key=lambda need: (need.left.at_m, -need.heights[1]))


def _middles_m(needs: list[_Need]) -> list[float]:
    """Set each board with its brackets in the middle, or as far from there as keeps it off its neighbours."""
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
