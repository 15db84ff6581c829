"""Shortest ways over an open floor, and the floor that a hose of some length gets to.

A shortest way is straight from corner to corner of what stands in it. What a hose reaches is what is seen from its
coupling within its length, and from each corner it can be drawn round within what is left of it: nothing is left out
and nothing added, but for arcs drawn as chords.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
from typing import Any

import numpy as np

from drafter.geometry import Point
from drafter.layout.sight import Array, Outline, Sight, look_round

CHORDS = 240
"""A circle is drawn with so many chords, inside it: at 10 m they stay within 1 mm."""


@dataclass(frozen=True, slots=True)
class Bend:
    """Where a way begins or goes round a corner: how far it is to there [m], and what is seen from there."""

    at: Array
    way_m: float
    sight: Sight


@dataclass(frozen=True)
class Ways:
    """Shortest ways from one spot.

    Attributes:
        bends: the spot itself and the corners that ways go round, the nearest first.
        to_spots_m: length of the way to each of the spots asked for; infinite where there is none.
    """

    bends: tuple[Bend, ...]
    to_spots_m: tuple[float, ...]


class Piece:
    """A piece of floor with spots to get to; what is seen from each of its corners is found once."""

    def __init__(self, outline: Outline, spots: Sequence[Point] = ()) -> None:
        self.outline = outline
        self.spots = np.array(spots, dtype=float).reshape(-1, 2)
        self._from_corners: dict[int, Sight] = {}

    def from_corner(self, index: int) -> Sight:
        if index not in self._from_corners:
            self._from_corners[index] = look_round(self.outline, self.outline.starts[index], self.spots)
        return self._from_corners[index]


def ways_from(piece: Piece, start: Point, within_m: float) -> Ways:
    """Return the shortest ways from a spot on a floor to all corners within some length, and to its other spots.

    Source:
        Dijkstra's algorithm over the corners that see each other, as they are come to.
    """
    outline, marks = piece.outline, piece.spots
    corners_m = np.full(len(outline.starts), math.inf)
    spots_m = np.full(len(marks), math.inf)
    bends: list[Bend] = []
    waiting: list[tuple[float, int]] = [(0.0, -1)]
    while waiting:
        way_m, corner = heappop(waiting)
        if corner >= 0 and way_m > corners_m[corner]:
            continue
        at = np.array(start, dtype=float) if corner < 0 else outline.starts[corner]
        sight = look_round(outline, at, marks) if corner < 0 else piece.from_corner(corner)
        bends.append(Bend(at, way_m, sight))
        np.minimum(spots_m, np.where(sight.spots, way_m + np.hypot(*(marks - at).T), math.inf), out=spots_m)
        beyond_m = way_m + np.hypot(*(outline.starts - at).T)
        shorter = sight.corners & outline.is_corner & (beyond_m < corners_m - 1e-9) & (beyond_m < within_m)
        for index in np.flatnonzero(shorter):
            corners_m[index] = beyond_m[index]
            heappush(waiting, (float(beyond_m[index]), int(index)))
    return Ways(tuple(bends), tuple(float(each) for each in spots_m))


def floor_within(ways: Ways, length_m: float) -> Any:
    """Return the floor that is no further than a length along the ways, as a shapely shape."""
    from shapely import Polygon, unary_union

    pieces = [
        Polygon(bend.sight.ring).buffer(0).intersection(_disc(bend.at, length_m - bend.way_m))
        for bend in ways.bends
        if bend.way_m < length_m
    ]
    return unary_union(pieces)


def _disc(at: Array, radius_m: float) -> Any:
    from shapely import Polygon

    turns = np.arange(CHORDS) * (2.0 * math.pi / CHORDS)
    return Polygon(np.column_stack([at[0] + radius_m * np.cos(turns), at[1] + radius_m * np.sin(turns)]))
