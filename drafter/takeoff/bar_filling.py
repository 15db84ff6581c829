"""Quick ways to lay pieces into bars, longest piece first: good, seldom the best."""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Callable, Sequence

Filled = list[tuple[int, list[int]]]
"""What each bar holds at most, and the sizes laid into it."""

Choose = Callable[[Filled, list[int], int], int | None]
"""Which of the bars begun, with the room each has left, takes a piece; None for none."""


def first_fit(bars: Filled, rooms: list[int], size: int) -> int | None:
    """The first bar with room."""
    return next((number for number in range(len(bars)) if rooms[number] >= size), None)


def best_fit(bars: Filled, rooms: list[int], size: int) -> int | None:
    """The bar that the piece leaves the least room in."""
    fitting = (number for number in range(len(bars)) if rooms[number] >= size)
    return min(fitting, key=lambda number: rooms[number], default=None)


def filled(sizes: Sequence[int], capacities: Sequence[int], begun: int, choose: Choose) -> Filled:
    """Lay pieces into as many bars as they need, one after the other.

    Args:
        sizes: of the pieces, falling.
        capacities: of the bars there are, rising.
        begun: which of them a new bar is, if it holds the piece; else the shortest that does.

    Source:
        first fit and best fit, decreasing: Johnson, Demers, Ullman, Garey and Graham, Worst-case performance bounds
        for simple one-dimensional packing algorithms, SIAM J. Comput. 3 (1974).
    """
    bars: Filled = []
    rooms: list[int] = []
    for size in sizes:
        number = choose(bars, rooms, size)
        if number is None:
            capacity = begun if begun >= size else capacities[bisect_left(capacities, size)]
            number = len(bars)
            bars.append((capacity, []))
            rooms.append(capacity)
        bars[number][1].append(size)
        rooms[number] -= size
    return bars


def filled_closely(sizes: Sequence[int], capacities: Sequence[int], begun: int) -> Filled:
    """Lay pieces bar by bar: the longest piece left, with those that then leave the least room.

    Source:
        Gupta and Ho, A new heuristic algorithm for the one-dimensional bin-packing problem, Production Planning and
        Control 10 (1999): minimum bin slack, here with the longest piece always in.
    """
    left, bars = list(sizes), Filled()
    while left:
        first = left.pop(0)
        capacity = begun if begun >= first else capacities[bisect_left(capacities, first)]
        chosen = _closest(left, capacity - first)
        bars.append((capacity, [first, *(left[number] for number in chosen)]))
        for number in reversed(chosen):
            del left[number]
    return bars


def _closest(sizes: list[int], room: int) -> list[int]:
    """Return which sizes together come nearest to a room without passing it, in their order."""
    within = (1 << (room + 1)) - 1
    sums = [1]
    for size in sizes:
        sums.append((sums[-1] | (sums[-1] << size)) & within)
    reached = sums[-1].bit_length() - 1
    chosen = []
    for number in range(len(sizes) - 1, -1, -1):
        if not sums[number] >> reached & 1:
            chosen.append(number)
            reached -= sizes[number]
    return chosen[::-1]


def filled_into(sizes: Sequence[int], bins: Sequence[int]) -> Filled | None:
    """Lay pieces into just these bars by best fit; None where one finds no room."""
    rooms = sorted((capacity, number) for number, capacity in enumerate(bins))
    bars: Filled = [(capacity, []) for capacity in bins]
    for size in sizes:
        place = bisect_left(rooms, (size, -1))
        if place == len(rooms):
            return None
        room, number = rooms.pop(place)
        bars[number][1].append(size)
        insort(rooms, (room - size, number))
    return bars
