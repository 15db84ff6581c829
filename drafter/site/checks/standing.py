"""Columns, equipment, decks and spaces to keep clear: along their walls, within their rooms, under the ceiling."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.site.checks.on_wall import SLACK_M, is_inside, outline, overlap, point_past, reaches_past
from drafter.site.model import Column, Compressor, Crossing, Deck, KeepClear, Service, Site, Standing
from drafter.site.model.forms import PRACTICE
from drafter.standards.limits import BELOW_CEILING_M

THRESHOLD_M = 0.1
"""Depth of a threshold, on which nothing stands."""


def check_standing(site: Site, room: str, thing: Column | Standing | Compressor) -> Iterator[Finding]:
    """Yield PLACE001, PLACE004 and PLACE005 for a thing that reaches past its wall or out of its room."""
    wall, name = site.wall(room, thing.wall), name_of(thing)
    if isinstance(thing, Standing | Compressor) and thing.height_m > wall.ceiling_m + SLACK_M:
        top, ceiling = (site.units.length_with_unit(m) for m in (thing.height_m, wall.ceiling_m))
        message = f"the top of the {name} at {top} is above the ceiling of {room}"
        fix = f"it can be at most {ceiling} above floor"
        yield Finding("PLACE004", Severity.ERROR, thing.where("height_m"), message, name, top, ceiling, fix)
    if isinstance(thing, Standing) and thing.above_floor_m >= thing.height_m:
        under, top = (site.units.length_with_unit(m) for m in (thing.above_floor_m, thing.height_m))
        message = f"the underside of the {name} at {under} is not below its top at {top}"
        fix = "'height' is that of its top, 'above floor' that of its underside, both above finished floor"
        yield Finding("PLACE004", Severity.ERROR, thing.where("above_floor_m"), message, name, under, top, fix)
    past = tuple(reaches_past(site, wall, thing, name))
    yield from past
    if not past and not is_inside(site, room, outline(wall, thing)):
        message = f"the {name} reaches through a wall of {room}"
        fix = "check its wall, its depth and its gap to the wall"
        yield Finding("PLACE005", Severity.ERROR, thing.where("wall"), message, name, fix=fix)


def check_doorway(site: Site, room: str, thing: Column | Standing) -> Iterator[Finding]:
    """Yield PLACE016 for what stands on the threshold of a door: a column cannot, a thing shuts it."""
    if isinstance(thing, Standing) and (thing.kind == "vehicle" or thing.above_floor_m > 0.0):
        return
    here = outline(site.wall(room, thing.wall), thing)
    for opening in site.rooms[room].openings:
        threshold = site.wall(room, opening.wall).footprint(opening.from_left_m, 0.0, opening.width_m, THRESHOLD_M)
        if opening.kind != "window" and overlap(here, threshold):
            severity = Severity.ERROR if isinstance(thing, Column) else Severity.WARNING
            message = f"the {name_of(thing)} stands in the {opening.kind} of line {opening.place.line}"
            fix = "measure both again, from the left-hand corner of their walls"
            place = thing.where("from_left_m")
            yield Finding("PLACE016", severity, place, message, name_of(thing), fix=fix, source=PRACTICE)


def check_keep_clear(site: Site, room: str, keep: KeepClear) -> Iterator[Finding]:
    """Yield PLACE001 for a space to keep clear that reaches past its wall; it may reach into what is behind."""
    yield from reaches_past(site, site.wall(room, keep.wall), keep, name_of(keep))


def check_service(site: Site, room: str, service: Service) -> Iterator[Finding]:
    """Yield PLACE001 for another service that reaches past its wall, PLACE004 for one above the ceiling."""
    wall, name, units = site.wall(room, service.wall), service.name or service.kind, site.units
    yield from reaches_past(site, wall, service, name)
    top_m = service.above_floor_m + service.height_m
    if top_m > wall.ceiling_m + SLACK_M:
        top, ceiling = units.length_with_unit(top_m), units.length_with_unit(wall.ceiling_m)
        message, fix = f"the {name} reaches up to {top}, above the ceiling", f"the ceiling is at {ceiling}"
        yield Finding("PLACE004", Severity.ERROR, service.where("above_floor_m"), message, name, top, ceiling, fix)


def check_deck(site: Site, room: str, deck: Deck) -> Iterator[Finding]:
    """Yield PLACE001 and PLACE005 for a deck past its wall or out of its room, PLACE004 for one at the ceiling."""
    wall, units = site.wall(room, deck.wall), site.units
    past = tuple(reaches_past(site, wall, deck, deck.name))
    yield from past
    if not past and not is_inside(site, room, outline(wall, deck)):
        message = f"the {deck.name} reaches through a wall of {room}"
        fix = "check its wall, its depth and its gap to the wall"
        yield Finding("PLACE005", Severity.ERROR, deck.where("depth_m"), message, deck.name, fix=fix)
    if deck.top_m > wall.ceiling_m - SLACK_M:
        top, ceiling = units.length_with_unit(deck.top_m), units.length_with_unit(wall.ceiling_m)
        message = f"the floor of the {deck.name} at {top} is not below the ceiling of {room}"
        fix = f"'underside' and 'thickness' together stay below {ceiling}"
        yield Finding("PLACE004", Severity.ERROR, deck.where("underside_m"), message, deck.name, top, ceiling, fix)


def check_crossing(site: Site, room: str, crossing: Crossing) -> Iterator[Finding]:
    """Yield PLACE001 for a crossing that begins past its wall, PLACE004 for one that hangs too near the ceiling."""
    wall = site.wall(room, crossing.wall)
    yield from point_past(site, wall, crossing, "the crossing", "main")
    most_m = wall.ceiling_m - BELOW_CEILING_M.value
    if crossing.height_m > most_m + SLACK_M:
        height, most = (site.units.length_with_unit(m) for m in (crossing.height_m, most_m))
        message = f"the crossing at {height} is too near or above the ceiling of {room}"
        fix = f"its centre can be at most {most} above floor"
        yield Finding("PLACE004", Severity.ERROR, crossing.where("height_m"), message, "main", height, most, fix)


def name_of(thing: Column | Standing | Compressor | KeepClear) -> str:
    """Return what a thing is called in messages."""
    if isinstance(thing, Column | Compressor):
        return "column" if isinstance(thing, Column) else "compressor"
    return thing.name or thing.kind
