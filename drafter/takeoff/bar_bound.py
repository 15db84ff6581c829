"""What no way of cutting can do: a bound on the stock lengths that a list of pieces needs."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from itertools import accumulate


def ruled_out(sizes: Sequence[int], bins: Sequence[int]) -> bool:
    """Return whether it is certain that pieces do not all come out of some bars.

    No two pieces longer than half the longest bar share one, so each needs a bar of its own that holds it. And for
    each length α: a piece that leaves less than α in the longest bar shares its bar with no piece of α or more, so
    the others of α and more must find room in the other bars.

    Args:
        sizes: of the pieces, falling.
        bins: what each bar holds.

    Source:
        Martello and Toth, Knapsack Problems (1990), section 8.3, bound L2; for bars of one length it is just that,
        for a mix of lengths the same argument is used bar by bar.
    """
    rising = sorted(bins)
    if not sizes or not rising:
        return bool(sizes)
    longest, room = rising[-1], list(accumulate(rising, initial=0))
    total = list(accumulate(sizes, initial=0))
    if total[-1] > room[-1]:
        return True
    for rank, size in enumerate(sizes):
        if 2 * size <= longest:
            break
        if rank >= len(rising) or size > rising[-1 - rank]:
            return True
    rest = [-size for size in sizes]
    for alpha in dict.fromkeys(size for size in sizes if 2 * size <= longest):
        alone = bisect_left(rest, -(longest - alpha))
        first = bisect_left(rising, sizes[alone - 1]) if alone else 0
        taken = room[first + alone] - room[first]
        if total[bisect_left(rest, -alpha + 1)] - total[alone] > room[-1] - taken:
            return True
    return False


def least_bars(sizes: Sequence[int], capacity: int) -> int:
    """Return how many bars of one length pieces need at least; ``sizes`` fall.

    Source:
        Martello and Toth, bound L2, as in `ruled_out`.
    """
    count = -(-sum(sizes) // capacity)
    while ruled_out(sizes, [capacity] * count):
        count += 1
    return count
