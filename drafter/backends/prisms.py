"""Prisms in space, by their corners and faces: pipes as bodies, and things as upright blocks."""

from __future__ import annotations

import numpy as np

from drafter.geometry import Point3
from drafter.solids import Pipe


def round_prism(pipe: Pipe, sides: int) -> list[Point3]:
    """Return the corners [mm] of the prism that stands for a pipe: those at its start, then those at its end."""
    ends = np.array([pipe.start, pipe.end])
    way = ends[1] - ends[0]
    aside = np.cross(way, np.eye(3)[np.argmin(np.abs(way))])
    across = np.cross(way, aside)
    turns = np.arange(sides) * 2 * np.pi / sides
    ring = np.outer(np.cos(turns), aside / np.linalg.norm(aside))
    ring += np.outer(np.sin(turns), across / np.linalg.norm(across))
    corners = (ends[:, None, :] + ring[None, :, :] * pipe.outside_mm / 2).reshape(-1, 3)
    return [Point3(*corner) for corner in corners.tolist()]


def prism_faces(count: int) -> list[tuple[int, ...]]:
    """Return the faces, of three or four corners each, of a prism with ``count`` corners at each end.

    The corners at one end are numbered from 0, those above them from ``count``. The ends are convex.
    """
    sides = [(n, (n + 1) % count, count + (n + 1) % count, count + n) for n in range(count)]
    ends = [tuple(n for n in (0, first, first + 1, first + 2) if n < count) for first in range(1, count - 1, 2)]
    return [*sides, *(end[::-1] for end in ends), *(tuple(count + n for n in end) for end in ends)]
