"""The way through the places brackets may stand at, against every other way."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.supports.spacing import Spot, Stretch, Window, spaced, span_between

Bad = tuple[float, float, float]


def judged(chosen: tuple[Spot, ...], stretches: list[Stretch], windows: list[Window]) -> Bad:
    """What is wrong with a choice, what it costs, how uneven it is."""
    at = [spot.at_m for spot in chosen]
    missed = sum(not any(window.holds(x) for x in at) for window in windows)
    over = [b - a - span for a, b in pairwise(at) if b - a > (span := span_between(stretches, a, b)) + 1e-6]
    ends = 4 * (at[0] - stretches[0].low_m) ** 2 + 4 * (stretches[-1].high_m - at[-1]) ** 2
    spans = sum((b - a) ** 2 for a, b in pairwise(at))
    return round(missed + sum(0.1 + excess for excess in over), 6), sum(spot.price for spot in chosen), spans + ends


def every_choice(spots: list[Spot]) -> list[tuple[Spot, ...]]:
    return [chosen for count in range(1, len(spots) + 1) for chosen in combinations(spots, count)]


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_no_other_choice_is_better(data: st.DataObject) -> None:
    places = sorted(data.draw(st.sets(st.integers(0, 60), min_size=1, max_size=9)))
    spots = [Spot(x / 10, data.draw(st.sampled_from([1.0, 2.5]))) for x in places]
    middle = data.draw(st.integers(1, 59)) / 10
    spans = data.draw(st.tuples(st.integers(5, 30), st.integers(5, 30)))
    stretches = [Stretch(0.0, middle, spans[0] / 10), Stretch(middle, 6.0, spans[1] / 10)]
    starts = data.draw(st.lists(st.integers(0, 57), max_size=4))
    windows = [Window(x / 10, x / 10 + 0.3) for x in starts]
    best = min(judged(chosen, stretches, windows) for chosen in every_choice(spots))
    assert judged(spaced(spots, stretches, windows), stretches, windows) == pytest.approx(best, abs=1e-5)


def test_even_spans_where_every_place_is_as_good() -> None:
    spots = [Spot(n / 100) for n in range(601)]
    chosen = spaced(spots, [Stretch(0.0, 6.0, 2.0)], [Window(0.1, 0.1), Window(5.9, 5.9)])
    assert [spot.at_m for spot in chosen] == pytest.approx([0.1, 2.03, 3.97, 5.9], abs=0.011)


def test_one_board_less_is_worth_an_uneven_span() -> None:
    spots = [Spot(0.0), Spot(0.5, 2.5), Spot(0.8), Spot(1.0)]
    chosen = spaced(spots, [Stretch(0.0, 1.0, 0.9)], [Window(0.0, 0.0), Window(1.0, 1.0)])
    assert [spot.at_m for spot in chosen] == [0.0, 0.8, 1.0]


def test_a_gap_too_wide_is_crossed_from_its_very_edges() -> None:
    spots = [Spot(x) for x in (0.0, 0.5, 1.0, 3.0, 3.5, 4.0)]
    chosen = spaced(spots, [Stretch(0.0, 4.0, 1.2)], [Window(0.0, 0.1), Window(3.9, 4.0)])
    assert [spot.at_m for spot in chosen if 1.0 <= spot.at_m <= 3.0] == [1.0, 3.0]


def test_nowhere_to_stand() -> None:
    assert spaced([], [Stretch(0.0, 1.0, 1.0)], [Window(0.0, 1.0)]) == ()
