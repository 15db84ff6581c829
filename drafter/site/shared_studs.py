"""The studs of a wall that two rooms share: one frame, told from either face or from both."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace

from drafter.reader import is_read
from drafter.site.model import Room, Studs, WallBuild
from drafter.site.wall import Wall, share_a_wall

CORNER_POST_M = 0.02
"""A stud nearer to the corner than this is the corner's own post, half of it (common practice)."""

Walls = Mapping[str, tuple[Wall, ...]]


def shared_walls(walls: Walls) -> Iterator[tuple[Wall, Wall]]:
    """Yield the two faces of each wall that two rooms share, in the order of the site file."""
    every = [wall for in_room in walls.values() for wall in in_room]
    for number, wall in enumerate(every):
        for other in every[number + 1 :]:
            if wall.room != other.room and share_a_wall(wall, other):
                yield wall, other


def with_shared_studs(rooms: Mapping[str, Room], walls: Walls) -> Mapping[str, Room]:
    """Give the face of a shared wall of which nothing is said the studs that are told from its other face.

    What is said of a wall itself goes before what is said of all walls of a room.
    """
    if not any(is_read(room) and _tells_studs(room) for room in rooms.values()):
        return rooms
    found = dict(rooms)
    for pair in shared_walls(walls):
        for face, other in (pair, pair[::-1]):
            here, there = found[face.room], found[other.room]
            if not all(map(_is_whole, (here, there))):
                continue
            told = _build(rooms[other.room], other)
            studs = there.studs_of(other.name)
            if studs is None or _build(here, face) is not None or (here.studs is not None and told is None):
                continue
            seen = replace(studs, first_m=first_from(face, other, studs))
            build = WallBuild(place=studs.place, wall=face.name, built="studs", studs=seen)
            found[face.room] = replace(here, builds=(*here.builds, build))
    return found


def first_from(face: Wall, other: Wall, studs: Studs) -> float:
    """Where the first stud stands as one faces a wall, told from its other face [m]."""
    at_m = face.measure(other.at(studs.first_m))[0]
    return (at_m - CORNER_POST_M) % studs.spacing_m + CORNER_POST_M


def shared_stretch(face: Wall, other: Wall) -> tuple[float, float]:
    """From where to where along a face the other one lies behind it [m]."""
    low_m, high_m = sorted(face.measure(corner)[0] for corner in (other.left, other.right))
    return max(0.0, low_m), min(face.length_m, high_m)


def stud_without_fellow(face: Wall, studs: Studs, other: Wall, others: Studs, apart_m: float) -> float | None:
    """Where a stud told from one face stands that the other face does not know of [m]; None where all agree."""
    low_m, high_m = shared_stretch(face, other)
    first_m = first_from(face, other, others)
    for at_m in studs.places_m(high_m - apart_m):
        off_m = math.remainder(at_m - first_m, others.spacing_m)
        if at_m > low_m + apart_m and abs(off_m) > apart_m:
            return at_m
    return None


def _tells_studs(room: Room) -> bool:
    return _is_whole(room) and (room.studs is not None or any(build.studs is not None for build in room.builds))


def _is_whole(room: Room) -> bool:
    """Whether what a room says of its walls could be read."""
    if not (is_read(room) and is_read(room.studs) and is_read(room.builds)):
        return False
    builds = room.builds
    if not all(is_read(b) and is_read(b.wall) and is_read(b.built) and is_read(b.studs) for b in builds):
        return False
    every = [room.studs, *(build.studs for build in builds)]
    return all(each is None or (is_read(each.first_m) and is_read(each.spacing_m)) for each in every)


def _build(room: Room, wall: Wall) -> WallBuild | None:
    """What is said of one wall of a room by itself."""
    return next((build for build in room.builds if build.wall == wall.name), None)
