"""Where a valve stands in the main: clear of fittings, and rather where a ladder reaches it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TypeVar

from drafter.geometry import Point3
from drafter.layout.obstacles import Obstacle, first_in_the_way
from drafter.layout.wall_line import Station
from drafter.site.model import Site

VALVE_FROM_M, VALVE_TO_M, VALVE_ROOM_M = 0.30, 3.0, 0.25
"""From where to where along an arm its valve may stand, and how far from other fittings (common practice)."""

LADDER_M, REACHED_OVER_M = 0.8, 1.0
"""How far before a valve its ladder stands, and how high a bench may be that one reaches over (common practice)."""

STUD_FROM_M, STUD_TO_M = 0.15, 0.35
"""How far from a valve's middle a stud on either side carries its bracket: clear of the valve, within 12 in of its ends
(UFGS 15561A; the valve's length is common practice)."""

Spot = TypeVar("Spot")


def best_reached(
    site: Site, spots: Sequence[tuple[Station, Spot]], obstacles: Mapping[str, tuple[Obstacle, ...]]
) -> tuple[Station, Spot] | None:
    """Return the first of some places that is reached well from a ladder; None where there are no places.

    Rather one with nothing tall below and before it, else one with nothing before it, as where the treatment train
    hangs below, than one over the compressor. Of those that are reached alike rather one whose brackets find studs.
    """
    ahead_m = (0.0, LADDER_M / 2, LADDER_M)
    tall = [
        (spot, [_stands_there(spot[0], off_m, site.main.height_m, obstacles) for off_m in ahead_m]) for spot in spots
    ]
    free = [spot for spot, there in tall if not any(there)]
    reached = [spot for spot, (_, *before) in tall if not any(before)]
    alike = free or reached or list(spots)
    return next(iter([*(spot for spot in alike if _on_studs(site, spot[0])), *alike]), None)


def _on_studs(site: Site, station: Station) -> bool:
    """Whether there is a stud for a bracket on either side of a valve; on masonry one stands anywhere."""
    wall, at_m = station.wall, station.from_left_m
    studs = site.rooms[wall.room].studs_of(wall.name)
    off_m = [place_m - at_m for place_m in studs.places_m(wall.length_m)] if studs else []
    return studs is None or all(any(STUD_FROM_M <= side * m <= STUD_TO_M for m in off_m) for side in (-1, 1))


def _stands_there(
    station: Station, before_m: float, level_m: float, obstacles: Mapping[str, tuple[Obstacle, ...]]
) -> bool:
    """Whether something too tall to be reached over stands so far before the main, seen from its wall."""
    wall, off_wall_m = station.wall, station.wall.measure(station.at)[1]
    tall = (obstacle for obstacle in obstacles[wall.room] if not obstacle.low or obstacle.top_m > REACHED_OVER_M)
    ends = (wall.at(station.from_left_m + side, off_wall_m + before_m) for side in (-VALVE_ROOM_M, VALVE_ROOM_M))
    start, end = (Point3(*plan, level) for plan, level in zip(ends, (0.0, level_m), strict=True))
    return first_in_the_way(tall, start, end) is not None
