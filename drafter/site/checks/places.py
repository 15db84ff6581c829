"""Places that hoses are to reach: told once, with a name of their own, within a room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drafter.finding import Finding, Severity
from drafter.reader import is_read, nearest_hint
from drafter.site.checks.on_wall import is_spot_inside, point_past
from drafter.site.model import Site, WorkPlace
from drafter.site.places import names_of_things, things_called


def check_place_told(place: WorkPlace) -> Iterator[Finding]:
    """Yield PLACE014 for a place of which it is not told where it is, or in two ways."""
    spot = "{name: ..., wall: ..., from left: ..., off wall: ...}"
    if place.around and (place.wall or place.from_left_m is not None):
        where = place.where("wall" if place.wall else "from_left_m")
        message, fix = "the place is all round a thing, and at a spot as well", "keep one of them: make it two places"
    elif not place.around and not (place.wall and place.from_left_m is not None):
        where, message = place.place, "it is not told where this place is"
        fix = f"write {spot}, or {{around: ...}} with the name of a piece of equipment"
    elif not place.title:
        where, message, fix = place.place, "the place has no name", "add 'name:'"
    else:
        return
    yield Finding("PLACE014", Severity.ERROR, where, message, place.title, fix=fix)


def check_place_name(place: WorkPlace, earlier: Sequence[WorkPlace]) -> Iterator[Finding]:
    """Yield PLACE015 for a place called like an earlier one."""
    name = place.title.lower()
    if name and any(is_read(e.name) and is_read(e.around) and e.title.lower() == name for e in earlier):
        where = place.where("name" if place.name else "around")
        message = f"a place is called '{place.title}' already"
        yield Finding("PLACE015", Severity.ERROR, where, message, place.title, fix="give each place a name of its own")


def check_place_around(site: Site, place: WorkPlace) -> Iterator[Finding]:
    """Yield REF008 for a place all round a thing that is not there, or not the only one of its name."""
    if not place.around:
        return
    found = things_called(site.rooms, place.around, place.room)
    if len(found) == 1:
        return
    if found:
        message = f"{len(found)} things are called '{place.around}'"
        fix = "give the one that is meant a 'name:' of its own, or the place its 'room:'"
    else:
        names = names_of_things(site.rooms)
        message = f"there is no equipment called '{place.around}'" + (f" in {place.room}" if place.room else "")
        fix = f"{nearest_hint(place.around, names)}equipment here: {', '.join(names) or 'none'}"
    yield Finding("REF008", Severity.ERROR, place.where("around"), message, place.title, fix=fix)


def check_place_spot(site: Site, place: WorkPlace) -> Iterator[Finding]:
    """Yield PLACE001 for a spot past the end of its wall, PLACE005 for one that is not in its room."""
    if place.around or not place.wall or place.from_left_m is None:
        return
    wall, title = site.wall(place.room, place.wall), place.title
    past = tuple(point_past(site, wall, place, title or "the place", title))
    yield from past
    if not past and not is_spot_inside(site, place.room, wall.at(place.from_left_m, place.off_wall_m)):
        off = site.units.length_with_unit(place.off_wall_m)
        message = f"{title or 'the place'}, {off} off the {wall.name} wall, is not in {place.room}"
        fix = "measure again, into the room from that wall"
        yield Finding("PLACE005", Severity.ERROR, place.where("off_wall_m"), message, title, off, fix=fix)
