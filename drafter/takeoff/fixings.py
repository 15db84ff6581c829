"""Screws, plugs and anchors: how many, by what they go into. What the structure carries is not checked."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from drafter.site.model import Site
from drafter.supports.design import Board, Design
from drafter.supports.framing import STUD_WIDTH_M, posts_at
from drafter.takeoff.holding import console_held_by, held_by, spares
from drafter.takeoff.part import FIXINGS
from drafter.takeoff.rows import Row

A_BRACKET = 2
"""Screws of a bracket's plate (common practice; the bracket's maker governs)."""

A_BRACE = 1
"""More of them for the brace of a fixed hanger's rod (common practice)."""

A_CONSOLE = 4
"""Screws of a console or a unit's bracket, which hose and weight pull at (common practice; its maker governs)."""

A_POST = 2
"""Screws of a backing board into each stud it lies on, one above the other (common practice)."""

AS_MADE = "as its maker says"
UNKNOWN = "for what it is made of: not in the site file"

BRACKET_FIXINGS = {
    "stud": ("wood screw for brackets, into studs", AS_MADE),
    "board": ("wood screw for brackets, into backing boards", AS_MADE),
    "wall": ("plug and screw for brackets, or anchor, into masonry", AS_MADE),
    "column": ("fixing for brackets, into a column", UNKNOWN),
    "joist": ("rod screw for hangers into timber joists, or clamp on steel", "for the rod's thread"),
    "ceiling": ("anchor for hangers, into ceiling or roof", UNKNOWN),
}

CONSOLE_FIXINGS = {
    "stud": ("wood screw for consoles and unit brackets, into studs", AS_MADE),
    "board": ("wood screw for consoles and unit brackets, into backing boards", AS_MADE),
    "floor": ("anchor for stands, into the floor", UNKNOWN),
    "wall": ("plug and screw for consoles and unit brackets, or anchor, into masonry", AS_MADE),
}


def fixing_rows(design: Design) -> list[Row]:
    """Return the fixings to buy, counted by what they go into."""
    count: Counter[tuple[str, str]] = Counter()
    for bracket in design.brackets:
        place, _ = held_by(bracket)
        count[BRACKET_FIXINGS[place]] += 1 if place in ("joist", "ceiling") else A_BRACKET
        count[BRACKET_FIXINGS[place]] += A_BRACE if bracket.hangs and bracket.fixed else 0
    for console in design.consoles:
        count[CONSOLE_FIXINGS[console_held_by(console)[0]]] += A_CONSOLE
    count.update(_board_screws(design))
    return [
        Row(FIXINGS, item, size, number, "pcs", number + spares(number), ()) for (item, size), number in count.items()
    ]


def _board_screws(design: Design) -> Iterator[tuple[str, str]]:
    """Yield each screw of each backing board."""
    site = design.network.layout.site
    length = "2-1/2 in" if site.imperial else "60 mm"
    for board in design.boards:
        into = "joists" if site.wall(board.room, board.wall).is_crossing else "studs"
        words = f"wood screw for backing boards, into {into}", f"{length}, longer by the lining"
        yield from [words] * A_POST * posts_behind(site, board)


def posts_behind(site: Site, board: Board) -> int:
    """Return how many studs, joists, corner posts and sides of openings a board lies on, its ends among them."""
    posts = posts_at(site, site.wall(board.room, board.wall), board.height_m)
    half_m = STUD_WIDTH_M / 2 + 1e-6
    return sum(board.from_left_m - half_m <= post.at_m <= board.from_left_m + board.length_m + half_m for post in posts)
