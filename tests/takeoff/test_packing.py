"""Pieces in stock lengths: instances with a known optimum, an exact program beside, and what every plan must keep."""

from __future__ import annotations

import random
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from drafter.takeoff.packing import bound_l2, pack

PAPER_ROLLS = {
    1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20,
    2000: 10, 2050: 12, 2100: 14, 2140: 16, 2150: 18, 2200: 20,
}  # fmt: skip


def least_bought_m(lengths: Sequence[float], stocks: Sequence[float]) -> float:
    """The least length bought, by an assignment program of another library (HiGHS through scipy)."""
    bins = [stock for stock in stocks for _ in lengths]
    pieces, count = len(lengths), len(bins)
    cost = np.concatenate([bins, np.zeros(pieces * count)])
    once = np.zeros((pieces, cost.size))
    room = np.zeros((count, cost.size))
    for piece, length in enumerate(lengths):
        for number in range(count):
            once[piece, count + piece * count + number] = 1.0
            room[number, count + piece * count + number] = length
    for number, stock in enumerate(bins):
        room[number, number] = -stock
    found = milp(
        cost,
        integrality=np.ones(cost.size),
        bounds=Bounds(0.0, 1.0),
        constraints=[LinearConstraint(once, 1.0, 1.0), LinearConstraint(room, -np.inf, 1e-9)],
    )
    return float(found.fun)


def test_the_paper_rolls_of_the_published_cutting_stock_example() -> None:
    """219 rolls out of widths of 5600 mm: the printed lower bound is 73, and so is the optimum (that from memory)."""
    lengths = [width / 1000.0 for width, number in PAPER_ROLLS.items() for _ in range(number)]
    packed = pack(lengths, [5.6])
    assert packed.least_m == pytest.approx(73 * 5.6)
    assert 73 <= len(packed.stocks) <= 74


@pytest.mark.parametrize("triplets", [4, 6, 8])
@pytest.mark.parametrize("seed", range(3))
def test_triplets_fill_their_lengths_to_the_last_millimetre(triplets: int, seed: int) -> None:
    """Three pieces to a length with nothing over: the hard class of Falkenauer (J. of Heuristics 2, 1996)."""
    chance, lengths = random.Random(seed), list[int]()
    for _ in range(triplets):
        first = chance.randint(380, 490)
        second = chance.randint((1000 - first) // 2 - 60, (1000 - first) // 2)
        lengths += [first, second, 1000 - first - second]
    chance.shuffle(lengths)
    packed = pack([length / 1000.0 for length in lengths], [1.0])
    assert len(packed.stocks) == triplets
    assert packed.least_m == pytest.approx(packed.bought_m)


def test_bound_l2_by_hand() -> None:
    """Four pieces over half need a length each, whatever their sum of 2.6 lengths says."""
    assert bound_l2([60, 60, 70, 70], 100) == 4
    assert bound_l2([50, 50, 50], 100) == 2
    assert bound_l2([60, 60, 45, 45, 45], 100) == 4


def test_a_short_length_is_bought_where_it_does() -> None:
    packed = pack([5.9, 2.0, 0.9], [3.0, 6.0])
    assert sorted(stock for stock, _ in packed.stocks) == [3.0, 6.0]
    assert packed.least_m == 9.0


def test_a_piece_as_long_as_the_stock_takes_one() -> None:
    assert [stock for stock, _ in pack([6.0, 6.003], [6.0]).stocks] == [6.0, 6.0]


def test_nothing_to_cut() -> None:
    assert pack([], [6.0]).stocks == ()
    assert pack([], [6.0]).least_m == 0.0


pieces = st.lists(st.integers(60, 5990).map(lambda mm: mm / 1000.0), max_size=60)
sold = st.sampled_from([(6.0,), (3.0, 6.0), (3.048, 6.096), (2.0, 3.0, 6.0), (25.0, 50.0, 100.0)])


@given(pieces, sold)
@settings(max_examples=150, deadline=None)
def test_what_every_plan_keeps(lengths: list[float], stocks: tuple[float, ...]) -> None:
    packed = pack(lengths, stocks)
    assert sorted(number for _, numbers in packed.stocks for number in numbers) == list(range(len(lengths)))
    for stock, numbers in packed.stocks:
        assert stock in stocks
        assert numbers
        assert sum(lengths[number] for number in numbers) <= stock + 1e-3
    assert sum(lengths) - 1e-6 <= packed.least_m <= packed.bought_m + 1e-9


@given(pieces, sold, st.randoms(use_true_random=False))
@settings(max_examples=60, deadline=None)
def test_the_order_of_the_pieces_does_not_matter(
    lengths: list[float], stocks: tuple[float, ...], chance: random.Random
) -> None:
    mixed = list(lengths)
    chance.shuffle(mixed)
    one, other = pack(lengths, stocks), pack(mixed, stocks)
    assert (one.bought_m, one.least_m) == pytest.approx((other.bought_m, other.least_m))


@given(st.lists(st.integers(200, 2900).map(lambda mm: mm / 1000.0), min_size=1, max_size=7))
@settings(max_examples=25, deadline=None)
def test_short_lists_are_packed_as_well_as_can_be(lengths: list[float]) -> None:
    packed = pack(lengths, [2.0, 3.0])
    assert packed.bought_m == pytest.approx(least_bought_m(lengths, [2.0, 3.0]))
    assert packed.least_m == pytest.approx(packed.bought_m)
