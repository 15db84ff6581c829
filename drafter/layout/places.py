"""The spots of a place that a hose must get to."""

from __future__ import annotations

import math

from drafter.geometry import Point
from drafter.layout.open_floor import OpenFloor
from drafter.site.model import Site, WorkPlace
from drafter.site.places import things_called

STEP_M = 0.1
"""All round a thing its sides are looked at so closely: what a hose lacks is right to half of it."""

_ON_FLOOR_M = 1e-6


def spots_of(site: Site, floor: OpenFloor, place: WorkPlace) -> tuple[Point, ...]:
    """Return the spot of a place, or those all round a thing where its sides stand free."""
    if not place.around:
        assert place.from_left_m is not None
        return (site.wall(place.room, place.wall).at(place.from_left_m, place.off_wall_m),)
    ((room, thing),) = things_called(site.rooms, place.around, place.room)
    wall = site.wall(room, thing.wall)
    corners = wall.footprint(thing.from_left_m, thing.off_wall_m, thing.width_m, thing.depth_m)
    return _free(floor, [spot for a, b in zip(corners, corners[1:] + corners[:1], strict=True) for spot in _side(a, b)])


def _side(start: Point, end: Point) -> list[Point]:
    """Spots along a side, without its end."""
    way = end.minus(start)
    count = math.ceil(way.length / STEP_M)
    return [start.plus(way, number / count) for number in range(count)]


def _free(floor: OpenFloor, spots: list[Point]) -> tuple[Point, ...]:
    from shapely import Point as Spot

    return tuple(spot for spot in spots if floor.whole.distance(Spot(spot)) < _ON_FLOOR_M)
