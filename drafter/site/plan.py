"""Rooms as walls in one common plan: metres east and north of the datum corner of the first room."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from contextlib import suppress

from drafter.geometry import Box, Point
from drafter.reader import Reading, Unread, is_read, letters, nearest_hint
from drafter.site.model import Behind, Room
from drafter.site.wall import Wall, find_wall

SIDES = ("north", "east", "south", "west")
LEAST_AREA_M2 = 0.5
LEAST_WALL_M = 0.05


def find_room_name(rooms: Iterable[str], written: str) -> str | None:
    """Return a room's own name for what was written; capitals, spaces and hyphens do not count."""
    return next((name for name in rooms if letters(name) == letters(written)), None)


def walls_of_rooms(rooms: Mapping[str, Room], reading: Reading) -> dict[str, tuple[Wall, ...]]:
    """Place all rooms in one plan; a room that cannot be placed gives a finding and is left out."""
    outlines: dict[str, dict[str, Point]] = {}
    placed: dict[str, tuple[Wall, ...]] = {}
    waiting = {name: room for name, room in rooms.items() if is_read(room)}
    while waiting:
        ready = [name for name, room in waiting.items() if not _waits(room, waiting)]
        if not ready:
            for name, room in waiting.items():
                message = f"{name} stands behind a room that stands behind it in turn"
                reading.error("ROOM003", room.where("behind"), message, "give one of them 'at:' instead", name)
            break
        for name in ready:
            room = waiting.pop(name)
            with suppress(Unread):
                corners = _corners(name, room, rooms, placed, reading)
                if corners:
                    outlines[name] = corners
                    placed[name] = _walls(name, room, corners)
    return _from_datum(outlines, rooms)


def _waits(room: Room, waiting: Mapping[str, Room]) -> bool:
    """Whether a room stands behind one that is not yet placed but may be."""
    with suppress(Unread):
        return room.behind is not None and find_room_name(waiting, room.behind.room) is not None
    return False


def _corners(
    name: str, room: Room, rooms: Mapping[str, Room], placed: Mapping[str, tuple[Wall, ...]], reading: Reading
) -> dict[str, Point] | None:
    """Return a room's corners clockwise, named for its walls' left-hand ends."""
    if not _is_told_once(name, room, reading):
        return None
    if room.corners_m:
        return _outline({label: Point(*at) for label, at in room.corners_m.items()}, name, room, reading)
    width, depth = room.size_m
    if width * depth < LEAST_AREA_M2:
        message = f"the room has an area of {width * depth:.2g} m2"
        reading.error("ROOM002", room.where("size_m"), message, "check the units of its size", name)
        return None
    if room.behind:
        box = _behind(name, room, room.behind, rooms, placed, reading)
    elif room.at_m or not placed:
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


def _is_told_once(name: str, room: Room, reading: Reading) -> bool:
    """Whether shape and place of a room are told, and in one way only; a finding says where they are not."""
    size = "size: [along the north wall, along the east wall]"
    if not room.size_m and not room.corners_m:
        reading.error("ROOM001", room.place, "the room has neither 'size' nor 'corners'", f"write {size}", name)
    elif room.size_m and room.corners_m:
        fix = f"keep {size}, or the corners where the room is no rectangle"
        reading.error("ROOM001", room.where("corners_m"), "both 'size' and 'corners' are given", fix, name)
    elif room.corners_m and (room.at_m or room.behind):
        place = room.where("at_m" if room.at_m else "behind")
        fix = "delete this, or give 'size' where the room is a rectangle"
        reading.error("ROOM001", place, "the corners already say where the room lies", fix, name)
    elif room.at_m and room.behind:
        reading.error("ROOM001", room.where("at_m"), "both 'at' and 'behind' are given", "keep one of them", name)
    else:
        return True
    return False


def _outline(corners: dict[str, Point], name: str, room: Room, reading: Reading) -> dict[str, Point] | None:
    from shapely import Polygon

    place = room.where("corners_m")
    following = [*corners][1:] + [*corners][:1]
    for label, after in zip(corners, following, strict=True):
        if corners[after].minus(corners[label]).length < LEAST_WALL_M:
            message = f"the corners {label} and {after} are less than {LEAST_WALL_M * 1000:.0f} mm apart"
            reading.error("ROOM002", place, message, "measure them again, or leave one out", name)
            return None
    shape = Polygon(list(corners.values()))
    if not shape.is_valid or shape.area < LEAST_AREA_M2:
        fix = "list the corners in order, walking round the room with the walls on your left hand"
        message = "these corners make no room: its walls cross or it has no area"
        reading.error("ROOM002", place, message, fix, name)
        return None
    return dict(reversed(corners.items())) if shape.exterior.is_ccw else corners


def _behind(
    name: str,
    room: Room,
    behind: Behind,
    rooms: Mapping[str, Room],
    placed: Mapping[str, tuple[Wall, ...]],
    reading: Reading,
) -> Box | None:
    front = find_room_name(rooms, behind.room)
    if front is None:
        fix = f"{nearest_hint(behind.room, rooms)}rooms here: {', '.join(rooms)}"
        reading.error("REF001", behind.where("room"), f"there is no room '{behind.room}'", fix, name)
        return None
    if front not in placed:
        return None
    wall = find_wall(placed[front], behind.wall)
    if wall is None or min(abs(wall.along.x), abs(wall.along.y)) > 1e-9:
        names = ", ".join(w.name for w in placed[front])
        message = f"'{behind.wall}' is no straight east-west or north-south wall of {front}"
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
