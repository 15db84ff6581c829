"""Axes that are not to scale: order kept, least distances kept, longer pieces drawn longer."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.sheets.shortened_axis import Spacing

PLACES = st.lists(st.integers(0, 60000).map(lambda mm: mm / 1000), min_size=2, max_size=12, unique=True).map(sorted)


@given(PLACES, st.floats(0.5, 40.0), st.data())
@settings(deadline=None, max_examples=60)
def test_order_and_least_distances_are_kept(places: list[float], mm_per_m: float, data: st.DataObject) -> None:
    pairs = st.tuples(st.sampled_from(places), st.sampled_from(places), st.floats(1.0, 40.0))
    least = data.draw(st.lists(pairs, max_size=6))
    axis = Spacing.of(places, least).drawn(mm_per_m, 0.6)
    drawn = [axis(place) for place in places]
    assert all(b > a for a, b in pairwise(drawn))
    for a, b, mm in least:
        if a != b:
            assert abs(axis(b) - axis(a)) >= mm - 0.02


@given(PLACES, st.floats(0.5, 40.0))
@settings(deadline=None, max_examples=40)
def test_longer_pieces_are_drawn_longer_but_less_than_in_proportion(places: list[float], mm_per_m: float) -> None:
    axis = Spacing.of(places, []).drawn(mm_per_m, 0.5)
    pieces = sorted((b - a, axis(b) - axis(a)) for a, b in pairwise(places))
    for (short_m, short_mm), (long_m, long_mm) in pairwise(pieces):
        assert long_mm >= short_mm - 1e-6
        assert long_mm / short_mm <= long_m / short_m + 1e-6


def test_beyond_its_places_an_axis_stands_still() -> None:
    axis = Spacing.of([1.0, 2.0], [(1.0, 2.0, 10.0)]).drawn(1.0, 0.5)
    assert axis(0.0) == axis(1.0) == 0.0
    assert axis(5.0) == axis(2.0) == axis.length_mm
