"""Rooms: apart from one another, joined by the walls they share, and warmest where they are warmest."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from drafter.finding import Finding, Place, Severity
from drafter.reader import is_read
from drafter.site.model import Room, Site
from drafter.site.wall import share_a_wall

LEAST_OVERLAP_M2 = 1e-3


def check_rooms_apart(site: Site) -> Iterator[Finding]:
    """Yield ROOM004 for each room that lies over an earlier one."""
    from shapely import Polygon

    shapes = {name: Polygon([wall.left for wall in walls]) for name, walls in site.walls.items()}
    for (first, shape), (name, other) in combinations(shapes.items(), 2):
        shared_m2 = shape.intersection(other).area
        if shared_m2 > LEAST_OVERLAP_M2:
            place = _where_told(site, name, first)
            message = f"{name} and {first} overlap by {shared_m2:.2f} m2"
            fix = "check the sizes of both and where they lie"
            yield Finding("ROOM004", Severity.ERROR, place, message, name, fix=fix)


def check_rooms_joined(site: Site) -> Iterator[Finding]:
    """Yield ROOM005 for each room with outlets that no chain of shared walls joins to the compressor's."""
    if len(site.walls) < len(site.rooms) or any(check_rooms_apart(site)):
        return
    home = site.compressor.room
    joined, waiting = {home}, [home]
    while waiting:
        here = waiting.pop()
        beside = {name for name in site.walls if name not in joined and _are_joined(site, here, name)}
        joined |= beside
        waiting += sorted(beside)
    served = [outlet.room for outlet in site.outlets if is_read(outlet) and is_read(outlet.room)]
    for name in dict.fromkeys(served):
        if name not in joined:
            place = _where_told(site, name, home)
            message = f"{name} shares no wall with {home}, nor with a room that leads there: the main cannot reach it"
            fix = "check where it lies: between the faces of one wall lies no more than its thickness"
            yield Finding("ROOM005", Severity.ERROR, place, message, name, fix=fix)


def _are_joined(site: Site, room: str, other: str) -> bool:
    return any(share_a_wall(wall, face) for wall in site.walls[room] for face in site.walls[other])


def _where_told(site: Site, *rooms: str) -> Place:
    """Return where the first of some rooms that says so says where it lies; else where the first one begins."""
    told = (site.rooms[name].places.get(how) for name in rooms for how in ("behind", "at_m", "corners_m"))
    return next((place for place in told if place is not None), site.rooms[rooms[0]].place)


def check_temperatures(site: Site, room: Room) -> Iterator[Finding]:
    """Yield ROOM006 where the coldest air of a room is warmer than its warmest."""
    if room.coldest_k <= room.warmest_k:
        return
    attribute = "coldest_k" if "coldest_k" in room.places else "warmest_k"
    coldest, warmest = (site.units.temperature(kelvin) for kelvin in (room.coldest_k, room.warmest_k))
    message = f"the coldest air, {coldest}, is warmer than the warmest, {warmest}"
    fix = "write the coldest and the warmest air of the whole year"
    yield Finding("ROOM006", Severity.ERROR, room.where(attribute), message, "", coldest, warmest, fix)
