"""Pieces laid into the lengths sold so that as little as possible is bought: quickly, then proved where it can be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor

_GRAIN_M = 1e-4
"""Lengths are compared in tenths of a millimetre: pieces rounded up, stock down."""

_MOST_SEARCHED = 100
"""Pieces in a list that is still searched through; longer lists are only laid quickly."""

_MOST_STEPS_A_LENGTH = 500
_MOST_STEPS = 60_000
"""Pieces laid on trial before a search gives up: a count, not a time, so that the same file gives the same plan."""


@dataclass(frozen=True, slots=True)
class Packed:
    """Pieces in stock lengths.

    Attributes:
        stocks: for each length bought, which it is [m] and the numbers of the pieces in it, as they were given.
        least_m: no plan buys less [m]; equal to what is bought where the plan is proved the best.
    """

    stocks: tuple[tuple[float, tuple[int, ...]], ...]
    least_m: float

    @property
    def bought_m(self) -> float:
        return sum(stock for stock, _ in self.stocks)


Mix = tuple[int, ...]
"""Stock lengths to fill, in grains, the longest first."""


def pack(lengths_m: Sequence[float], stocks_m: Sequence[float]) -> Packed:
    """Lay pieces into stock lengths: least length bought, then fewest lengths.

    Args:
        lengths_m: of the pieces, saw cuts included; a piece longer than all stock counts as the longest stock.
        stocks_m: the lengths sold.

    Returns:
        The plan, with a length that no plan stays below.

    Source:
        first-fit and best-fit decreasing, and minimum bin slack (Gupta and Ho 1999) with a limit; then each smaller
        mix of stock lengths is ruled out by its sum or by the bound L2 of Martello and Toth (Knapsack Problems,
        1990, chapter 8), or filled by a search in depth.
    """
    sold = sorted({floor(stock / _GRAIN_M + 1e-6): stock for stock in stocks_m}.items(), reverse=True)
    stock_of = dict(sold)
    kinds = tuple(stock_of)
    items = [min(kinds[0], ceil(length / _GRAIN_M - 1e-6)) for length in lengths_m]
    order = sorted(range(len(items)), key=lambda number: (-items[number], number))
    sizes = [items[number] for number in order]
    best = min((_fitted(sizes, kinds), _fitted(sizes, kinds, tight=True), _fullest(sizes, kinds)), key=_price)
    filled, least = _improved(sizes, kinds, best)
    stocks = tuple(
        (stock_of[stock], tuple(order[place] for place in places))
        for stock, places in sorted(filled, key=lambda row: (row[1][0], -row[0]))
    )
    return Packed(stocks, sum(stock_of[stock] for stock in least))


Filled = list[tuple[int, list[int]]]
"""Stock lengths with the places, in the order of falling size, of the pieces in them."""


def _price(filled: Filled) -> tuple[int, int]:
    return sum(stock for stock, _ in filled), len(filled)


def _fitted(sizes: Sequence[int], kinds: Mix, tight: bool = False) -> Filled:
    """First fit, or where ``tight`` best fit, into the longest stock."""
    rooms: list[int] = []
    rows: list[list[int]] = []
    for place, size in enumerate(sizes):
        fitting = [number for number, room in enumerate(rooms) if room >= size]
        if not fitting:
            rooms.append(kinds[0])
            rows.append([])
            fitting = [len(rooms) - 1]
        chosen = min(fitting, key=lambda number: (rooms[number], number)) if tight else fitting[0]
        rooms[chosen] -= size
        rows[chosen].append(place)
    return _shrunk(sizes, kinds, rows)


def _fullest(sizes: Sequence[int], kinds: Mix) -> Filled:
    """The longest stock one after the other: each takes the longest piece left and what fills it best beside that."""
    left = list(range(len(sizes)))
    rows = []
    while left:
        first, rest = left[0], left[1:]
        chosen = _best_filling([sizes[place] for place in rest], kinds[0] - sizes[first])
        rows.append([first, *(rest[number] for number in chosen)])
        left = [place for place in rest if place not in rows[-1]]
    return _shrunk(sizes, kinds, rows)


def _best_filling(sizes: Sequence[int], room: int) -> list[int]:
    """Numbers of the pieces that fill a room best, the longest first in doubt; a search of limited length."""
    best: list[int] = []
    best_room, steps = room, _MOST_STEPS_A_LENGTH

    def extend(start: int, chosen: list[int], room: int) -> None:
        nonlocal best, best_room, steps
        if room < best_room:
            best, best_room = list(chosen), room
        before = 0
        for number in range(start, len(sizes)):
            if best_room == 0 or steps <= 0:
                return
            if sizes[number] <= room and sizes[number] != before:
                before, steps = sizes[number], steps - 1
                chosen.append(number)
                extend(number + 1, chosen, room - sizes[number])
                chosen.pop()

    extend(0, [], room)
    return best


def _shrunk(sizes: Sequence[int], kinds: Mix, rows: Sequence[list[int]]) -> Filled:
    """Rows of the longest stock, each in the shortest stock that holds it."""
    used = [sum(sizes[place] for place in row) for row in rows]
    return [(min(kind for kind in kinds if kind >= length), row) for length, row in zip(used, rows, strict=True)]


def _improved(sizes: Sequence[int], kinds: Mix, best: Filled) -> tuple[Filled, Mix]:
    """A cheaper plan if one is found, and the cheapest mix that could not be ruled out."""
    steps = _Steps(_MOST_STEPS if len(sizes) <= _MOST_SEARCHED else 0)
    fewest = bound_l2(sizes, kinds[0]) if sizes else 0
    for mix in _mixes(kinds, sum(sizes), _price(best)):
        if len(mix) < fewest:
            continue
        try:
            rows = _fill(sizes, mix, steps)
        except _OutOfStepsError:
            return best, mix
        if rows is not None:
            best = [(stock, row) for stock, row in zip(mix, rows, strict=True)]
            break
    return best, tuple(stock for stock, _ in best)


def _mixes(kinds: Mix, least: int, price: tuple[int, int]) -> list[Mix]:
    """All mixes that hold a sum and cost less than a price, the cheapest first."""
    found: list[Mix] = []

    def extend(mix: Mix, total: int, left: Mix) -> None:
        kind, shorter = left[0], left[1:]
        fewest = 0 if shorter else max(0, -(-(least - total) // kind))
        for count in range(fewest, max(0, price[0] - total) // kind + 1):
            longer, more = (*mix, *[kind] * count), total + count * kind
            if shorter:
                extend(longer, more, shorter)
            elif (more, len(longer)) < price:
                found.append(longer)

    extend((), 0, kinds)
    return sorted(found, key=lambda mix: (sum(mix), len(mix), [-kind for kind in mix]))


def bound_l2(sizes: Sequence[int], stock: int) -> int:
    """Return a number of lengths of one stock below which the pieces do not fit.

    Args:
        sizes: of the pieces, each at most the stock; at least one.

    Source:
        Martello and Toth, Knapsack Problems (1990), section 8.3.2: for each K up to half the stock, pieces over
        stock - K and over half the stock need one each; those from K to half fill what the middle ones leave.
    """
    best = -(-sum(sizes) // stock)
    for least in {0, *(size for size in sizes if 2 * size <= stock)}:
        alone = sum(size > stock - least for size in sizes)
        middle = [size for size in sizes if stock - least >= size and 2 * size > stock]
        small = sum(size for size in sizes if 2 * size <= stock and size >= least)
        over = small - (len(middle) * stock - sum(middle))
        best = max(best, alone + len(middle) + max(0, -(-over // stock)))
    return best


class _OutOfStepsError(Exception):
    """A search was given up."""


@dataclass
class _Steps:
    left: int

    def take(self) -> None:
        self.left -= 1
        if self.left < 0:
            raise _OutOfStepsError


def _fill(sizes: Sequence[int], mix: Mix, steps: _Steps) -> list[list[int]] | None:
    """Lay falling sizes into given stock lengths, the tightest place first; None where they do not fit.

    What a piece leaves of a length that no piece left to lay could use is lost; once more is lost than the mix
    has over, the way is given up.
    """
    rooms, rows = list(mix), [list[int]() for _ in mix]
    spare, smallest = sum(mix) - sum(sizes), min(sizes, default=0)

    def lay(place: int, lost: int) -> bool:
        if place == len(sizes):
            return True
        steps.take()
        size, tried = sizes[place], set[int]()
        for number in sorted(range(len(rooms)), key=lambda n: (rooms[n], n)):
            room = rooms[number]
            if room < size or room in tried:
                continue
            tried.add(room)
            waste = room - size if room - size < smallest else 0
            if lost + waste > spare:
                continue
            rooms[number] -= size
            rows[number].append(place)
            if lay(place + 1, lost + waste):
                return True
            rows[number].pop()
            rooms[number] += size
        return False

    return rows if lay(0, 0) else None
