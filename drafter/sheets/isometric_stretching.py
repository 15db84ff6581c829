"""Single lengths of an isometric are drawn longer or shorter until signs and bends stand clear of other pipes.

A length is that between two neighbouring places of an axis, so that order, axes and what meets stay as they are.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from drafter.geometry import Box
from drafter.sheets.isometric_signs import Axes, Pairs, SignsAmongLines, axes_of
from drafter.sheets.isometric_space import IsometricSpace, IsometricSpacing
from drafter.sheets.shortened_axis import ShortenedAxis, Spacing

Floats = NDArray[np.float64]

STEPS_MM = (3.0, 6.0, 11.0, 16.0)
"""By how much a length is changed at once."""

MOST_TURNS, MOST_PLACES, MOST_TRIED, AT_ONCE = 16, 48, 96, 32
"""How often one is changed; how many are looked at each time; how many changes are then tried, so many at a time."""

WORTH, PER_MM = 0.25, 0.02
"""How much better it must get for a length to be changed, and more for each millimetre, in crossings."""

LONGER_MM, SHORTER = 16.0, 0.4
"""How much longer a length may become than it was, or its own length again; to which share it may shrink."""

REACH_MM = 22.0
"""Only what is so near to each other is looked at to find the best change."""

LEAST_SPARE_MM = 0.3
"""Lengths that can shrink by no more than this are left as they are."""


@dataclass(frozen=True, slots=True)
class _Change:
    """So much more after a place of an axis, and as much less spread over an axis, where one is given."""

    axis: int
    place: int
    mm: float
    less: int = -1


class Stretching:
    """Changes lengths along the axes of spaces of one spacing; ``room`` is what they are to stay in [mm on paper]."""

    def __init__(self, spacing: IsometricSpacing, signs: SignsAmongLines, room: Box) -> None:
        self._spacing, self._signs, self._most = spacing, signs, (room.width, room.height)
        self._of_axes = (spacing.east, spacing.north, spacing.up)

    def stretched(self, space: IsometricSpace, tightness: float) -> IsometricSpace:
        """Return a space with its lengths changed, as far as that helps and the room reaches.

        Args:
            tightness: share of the least distances that is kept.
        """
        axes = axes_of(space)
        first = [np.diff(axis[:, 0]) for axis in axes]
        for _ in range(MOST_TURNS):
            near = self._signs.near(axes, space.turn, REACH_MM)
            mistaken = self._signs.mistaken(axes, space.turn, near)
            if not len(mistaken.spots):
                break
            gaps = [np.diff(axis[:, 0]) for axis in axes]
            shrinking = [
                _Shrinking.of(spacing, axis[:, 0], gap - SHORTER * old, tightness)
                for gap, old, spacing, axis in zip(gaps, first, self._of_axes, axes, strict=True)
            ]
            longest = [old + np.maximum(LONGER_MM, old) - gap for old, gap in zip(first, gaps, strict=True)]
            changes = list(self._changes(mistaken, longest, shrinking))
            found = self._best(axes, space.turn, (mistaken, near), changes, shrinking) if changes else None
            if found is None:
                break
            axes = found
        east, north, up = (
            ShortenedAxis(old.places_m, tuple(axis[:, 0].tolist()))
            for old, axis in zip((space.east, space.north, space.up), axes, strict=True)
        )
        return replace(space, east=east, north=north, up=up)

    def _changes(
        self, mistaken: Pairs, longest: Sequence[Floats], shrinking: Sequence[_Shrinking]
    ) -> Iterator[_Change]:
        for axis, place in self._signs.between(mistaken)[:MOST_PLACES]:
            for mm in STEPS_MM:
                if shrinking[axis].spare[place] >= mm:
                    yield _Change(axis, place, -mm)
                if longest[axis][place] >= mm:
                    yield _Change(axis, place, mm)
                    yield from (_Change(axis, place, mm, by) for by in range(3) if shrinking[by].most_mm >= mm)

    def _best(
        self,
        axes: Axes,
        turn: int,
        pairs: tuple[Pairs, Pairs],
        changes: Sequence[_Change],
        shrinking: Sequence[_Shrinking],
    ) -> Axes | None:
        """The axes after a change that is worth it; nothing where none is.

        Those that part most of what is mistaken are tried first on all that is near.

        Args:
            pairs: what is mistaken, and what is near.
        """
        mistaken, near = pairs
        changed = _changed(axes, changes, shrinking)
        now, sizes = (self._spacing.sizes(each, turn) for each in (axes, changed))
        fits = [size <= max(was[0], most) + 0.01 for size, was, most in zip(sizes, now, self._most, strict=True)]
        fitting = np.flatnonzero(fits[0] & fits[1])
        effort = PER_MM * np.abs([change.mm for change in changes])
        hope = self._signs.badness(_ways(changed, fitting), turn, mistaken) + effort[fitting]
        hopeful = fitting[np.argsort(hope, kind="stable")[:MOST_TRIED]]
        enough = self._signs.badness(axes, turn, near)[0] - WORTH
        for start in range(0, len(hopeful), AT_ONCE):
            tried = hopeful[start : start + AT_ONCE]
            cost = self._signs.badness(_ways(changed, tried), turn, near) + effort[tried]
            if cost.min() < enough:
                return _ways(changed, tried[[np.argmin(cost)]])
        return None


def _ways(axes: Axes, numbers: NDArray[np.intp]) -> Axes:
    """Some of the ways to draw the axes."""
    return axes[0][:, numbers], axes[1][:, numbers], axes[2][:, numbers]


def _changed(axes: Axes, changes: Sequence[_Change], shrinking: Sequence[_Shrinking]) -> Axes:
    """Where the places of the axes are drawn after each of some changes."""
    east, north, up = (np.repeat(axis, len(changes), axis=1) for axis in axes)
    drawn = (east, north, up)
    for number, change in enumerate(changes):
        drawn[change.axis][change.place + 1 :, number] += change.mm
        if change.less >= 0:
            drawn[change.less][:, number] -= change.mm * shrinking[change.less].shares
    return drawn


@dataclass(frozen=True, slots=True)
class _Shrinking:
    """How an axis can be drawn shorter with its least distances kept.

    Attributes:
        spare: by how much each length between places may shrink alone [mm].
        shares: how far each place moves back of a millimetre that is spread over all of them.
        most_mm: how much can be spread.
    """

    spare: Floats
    shares: Floats
    most_mm: float

    @classmethod
    def of(cls, spacing: Spacing, drawn: Floats, free: Floats, tightness: float) -> _Shrinking:
        left = {ends: drawn[ends[1]] - drawn[ends[0]] - mm * tightness for ends, mm in spacing.least_mm.items()}
        spare = free.copy()
        for (low, high), mm in left.items():
            spare[low:high] = np.minimum(spare[low:high], mm)
        weight = np.where(spare > LEAST_SPARE_MM, spare, 0.0)
        shares = np.concatenate(([0.0], np.cumsum(weight))) / max(float(weight.sum()), 1e-9)
        most_mm = float(weight.sum())
        for (low, high), mm in left.items():
            if (share := shares[high] - shares[low]) > 1e-9:
                most_mm = min(most_mm, float(mm / share))
        return cls(spare, shares, most_mm)
