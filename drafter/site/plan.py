"""Rooms as walls in one common plan: metres east and north of the datum corner of the first room."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress

from drafter.geometry import Box, Point
from drafter.reader import Reading, Unread
from drafter.site.model import Room
from drafter.site.wall import Wall, find_wall

SIDES = ("north", "east", "south", "west")


def walls_of_rooms(rooms: Mapping[str, Room], reading: Reading) -> dict[str, tuple[Wall, ...]]:
    """Place all rooms in one plan; a room that cannot be placed gives a finding and is left out."""
    outlines: dict[str, dict[str, Point]] = {}
    placed: dict[str, tuple[Wall, ...]] = {}
    waiting = dict(rooms)
    while waiting:
        ready = [name for name, room in waiting.items() if _is_ready(room, placed, waiting)]
        if not ready:
            for room in waiting.values():
                place = room.where("behind")
                reading.error("ROOM003", place, "these rooms stand behind each other in a ring", "give one 'at:'")
            break
        for name in ready:
            room = waiting.pop(name)
            corners = None
            with suppress(Unread):
                corners = _corners(name, room, not placed and not outlines, placed, reading)
            if corners:
                outlines[name] = corners
                placed[name] = _walls(name, room, corners)
            else:
                reading.broken.add(name)
    return _from_datum(outlines, rooms)


def _is_ready(room: Room, placed: Mapping[str, tuple[Wall, ...]], waiting: Mapping[str, Room]) -> bool:
    """Whether the room that a room stands behind, if any, has been placed or never will be."""
    with suppress(Unread):
        return room.behind is None or room.behind.room in placed or room.behind.room not in waiting
    return True


def _corners(
    name: str, room: Room, first: bool, placed: Mapping[str, tuple[Wall, ...]], reading: Reading
) -> dict[str, Point] | None:
    """Return a room's corners clockwise, named for its walls' left-hand ends."""
    if bool(room.size_m) == bool(room.corners_m):
        message = "both 'size' and 'corners' are given" if room.size_m else "the room has neither 'size' nor 'corners'"
        reading.error("ROOM001", room.place, message, "write size: [along north wall, along east wall]", name)
        return None
    if room.corners_m:
        return _outline({label: Point(*at) for label, at in room.corners_m.items()}, name, room, reading)
    width, depth = room.size_m
    if room.behind:
        box = _behind(name, room, placed, reading)
    elif room.at_m or first:
        x, y = room.at_m or (0.0, 0.0)
        box = Box(x, y, x + width, y + depth)
    else:
        fix = "add behind: {room: ..., wall: ..., from left: ...} or at: [east, north]"
        reading.error("ROOM003", room.place, "nothing says where this room lies", fix, name)
        return None
    if box is None:
        return None
    south_west, south_east, north_east, north_west = box.corners
    return dict(zip(SIDES, (north_west, north_east, south_east, south_west), strict=True))


def _outline(corners: dict[str, Point], name: str, room: Room, reading: Reading) -> dict[str, Point] | None:
    from shapely import Polygon

    place = room.where("corners_m")
    shape = Polygon(list(corners.values()))
    if not shape.is_valid or shape.area < 0.5:
        fix = "list the corners in order, walking round the room with the walls on your left hand"
        reading.error("ROOM002", place, "these corners make no room: its walls cross or it has no area", fix, name)
        return None
    short = [
        a
        for a, b in zip(corners, [*corners][1:] + [*corners][:1], strict=True)
        if corners[b].minus(corners[a]).length < 0.05
    ]
    if short:
        fix = "leave out corners closer than 50 mm"
        reading.error("ROOM002", place, f"two corners coincide at {short[0]}", fix, name)
        return None
    if shape.exterior.is_ccw:
        return dict(reversed(corners.items()))
    return corners


def _behind(name: str, room: Room, placed: Mapping[str, tuple[Wall, ...]], reading: Reading) -> Box | None:
    behind = room.behind
    assert behind is not None
    if behind.room not in placed:
        if behind.room not in reading.broken:
            known = ", ".join(placed) or "none yet"
            place = behind.where("room")
            reading.error("REF001", place, f"there is no room '{behind.room}'", f"rooms here: {known}", name)
        return None
    wall = find_wall(placed[behind.room], behind.wall)
    if wall is None or min(abs(wall.along.x), abs(wall.along.y)) > 1e-9:
        names = ", ".join(w.name for w in placed[behind.room])
        message = f"'{behind.wall}' is no straight east-west or north-south wall of {behind.room}"
        reading.error("REF002", behind.where("wall"), message, f"its walls: {names}", name)
        return None
    length, depth = room.size_m if abs(wall.along.x) > 0.5 else room.size_m[::-1]
    near = wall.at(behind.from_left_m, -wall.thickness_m)
    far = near.plus(wall.along, length).plus(wall.inward, -depth)
    return Box.around([near, far])


def _walls(name: str, room: Room, corners: dict[str, Point]) -> tuple[Wall, ...]:
    labels = list(corners)
    following = labels[1:] + labels[:1]
    return tuple(
        Wall(
            name,
            label if room.size_m else f"{label}-{after}",
            corners[label],
            corners[after],
            room.ceiling_m,
            room.wall_thickness_m,
        )
        for label, after in zip(labels, following, strict=True)
    )


def _from_datum(outlines: dict[str, dict[str, Point]], rooms: Mapping[str, Room]) -> dict[str, tuple[Wall, ...]]:
    first = next((name for name in rooms if name in outlines), None)
    if first is None:
        return {}
    datum = min(outlines[first].values(), key=lambda p: (p.y, p.x))
    return {
        name: _walls(name, rooms[name], {label: at.minus(datum) for label, at in outlines[name].items()})
        for name in rooms
        if name in outlines
    }
