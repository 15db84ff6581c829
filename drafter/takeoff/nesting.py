"""Which stock lengths to buy for a list of pieces, and what is cut from each: least length, then fewest bars."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from drafter.takeoff.bar_bound import least_bars, ruled_out
from drafter.takeoff.bar_filling import Filled, best_fit, filled, filled_closely, filled_into, first_fit
from drafter.takeoff.bar_patterns import patterned
from drafter.takeoff.bar_search import OutOfWorkError, Work, searched

STEPS = 500_000
"""Work put into one list: so many pieces laid, so many steps of the search. Counted, so that plans repeat."""

MOST_MIXES = 50_000
"""More mixes of stock lengths than this are not gone through."""

CLOSELY = 200_000_000
"""Up to so many pieces times steps of the longest bar, bars are also filled one by one to the least rest."""

Cost = tuple[int, int]
"""Length bought, and how many bars."""


@dataclass(frozen=True, slots=True)
class Nesting:
    """The bars to buy with the sizes cut from each, fullest bars first of each length, and what nothing can beat.

    Attributes:
        bars: length of the bar, and the pieces from it, longest first.
        least: the lowest cost that is not ruled out: length, and number of bars.
    """

    bars: tuple[tuple[int, tuple[int, ...]], ...]
    least: Cost

    @property
    def cost(self) -> Cost:
        return sum(stock for stock, _ in self.bars), len(self.bars)

    @property
    def proved(self) -> bool:
        return self.cost == self.least


def nested(pieces: Sequence[int], stocks: Sequence[int], lost: int, trim: int = 0) -> Nesting:
    """Lay pieces into stock lengths of which there are as many as wanted.

    Quick fillings give a plan; every mix of bars that costs less is then ruled out by its bound, filled by best fit,
    or searched, in the order of cost, until one holds the pieces or the work is done. What stays open is tried as an
    integer programme where there are few patterns.

    Args:
        pieces: their lengths, in any order; integers, such as tenths of a millimetre.
        stocks: lengths sold.
        lost: at each cut. A piece at the end of its bar needs none, so bars hold pieces and their cuts as if all were
            longer by one cut.
        trim: cut off the first end of each bar.

    Raises:
        ValueError: a piece is longer than every stock length.
    """
    stocks = sorted(set(stocks))
    sizes, more = sorted((piece + lost for piece in pieces), reverse=True), lost - trim
    if not sizes:
        return Nesting((), (0, 0))
    if sizes[0] > stocks[-1] + more:
        raise ValueError(f"a piece of {sizes[0] - lost} is longer than every stock length")
    best = min(_quick(sizes, stocks, more), key=lambda bars: _cost(bars, more))
    better, least = _improved(sizes, stocks, more, sum(pieces), _cost(best, more))
    best = better or best
    if _cost(best, more) > least:
        best, least = _by_patterns(sizes, stocks, more, best, least)
    bars = [(capacity - more, tuple(size - lost for size in held)) for capacity, held in best]
    bars.sort(key=lambda bar: (-bar[0], -sum(bar[1]), [-piece for piece in bar[1]]))
    return Nesting(tuple(bars), least)


def _cost(bars: Filled, more: int) -> Cost:
    return sum(capacity - more for capacity, _ in bars), len(bars)


def _quick(sizes: list[int], stocks: Sequence[int], more: int) -> Iterator[Filled]:
    """Yield fillings by each quick way and begun with each length, every bar then the shortest that holds its own."""
    capacities = [stock + more for stock in stocks]
    for begun in capacities:
        ways = [filled(sizes, capacities, begun, choose) for choose in (first_fit, best_fit)]
        if len(sizes) * capacities[-1] <= CLOSELY:
            ways.append(filled_closely(sizes, capacities, begun))
        for bars in ways:
            yield [(min(c for c in capacities if c >= sum(held)), held) for _, held in bars]


def _improved(
    sizes: list[int], stocks: Sequence[int], more: int, needed: int, cost: Cost
) -> tuple[Filled | None, Cost]:
    """Return the first mix that costs less and holds the pieces, if one is found, and what nothing can beat.

    Args:
        more: that bars hold than they are long, one cut less what is trimmed.
        needed: length of all pieces.
    """
    mixes = _mixes(sizes, stocks, more, needed, cost)
    if mixes is None:
        return None, (needed, least_bars(sizes, stocks[-1] + more))
    open_at, laid, work = None, 0, Work(STEPS)
    for at, mix in mixes:
        bins = [stock + more for stock, count in zip(stocks, mix, strict=True) for _ in range(count)]
        if ruled_out(sizes, bins):
            continue
        laid += len(sizes)
        if laid > STEPS:
            return None, open_at or at
        bars = filled_into(sizes, bins)
        if bars is None and open_at is None:
            try:
                bars = searched(sizes, bins, work)
            except OutOfWorkError:
                open_at = at
        if bars is not None:
            return [bar for bar in bars if bar[1]], open_at or at
    return None, open_at or cost


def _by_patterns(sizes: list[int], stocks: Sequence[int], more: int, best: Filled, least: Cost) -> tuple[Filled, Cost]:
    """Return what the patterns make of a list that the search left open, where that is better or settles it."""
    found = patterned(sizes, [stock + more for stock in stocks], more)
    if found is None:
        return best, least
    bars, proved = found
    best = min(best, [bar for bar in bars if bar[1]], key=lambda each: _cost(each, more))
    return best, _cost(best, more) if proved else least


def _mixes(
    sizes: list[int], stocks: Sequence[int], more: int, needed: int, below: Cost
) -> list[tuple[Cost, tuple[int, ...]]] | None:
    """Return cost and mix (how many of each length) of all that may do and cost less than ``below``, in that order.

    None where there are more than are gone through.
    """
    fewest = least_bars(sizes, stocks[-1] + more)
    ranges = [range(below[0] // stock + 1) for stock in stocks[:-1]]
    if math.prod(map(len, ranges)) > MOST_MIXES:
        return None
    found = []
    for counts in product(*ranges):
        length = sum(stock * count for stock, count in zip(stocks, counts, strict=False))
        least = max(0, -(-(needed - length) // stocks[-1]), fewest - sum(counts))
        for count in range(least, (below[0] - length) // stocks[-1] + 1):
            cost = (length + count * stocks[-1], sum(counts) + count)
            if cost < below:
                found.append((cost, (*counts, count)))
    return sorted(found, key=lambda each: (each[0], [-count for count in reversed(each[1])]))
