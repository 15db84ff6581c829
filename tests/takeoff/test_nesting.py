"""Pieces in stock lengths: published lists come out as known, small ones as the best of all ways, all whole and in."""

from __future__ import annotations

import json
import random
from collections import Counter
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.takeoff.bar_bound import least_bars, ruled_out
from drafter.takeoff.bar_filling import best_fit, filled, filled_closely, filled_into, first_fit
from drafter.takeoff.bar_patterns import patterned
from drafter.takeoff.bar_search import OutOfWorkError, Work, searched
from drafter.takeoff.nesting import Nesting, nested

PUBLISHED = json.loads((Path(__file__).parents[1] / "data" / "bin_packing.json").read_text(encoding="utf-8"))
published = pytest.mark.parametrize("known", PUBLISHED, ids=lambda known: known["name"])

small_lists = st.lists(st.integers(1, 40), min_size=1, max_size=7)
lists = st.lists(st.integers(50, 6000), min_size=1, max_size=30)
stock_lists = st.lists(st.integers(40, 100), min_size=1, max_size=3)
losses = st.integers(0, 9)


@published
def test_published_lists_need_what_is_known(known: dict[str, Any]) -> None:
    nesting = nested(known["sizes"], [known["capacity"]], 0)
    assert len(nesting.bars) == known["optimum"]
    assert nesting.proved
    check_whole(nesting, known["sizes"], [known["capacity"]], 0)


def test_the_quick_way_falls_for_the_published_trap() -> None:
    """A shorter list that first fit decreasing needs a bar more for, and the search does not."""
    whole, shorter = (known for known in PUBLISHED if known["capacity"] == 524)
    counts = [len(filled(sorted(known["sizes"], reverse=True), [524], 524, first_fit)) for known in (whole, shorter)]
    assert counts == [whole["optimum"], shorter["first_fit_decreasing"]]
    assert len(nested(shorter["sizes"], [524], 0).bars) == shorter["optimum"]


@pytest.mark.parametrize("times", [1, 2])
def test_the_worst_family_for_first_fit_decreasing(times: int) -> None:
    """Johnson (1973): first fit decreasing needs 11 bars where 9 full ones do; these are found full."""
    sizes = times * (6 * [510] + 6 * [270] + 6 * [260] + 12 * [230])
    assert len(filled(sorted(sizes, reverse=True), [1000], 1000, first_fit)) == 11 * times
    nesting = nested(sizes, [1000], 0)
    assert nesting.cost == nesting.least == (9000 * times, 9 * times)
    assert all(sum(pieces) == stock for stock, pieces in nesting.bars)


