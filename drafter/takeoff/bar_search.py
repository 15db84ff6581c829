"""Whether pieces come out of a given mix of bars at all: a search that ends with a plan, with no, or out of work."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from drafter.takeoff.bar_bound import ruled_out
from drafter.takeoff.bar_filling import Filled

Counts = tuple[int, ...]


class OutOfWorkError(Exception):
    """The search has used up the work it was given."""


@dataclass
class Work:
    """How many steps a search may still take: counted, not timed, so that the same list gets the same plan."""

    steps: int

    def spend(self, steps: int = 1) -> None:
        """Take steps off.

        Raises:
            OutOfWorkError: none are left.
        """
        self.steps -= steps
        if self.steps < 0:
            raise OutOfWorkError


def searched(sizes: Sequence[int], bins: Sequence[int], work: Work) -> Filled | None:
    """Return the pieces laid into just these bars, or None where that cannot be.

    The longest piece left lies in some bar: each kind of bar is tried, with each set of pieces beside it to which no
    other can be added. What is wasted so may not pass what is to spare, and no state is tried twice.

    Args:
        sizes: of the pieces, falling.
        bins: what each bar holds.

    Raises:
        OutOfWorkError: before it was settled.

    Source:
        bin completion: Korf, A new algorithm for optimal bin packing, AAAI 2002; here for bars of several lengths.
    """
    kinds, capacities = tuple(dict.fromkeys(sizes)), tuple(sorted(set(bins)))
    start = (tuple(map(list(sizes).count, kinds)), tuple(map(list(bins).count, capacities)))
    seen, way = {start}, Filled()
    stack = [_next(kinds, start[0], capacities, start[1], work)]
    while stack:
        for counts, left, bar in stack[-1]:
            if not any(counts):
                return [*way, bar]
            if (counts, left) not in seen:
                seen.add((counts, left))
                way.append(bar)
                stack.append(_next(kinds, counts, capacities, left, work))
                break
        else:
            stack.pop()
            if way:
                way.pop()
    return None


def _next(
    kinds: Counts, counts: Counts, capacities: Counts, bins: Counts, work: Work
) -> Iterator[tuple[Counts, Counts, tuple[int, list[int]]]]:
    """Yield each way to fill one more bar: pieces and bars left then, and the bar."""
    work.spend(len(kinds))
    if ruled_out(listed(kinds, counts), listed(capacities, bins)):
        return
    first = next(number for number, count in enumerate(counts) if count)
    spare = sum(c * n for c, n in zip(capacities, bins, strict=True)) - sum(
        k * n for k, n in zip(kinds, counts, strict=True)
    )
    others = tuple(count - (number == first) for number, count in enumerate(counts))
    for number, capacity in enumerate(capacities):
        room = capacity - kinds[first]
        if not bins[number] or room < 0:
            continue
        left = tuple(count - (place == number) for place, count in enumerate(bins))
        for taken in completions(kinds, others, first, room, spare, work):
            rest = tuple(have - use for have, use in zip(others, taken, strict=True))
            yield rest, left, (capacity, [kinds[first], *listed(kinds, taken)])


def completions(kinds: Counts, counts: Counts, first: int, room: int, spare: int, work: Work) -> Iterator[Counts]:
    """Yield each set of pieces that fits into a room, wastes no more than is to spare, and to which none can be added.

    Long pieces are taken first, so that the first sets found are those a fitter would try.
    """
    after = [0] * (len(kinds) + 1)
    for number in range(len(kinds) - 1, -1, -1):
        after[number] = after[number + 1] + kinds[number] * counts[number]
    taken = [0] * len(kinds)

    def further(number: int, room: int, least_left_out: int) -> Iterator[Counts]:
        work.spend()
        if room - after[number] > spare:
            return
        if number == len(kinds):
            if room < least_left_out:
                yield tuple(taken)
            return
        size = kinds[number]
        most = min(counts[number], room // size)
        for use in range(most, -1, -1):
            out = size if use < counts[number] else least_left_out
            taken[number] = use
            yield from further(number + 1, room - use * size, out)
        taken[number] = 0

    yield from further(first, room, room + 1 + spare)


def listed(values: Counts, counts: Counts) -> list[int]:
    return [value for value, count in zip(values, counts, strict=True) for _ in range(count)]
