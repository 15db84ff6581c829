"""Filled areas cut into pieces of three or four corners, for files that know no other fill."""

from __future__ import annotations

from collections.abc import Sequence

from drafter.drawing import Circle
from drafter.geometry import Point

ROUND_CORNERS = 16
"""Corners of what stands for a filled circle."""


def round_ring(circle: Circle) -> list[Point]:
    """Return corners on a circle."""
    way = Point(circle.radius, 0.0)
    return [circle.centre.plus(way.turned(360.0 * n / ROUND_CORNERS)) for n in range(ROUND_CORNERS)]


def pieces_of(boundary: Sequence[Point], holes: Sequence[Sequence[Point]] = ()) -> list[list[Point]]:
    """Return pieces that together cover an area but its holes; each has its corners in order round it.

    An outward-bent area becomes pieces of four corners, any other triangles. Pieces without extent are left out.
    """
    if not holes and _bends_outward(boundary):
        first, *others = boundary
        return [[first, *others[n : n + 3]] for n in range(0, len(others) - 1, 2)]
    from ezdxf.math import Vec2
    from ezdxf.math.triangulation import mapbox_earcut_2d

    ring, *inner = ([Vec2(p.x, p.y) for p in each] for each in (boundary, *holes))
    cut = [[Point(corner.x, corner.y) for corner in piece] for piece in mapbox_earcut_2d(ring, inner)]
    return [piece for piece in cut if piece[1].minus(piece[0]).cross(piece[2].minus(piece[0]))]


def _bends_outward(ring: Sequence[Point]) -> bool:
    """Whether a ring turns one way only, and but once round."""
    ways = [end.minus(start) for start, end in zip(ring, [*ring[1:], ring[0]], strict=True)]
    turns = [way.cross(after) for way, after in zip(ways, [*ways[1:], ways[0]], strict=True)]
    falls = sum((way.y < 0.0) != (after.y < 0.0) for way, after in zip(ways, [*ways[1:], ways[0]], strict=True))
    return falls <= 2 and (all(turn > 0.0 for turn in turns) or all(turn < 0.0 for turn in turns))
