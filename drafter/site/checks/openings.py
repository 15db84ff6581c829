"""Doors, windows and openings: on their walls, under the ceiling, beside one another."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.site.checks.on_wall import SLACK_M, reaches_past
from drafter.site.model import Opening, Site


def check_opening(site: Site, room: str, opening: Opening) -> Iterator[Finding]:
    """Yield PLACE001 and PLACE004 for an opening that is wider or higher than its wall, or has no height."""
    wall, units = site.wall(room, opening.wall), site.units
    yield from reaches_past(site, wall, opening, opening.kind)
    if opening.bottom_m >= opening.height_m:
        head, sill = units.length_with_unit(opening.height_m), units.length_with_unit(opening.bottom_m)
        place = opening.where("sill_m" if "sill_m" in opening.places else "height_m")
        message = f"the sill at {sill} is not below the head at {head}"
        fix = "'height' is that of the head, 'sill' that of the sill, both above finished floor"
        yield Finding("PLACE004", Severity.ERROR, place, message, opening.kind, sill, head, fix)
    if opening.height_m > wall.ceiling_m + SLACK_M:
        head, ceiling = units.length_with_unit(opening.height_m), units.length_with_unit(wall.ceiling_m)
        message = f"the head of the {opening.kind} at {head} is above the ceiling of {room}"
        fix = f"it can be at most {ceiling} above floor"
        yield Finding("PLACE004", Severity.ERROR, opening.where("height_m"), message, opening.kind, head, ceiling, fix)


def check_openings_apart(first: Opening, second: Opening) -> Iterator[Finding]:
    """Yield PLACE003 where two openings of a room share a piece of one wall."""
    if first.wall != second.wall:
        return
    beside = (
        first.from_left_m + first.width_m <= second.from_left_m + SLACK_M
        or second.from_left_m + second.width_m <= first.from_left_m + SLACK_M
    )
    above = first.bottom_m >= second.height_m or second.bottom_m >= first.height_m
    if not beside and not above:
        message = f"this {second.kind} overlaps the {first.kind} of line {first.place.line}"
        place = second.where("from_left_m")
        yield Finding("PLACE003", Severity.ERROR, place, message, second.kind, fix="measure both again")
