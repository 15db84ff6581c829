"""The levels of a ring: high at the riser, low half way round; where it may not fall so far, high and low by turns."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from drafter.geometry import Point3
from drafter.layout.obstacles import first_in_the_way
from drafter.layout.wall_line import Station
from drafter.layout.ways import Obstacles
from drafter.site.model import Site

RING_LOW = "low point of the ring"

LOW_ROOM_M = 0.30
"""Distance of a low point from other fittings (common practice)."""

MOST_OFF_HALF = 1 / 6
"""Share of its part of the ring that a low point may lie off its middle: the shorter side then falls twice as much."""

MOST_LOW_POINTS = 12
STEP_M = 0.05


@dataclass(frozen=True)
class Ring:
    """The ring's stations once round, clockwise from the riser, and how far round each lies.

    Attributes:
        length_m: of the whole ring, in plan.
    """

    stations: tuple[Station, ...]
    round_m: tuple[float, ...]
    length_m: float

    @property
    def pieces(self) -> Iterator[tuple[tuple[Station, float], tuple[Station, float]]]:
        """Each piece with the distances round at its two ends; the last one ends at the riser again."""
        ends = [*zip(self.stations, self.round_m, strict=True), (self.stations[0], self.length_m)]
        return pairwise(ends)

    def place(self, site: Site, key: str, round_m: float, room_m: float) -> tuple[Station, float] | None:
        """Return a station near a distance round, on the grid of setting out, if other fittings leave it room."""
        riser = self.stations[0]
        off_wall_m = riser.wall.measure(riser.at)[1]
        for (a, s), (b, t) in self.pieces:
            start, off_m = b.wall.measure(a.at)
            on_line = max(abs(off_m - off_wall_m), abs(b.wall.measure(b.at)[1] - off_wall_m)) < 1e-6
            if s <= round_m < t and on_line:
                here = site.units.set_out_m(start + round_m - s)
                if start + room_m - 1e-6 <= here <= start + t - s - room_m + 1e-6:
                    return Station(key, b.wall, here, b.wall.at(here, off_wall_m)), s + here - start
        return None

    def with_station(self, station: Station, round_m: float) -> Ring:
        rows = sorted([*zip(self.round_m, self.stations, strict=True), (round_m, station)], key=lambda row: row[0])
        return Ring(tuple(station for _, station in rows), tuple(s for s, _ in rows), self.length_m)


@dataclass(frozen=True, slots=True)
class Valley:
    """A part of a ring from one high point to the next, by distances round, and its low point [m].

    Attributes:
        low: what stands at the low point.
        deep_m: how far it lies below the high points.
    """

    start_m: float
    low_m: float
    end_m: float
    low: Station
    deep_m: float

    @property
    def falls(self) -> tuple[float, float]:
        """Of its side clockwise to the low point, and of the other [1]."""
        return self.deep_m / (self.low_m - self.start_m), self.deep_m / (self.end_m - self.low_m)

    def below_top_m(self, round_m: float) -> float:
        """How far the ring lies below its high points at a distance round."""
        fall, rise = self.falls
        return fall * (round_m - self.start_m) if round_m <= self.low_m else rise * (self.end_m - round_m)


def valley(site: Site, start_m: float, end_m: float, low: tuple[Station, float]) -> Valley:
    """Return a valley: its longer side falls as the site file says, the shorter as much more."""
    station, low_m = low
    return Valley(start_m, low_m, end_m, station, site.main.fall * max(low_m - start_m, end_m - low_m))


def valleys(site: Site, ring: Ring, obstacles: Obstacles) -> tuple[Valley, ...] | None:
    """Return the valleys of a ring once round, as few as keep it above the lowest the site allows.

    High points other than the riser are where fittings are. None where low points find no room.

    Source:
        a ring of length P that falls s within a height H has P s / 2 H low points, rounded up; geometry.
    """
    most_m = site.main.height_m - site.main.lowest_m if site.main.lowest_m else math.inf
    for count in range(1, MOST_LOW_POINTS + 1):
        if site.main.fall * ring.length_m / (2 * count) > most_m + 1e-9:
            continue
        highs = [_nearest(ring, ring.length_m * number / count) for number in range(1, count)]
        found = []
        for number, (start_m, end_m) in enumerate(pairwise([0.0, *highs, ring.length_m])):
            key = RING_LOW if number == count // 2 else f"{RING_LOW}, no. {number + 1}"
            low = _low_point(site, ring, obstacles, key, start_m, end_m) if start_m < end_m else None
            if low is not None and (made := valley(site, start_m, end_m, low)).deep_m <= most_m + 1e-9:
                found.append(made)
        if len(found) == count:
            return tuple(found)
    return None


def _nearest(ring: Ring, round_m: float) -> float:
    """How far round the station is that is nearest to a distance round."""
    return min(ring.round_m, key=lambda s: (abs(s - round_m), s))


def _low_point(
    site: Site, ring: Ring, obstacles: Obstacles, key: str, start_m: float, end_m: float
) -> tuple[Station, float] | None:
    """The place nearest the middle between two high points where a drip leg finds room down to its drain."""
    main, middle_m = site.main, (start_m + end_m) / 2
    for n in range(round(MOST_OFF_HALF * (end_m - start_m) / STEP_M) + 1):
        for sign in (1, -1) if n else (1,):
            found = ring.place(site, key, middle_m + sign * n * STEP_M, LOW_ROOM_M)
            if found is None:
                continue
            station, round_m = found
            level_m = main.height_m - main.fall * max(round_m - start_m, end_m - round_m)
            foot, top = Point3(*station.at, main.drain_height_m), Point3(*station.at, level_m)
            if first_in_the_way(obstacles[station.wall.room], foot, top) is None:
                return found
    return None