@pytest.mark.parametrize("seed", range(8))
def test_triplets_that_fill_every_bar_are_found(seed: int) -> None:
    """Falkenauer's class of triplets (1996): three pieces to each full bar, none to spare."""
    draw, sizes = random.Random(seed), []
    for _ in range(8):
        first = draw.randint(380, 490)
        second = draw.randint(250, (1000 - first) // 2)
        sizes += [first, second, 1000 - first - second]
    nesting = nested(sizes, [1000], 0)
    assert nesting.proved
    assert len(nesting.bars) == 8


@cache
def best_of_all_ways(sizes: tuple[int, ...], stocks: tuple[int, ...], lost: int) -> tuple[int, int]:
    """Least length and bars by trying every set of pieces beside the first."""
    if not sizes:
        return 0, 0
    costs, others = [], sizes[1:]
    for chosen in range(1 << len(others)):
        bar = sizes[0] + sum(size + lost for n, size in enumerate(others) if chosen >> n & 1)
        rest = tuple(size for n, size in enumerate(others) if not chosen >> n & 1)
        fitting = [stock for stock in stocks if stock >= bar]
        if fitting:
            length, count = best_of_all_ways(rest, stocks, lost)
            costs.append((length + min(fitting), count + 1))
    return min(costs)


@settings(deadline=None)
@given(small_lists, stock_lists, losses)
def test_no_other_way_of_cutting_is_better(pieces: list[int], stocks: list[int], lost: int) -> None:
    nesting = nested(pieces, stocks, lost)
    assert nesting.cost == nesting.least == best_of_all_ways(tuple(pieces), tuple(stocks), lost)


def check_whole(nesting: Nesting, pieces: Sequence[int], stocks: Sequence[int], lost: int) -> None:
    assert Counter(piece for _, held in nesting.bars for piece in held) == Counter(pieces)
    for stock, held in nesting.bars:
        assert stock in stocks
        assert sum(held) + lost * (len(held) - 1) <= stock
        assert list(held) == sorted(held, reverse=True)
    assert nesting.cost >= nesting.least


@settings(deadline=None, max_examples=60)
@given(lists, st.lists(st.integers(6000, 20000), min_size=1, max_size=3), losses)
def test_every_piece_comes_out_once_with_its_cuts(pieces: list[int], stocks: list[int], lost: int) -> None:
    check_whole(nested(pieces, stocks, lost), pieces, stocks, lost)


@settings(deadline=None, max_examples=40)
@given(lists, losses, st.randoms(use_true_random=False))
def test_the_order_of_the_pieces_does_not_matter(pieces: list[int], lost: int, shuffler: random.Random) -> None:
    other = pieces[:]
    shuffler.shuffle(other)
    assert nested(other, [6000, 12000], lost) == nested(pieces, [12000, 6000], lost)


@settings(deadline=None, max_examples=60)
@given(lists, losses)
def test_never_worse_than_the_quick_ways_nor_better_than_the_bound(pieces: list[int], lost: int) -> None:
    nesting, capacity = nested(pieces, [6000], lost), 6000 + lost
    sizes = sorted((piece + lost for piece in pieces), reverse=True)
    quick = [filled(sizes, [capacity], capacity, choose) for choose in (first_fit, best_fit)]
    quick.append(filled_closely(sizes, [capacity], capacity))
    assert least_bars(sizes, capacity) <= nesting.least[1] <= len(nesting.bars) <= min(map(len, quick))


@settings(deadline=None, max_examples=60)
@given(lists, losses)
def test_a_second_length_on_sale_is_never_dearer(pieces: list[int], lost: int) -> None:
    one, two = nested(pieces, [6000], lost), nested(pieces, [3000, 6000], lost)
    if one.proved and two.proved:
        assert two.cost <= one.cost


@settings(deadline=None)
@given(small_lists, st.lists(st.integers(20, 60), min_size=1, max_size=4))
def test_what_is_ruled_out_cannot_be_and_the_search_agrees(sizes: list[int], bins: list[int]) -> None:
    """Into given bars: the bound never forbids what can be, the search finds it, best fit finds no more."""
    sizes.sort(reverse=True)

    def fits(left: list[int], rooms: list[int]) -> bool:
        if not left:
            return True
        return any(
            room >= left[0] and fits(left[1:], [*rooms[:n], room - left[0], *rooms[n + 1 :]])
            for n, room in enumerate(rooms)
        )

    possible, found = fits(sizes, bins), searched(sizes, bins, Work(10**6))
    assert (found is not None) == possible
    assert not (possible and ruled_out(sizes, bins))
    assert possible or filled_into(sizes, bins) is None
    if found is not None:
        assert sorted((size for _, held in found for size in held), reverse=True) == sizes
        assert not Counter(capacity for capacity, _ in found) - Counter(bins)


def test_what_is_not_settled_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    """Out of work, the plan of the quick ways stands with the bound below it."""
    sizes = sorted(PUBLISHED[-1]["sizes"], reverse=True)
    with pytest.raises(OutOfWorkError):
        searched(sizes, [5600] * 73, Work(2000))
    monkeypatch.setattr("drafter.takeoff.nesting.STEPS", 2000)
    monkeypatch.setattr("drafter.takeoff.bar_patterns.MOST_PATTERNS", 0)
    nesting = nested(sizes, [5600], 0)
    check_whole(nesting, sizes, [5600], 0)
    assert nesting.least == (73 * 5600, 73) < nesting.cost
    assert not nesting.proved


def test_with_more_mixes_than_are_gone_through_no_proof_is_claimed() -> None:
    draw = random.Random(1)
    pieces, stocks = [draw.randint(700, 29000) for _ in range(300)], [29000, 31000, 47000, 60000]
    nesting = nested(pieces, stocks, 30)
    check_whole(nesting, pieces, stocks, 30)
    assert nesting.least[0] == sum(pieces)
    assert not nesting.proved


@settings(deadline=None, max_examples=40)
@given(small_lists, stock_lists, losses)
def test_patterns_find_the_same_least(pieces: list[int], stocks: list[int], lost: int) -> None:
    """The integer programme against every other way of cutting."""
    capacities = sorted({stock + lost for stock in stocks})
    sizes = sorted((piece + lost for piece in pieces), reverse=True)
    found = patterned(sizes, capacities, lost)
    assert found is not None
    bars, proved = found
    assert proved
    assert sorted((size for _, held in bars for size in held), reverse=True) == sizes
    assert all(sum(held) <= capacity for capacity, held in bars)
    least = best_of_all_ways(tuple(pieces), tuple(stocks), lost)
    assert (sum(capacity - lost for capacity, _ in bars), len(bars)) == least


def test_a_piece_of_a_whole_length_needs_no_cut() -> None:
    assert nested([6000], [6000], 3).bars == ((6000, (6000,)),)
    assert len(nested([3000, 3000], [6000], 3).bars) == 2
    assert len(nested([3000, 2997], [6000], 3).bars) == 1


def test_two_lengths_are_mixed_to_the_least() -> None:
    """Twice 4 m and once 2.5 m: two of 6 m leave the last for a bar of 3 m."""
    assert nested([4000, 4000, 2500], [3000, 6000], 3).bars == ((6000, (4000,)), (6000, (4000,)), (3000, (2500,)))


def test_pieces_longer_than_all_stock_are_refused() -> None:
    with pytest.raises(ValueError, match="6001 is longer"):
        nested([6001], [3000, 6000], 3)
    assert nested([], [6000], 3) == Nesting((), (0, 0))
