"""Distances and crossings of straight lines, many at once: points are pairs of arrays, across and up, of one shape."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Points = tuple[Floats, Floats]


def distances(points: Points, first: Points, last: Points) -> Floats:
    """Return how far points are from lines between two ends."""
    (x, y), (along_x, along_y) = less(points, first), less(last, first)
    length = np.maximum(along_x * along_x + along_y * along_y, 1e-9)
    share = np.clip((x * along_x + y * along_y) / length, 0.0, 1.0)
    x -= share * along_x
    y -= share * along_y
    return np.asarray(np.sqrt(x * x + y * y))


def crossed(first: Points, last: Points, other_first: Points, other_last: Points) -> NDArray[np.bool_]:
    """Return whether lines cross others."""
    way, other = less(last, first), less(other_last, other_first)
    sides = _side(way, less(other_first, first)) * _side(way, less(other_last, first))
    other_sides = _side(other, less(first, other_first)) * _side(other, less(last, other_first))
    return np.asarray((sides < 0.0) & (other_sides < 0.0))


def less(points: Points, others: Points) -> Points:
    """Return the ways from others to points."""
    return points[0] - others[0], points[1] - others[1]


def _side(way: Points, off: Points) -> Floats:
    return np.asarray(way[0] * off[1] - way[1] * off[0])
