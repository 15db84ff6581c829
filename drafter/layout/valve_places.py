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

Spot = TypeVar("Spot")


def best_reached(
    site: Site, spots: Sequence[tuple[Station, Spot]], obstacles: Mapping[str, tuple[Obstacle, ...]]
) -> tuple[Station, Spot] | None:
    """Return the first of some places that is reached well from a ladder; None where there are no places.

    Rather one with nothing tall below and before it, else one with nothing before it, as where the treatment train
    hangs below, than one over the compressor.
    """
    ahead_m = (0.0, LADDER_M / 2, LADDER_M)
    tall = [
        (spot, [_stands_there(spot[0], off_m, site.main.height_m, obstacles) for off_m in ahead_m]) for spot in spots
    ]
    free = [spot for spot, there in tall if not any(there)]
    reached = [spot for spot, (_, *before) in tall if not any(before)]
    return next(iter([*free, *reached, *spots]), None)


def _stands_there(
    station: Station, before_m: float, level_m: float, obstacles: Mapping[str, tuple[Obstacle, ...]]
) -> bool:
    """Whether something too tall to be reached over stands so far before the main, seen from its wall."""
    wall, off_wall_m = station.wall, station.wall.measure(station.at)[1]
    tall = (obstacle for obstacle in obstacles[wall.room] if not obstacle.low or obstacle.top_m > REACHED_OVER_M)
    ends = (wall.at(station.from_left_m + side, off_wall_m + before_m) for side in (-VALVE_ROOM_M, VALVE_ROOM_M))
    start, end = (Point3(*plan, level) for plan, level in zip(ends, (0.0, level_m), strict=True))
    return first_in_the_way(tall, start, end) is not None
