"""The plane against an independent library."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from shapely import Point as Spot
from shapely import Polygon

from drafter.geometry import Point, encloses

L_SHAPE = (Point(0, 0), Point(8, 0), Point(8, 3), Point(3, 3), Point(3, 6), Point(0, 6))
NEEDLE = (Point(0, 0), Point(10, 1), Point(0.5, 0.5), Point(2, 9))


@given(st.sampled_from([L_SHAPE, L_SHAPE[::-1], NEEDLE]), st.floats(-2, 11), st.floats(-2, 11))
def test_a_polygon_encloses_what_shapely_says(corners: tuple[Point, ...], x: float, y: float) -> None:
    polygon, spot = Polygon(corners), Spot(x, y)
    if polygon.exterior.distance(spot) > 1e-6:
        assert encloses(corners, Point(x, y)) == polygon.contains(spot)
