"""What is seen from a spot on an open floor: as far as the nearest edge in each direction."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

_ON_M = 1e-7
_SEEN_M = 1e-6
_SAME_RAD = 1e-8
_FULL = 2.0 * math.pi


@dataclass(frozen=True, eq=False)
class Outline:
    """The edges of a floor, each with the floor on its left.

    Attributes:
        starts, ends: of each edge in plan [m], one row an edge.
        is_corner: whether a way may bend round the start of an edge, because the floor lies more than half about it.
    """

    starts: Array
    ends: Array
    is_corner: Mask

    @classmethod
    def of(cls, polygon: Any) -> Outline:
        """Return the outline of a shapely polygon."""
        from shapely.geometry.polygon import orient

        whole = orient(polygon)
        rings = [np.asarray(ring.coords)[:-1, :2] for ring in (whole.exterior, *whole.interiors)]
        starts = np.vstack(rings)
        ends = np.vstack([np.roll(ring, -1, axis=0) for ring in rings])
        before = starts - np.vstack([np.roll(ring, 1, axis=0) for ring in rings])
        after = ends - starts
        lengths = np.hypot(*before.T) * np.hypot(*after.T)
        return cls(starts, ends, _cross(before, after) < -_SAME_RAD * lengths)

    def open_angle(self, at: Array) -> tuple[float, float, Mask]:
        """Return where the floor about a spot begins [rad], how far it goes round, and the edges the spot lies on."""
        way = self.ends - self.starts
        share = np.clip(np.einsum("ij,ij->i", at - self.starts, way) / np.einsum("ij,ij->i", way, way), 0.0, 1.0)
        on = np.hypot(*(self.starts + share[:, None] * way - at).T) < _ON_M
        if not on.any():
            return 0.0, _FULL, on
        leaving = on & (np.hypot(*(self.starts - at).T) < _ON_M)
        coming = on & (np.hypot(*(self.ends - at).T) < _ON_M)
        if not (leaving.any() and coming.any()):
            return _angle(way[on][0]), math.pi, on
        begin = _angle(way[leaving][0])
        return begin, (_angle(-way[coming][0]) - begin) % _FULL, on


@dataclass(frozen=True, eq=False)
class Sight:
    """What is seen from a spot.

    Attributes:
        ring: corners of the floor seen, counter-clockwise [m].
        corners, spots: which corners of the floor and which other spots are seen.
    """

    ring: Array
    corners: Mask
    spots: Mask


def look_round(outline: Outline, at: Array, spots: Array) -> Sight:
    """Return what is seen of a floor from a spot on it.

    Corners and spots cut the round into sectors in each of which one edge is nearest, whole; that makes what is seen
    exact. A spot on an edge, or in line behind a corner, is seen.
    """
    begin, wide, on = outline.open_angle(at)
    points = np.vstack([outline.starts, spots]) - at
    far_m = np.hypot(*points.T)
    turn = (np.arctan2(points[:, 1], points[:, 0]) - begin) % _FULL
    turn[turn > _FULL - _SAME_RAD] = 0.0
    before = turn <= wide + _SAME_RAD
    whole = wide == _FULL
    cuts = _apart(np.sort(np.append(turn[before & (far_m > _ON_M)], [] if whole else [0.0, wide])))
    if whole:
        cuts = np.append(cuts, cuts[0] + _FULL)
    starts_m, ends_m = _sectors(outline, at, begin + cuts, ~on)
    rays = np.column_stack([np.cos(begin + cuts), np.sin(begin + cuts)])
    ring = np.stack([at + starts_m[:, None] * rays[:-1], at + ends_m[:, None] * rays[1:]], axis=1).reshape(-1, 2)
    edge_m = np.maximum(np.append(starts_m, 0.0), np.append(0.0, ends_m))
    if whole:
        edge_m[0] = edge_m[-1] = max(edge_m[0], edge_m[-1])
    index = np.clip(np.searchsorted(cuts, turn - 2 * _SAME_RAD), 0, len(cuts) - 1)
    seen = (before & (far_m <= edge_m[index] + _SEEN_M)) | (far_m <= _ON_M)
    count = len(outline.starts)
    return Sight(ring if whole else np.vstack([ring, at]), seen[:count], seen[count:])


def _sectors(outline: Outline, at: Array, cuts: Array, ahead: Mask) -> tuple[Array, Array]:
    """Return how far the nearest edge is at the beginning and at the end of each sector between two cuts [m]."""
    starts, way = outline.starts[ahead] - at, (outline.ends - outline.starts)[ahead]
    middles = (cuts[:-1] + cuts[1:]) / 2.0
    ray = np.column_stack([np.cos(middles), np.sin(middles)])
    across = ray[:, None, 0] * way[None, :, 1] - ray[:, None, 1] * way[None, :, 0]
    area = _cross(starts, way)
    with np.errstate(divide="ignore", invalid="ignore"):
        far_m = area[None, :] / across
        share = (starts[None, :, 0] * ray[:, None, 1] - starts[None, :, 1] * ray[:, None, 0]) / across
        met = (far_m > 0.0) & (share >= -_SAME_RAD) & (share <= 1.0 + _SAME_RAD)
    nearest = np.argmin(np.where(met, far_m, math.inf), axis=1)
    edge, area = way[nearest], area[nearest]

    def along(angles: Array) -> Array:
        met_m: Array = area / (np.cos(angles) * edge[:, 1] - np.sin(angles) * edge[:, 0])
        return met_m

    return along(cuts[:-1]), along(cuts[1:])


def _apart(turns: Array) -> Array:
    """Turns in their order, without those that hardly differ from the one before."""
    apart: Array = turns[np.append(True, np.diff(turns) > _SAME_RAD)]
    return apart


def _cross(first: Array, second: Array) -> Array:
    crossed: Array = first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0]
    return crossed


def _angle(way: Array) -> float:
    return math.atan2(float(way[1]), float(way[0]))
