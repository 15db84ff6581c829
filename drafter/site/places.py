"""What a place of the site file means: the thing it is all round."""

from __future__ import annotations

from collections.abc import Mapping

from drafter.reader import is_read, letters
from drafter.site.model import Room, Standing


def things_called(rooms: Mapping[str, Room], name: str, room: str = "") -> list[tuple[str, Standing]]:
    """Return the equipment called by its name, or its kind where it has none; else all of a kind. Each with its room.

    Args:
        room: the only room to look in, where it is given.
    """
    things = [
        (each, thing)
        for each, data in rooms.items()
        if not room or each == room
        if is_read(data) and is_read(data.equipment)
        for thing in data.equipment
        if is_read(thing) and is_read(thing.name) and is_read(thing.kind)
    ]
    called = [(each, thing) for each, thing in things if letters(thing.name or thing.kind) == letters(name)]
    return called or [(each, thing) for each, thing in things if letters(thing.kind) == letters(name)]


def names_of_things(rooms: Mapping[str, Room]) -> tuple[str, ...]:
    """Return what the equipment may be called, each name once."""
    things = [thing for data in rooms.values() for thing in data.equipment]
    return tuple(dict.fromkeys(thing.name or thing.kind for thing in things))
