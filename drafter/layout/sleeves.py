"""Places where the main can pass through a wall that two rooms share."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from drafter.finding import Finding, Severity
from drafter.layout.crossings import CrossingPlace
from drafter.site.model import Site
from drafter.site.wall import Wall, share_a_wall

BESIDE_M = 0.4
"""Likely distance of a sleeve from a riser or an outlet (common practice)."""

CLEAR_OF_FITTINGS_M = 0.3
"""Least distance of a sleeve from a riser, an outlet or an opening: no joint near a wall (common practice)."""

CLEAR_OF_STUD_M = 0.06
"""Least distance of a sleeve from the middle of a stud: half the stud and half a core of 80 mm (common practice)."""

CLEAR_OF_CORNER_M = 0.15
"""Least distance of a sleeve from where the main turns at a corner: two elbows face to face, of 72 mm each, centre
to face for 40 mm tube, and a little (common practice); sizes are not known yet when places are chosen."""

ROUNDING_M = 0.02


@dataclass(frozen=True, slots=True)
class SleevePlace:
    """A place to pass: for either side the key of its station, the wall, and from the left [m]."""

    ends: tuple[tuple[str, Wall, float], tuple[str, Wall, float]]


def sleeve_places(
    site: Site, riser: tuple[Wall, float], crossings: Sequence[CrossingPlace], off_wall_m: float
) -> list[SleevePlace]:
    """Return the places given in the site file, or likely ones on every wall that two rooms share."""
    found: list[SleevePlace] = []
    turns = [riser, *((wall, s) for place in crossings for _, wall, s in place.ends)]
    for wall, other in _shared_walls(site):
        low, high = _shared_stretch(wall, other, off_wall_m)
        for spot in _given(site, wall, other) if site.main.through else _likely(site, turns, wall, other, low, high):
            there = other.measure(wall.at(spot))[0]
            number = len(found) + 1
            here = (f"sleeve {number} {wall.room}", wall, spot)
            found.append(SleevePlace((here, (f"sleeve {number} {other.room}", other, there))))
    return found


def sleeve_findings(site: Site, off_wall_m: float) -> Iterator[Finding]:
    """Look whether each sleeve given in the site file keeps clear of corners and openings on both sides."""
    for sleeve in site.main.through:
        wall = site.wall(sleeve.room, sleeve.wall)
        others = [pair[0] if pair[1] == wall else pair[1] for pair in _shared_walls(site) if wall in pair]
        reasons = [_in_the_way(site, wall, other, sleeve.from_left_m, off_wall_m) for other in others]
        if why := min((reason for reason in reasons if reason is not None), default="no other room lies behind it"):
            message = f"the main cannot pass the {wall.name} wall of {wall.room} there: {why}"
            fix = "move the sleeve, or leave it out and a place is found"
            yield Finding("ROUTE006", Severity.ERROR, sleeve.where("from_left_m"), message, "sleeve", fix=fix)


def _in_the_way(site: Site, wall: Wall, other: Wall, at_m: float, off_wall_m: float) -> str | None:
    """Say why a sleeve cannot be at a place; empty where it can, None where the room behind does not reach."""
    units, ends = site.units, sorted(wall.measure(point)[0] for point in (other.left, other.right))
    left_m, right_m = max(0.0, ends[0]), min(wall.length_m, ends[1])
    if not left_m < at_m < right_m:
        return None
    low, high = _shared_stretch(wall, other, off_wall_m)
    if not low - ROUNDING_M <= at_m <= high + ROUNDING_M:
        near_m, off, elbows = (
            units.length_with_unit(m) for m in (min(at_m - left_m, right_m - at_m), off_wall_m, CLEAR_OF_CORNER_M)
        )
        places = f"from {units.length_with_unit(low)} to {units.length_with_unit(high)}" if low <= high else "nowhere"
        return (
            f"it is too near a corner, on this side or behind: {near_m} from it, where the main keeps {off} off the "
            f"wall round that corner and its elbows, there and before the sleeve, take {elbows} more; "
            f"there is room {places}"
        )
    for a, b in _openings(site, wall, other):
        if a - CLEAR_OF_FITTINGS_M < at_m < b + CLEAR_OF_FITTINGS_M:
            low_words, high_words, clear = (units.length_with_unit(m) for m in (a, b, CLEAR_OF_FITTINGS_M))
            return f"it is in or beside an opening, {low_words} to {high_words}: {clear} clear of it is wanted"
    return _stud_there(site, wall, other, at_m)


def _shared_stretch(wall: Wall, other: Wall, off_wall_m: float) -> tuple[float, float]:
    """From where to where along a wall a sleeve is clear of the corners on both its faces [m]."""
    ends = sorted(wall.measure(point)[0] for point in (other.left, other.right))
    keep = off_wall_m + CLEAR_OF_CORNER_M
    return max(0.0, ends[0]) + keep, min(wall.length_m, ends[1]) - keep


def _shared_walls(site: Site) -> list[tuple[Wall, Wall]]:
    walls = [wall for in_room in site.walls.values() for wall in in_room]
    return [
        (wall, other)
        for number, wall in enumerate(walls)
        for other in walls[number + 1 :]
        if wall.room != other.room and share_a_wall(wall, other)
    ]


def _given(site: Site, wall: Wall, other: Wall) -> list[float]:
    return [
        wall.measure(site.wall(sleeve.room, sleeve.wall).at(sleeve.from_left_m))[0]
        for sleeve in site.main.through
        if site.wall(sleeve.room, sleeve.wall) in (wall, other)
    ]


def _likely(
    site: Site, turns: list[tuple[Wall, float]], wall: Wall, other: Wall, low: float, high: float
) -> list[float]:
    """Beside the outlets on either face and what else turns there, at both ends and the middle of the shared length."""
    on_it = [*turns, *((site.wall(o.room, o.wall), o.from_left_m) for o in site.outlets)]
    marks = [wall.measure(at_wall.at(s))[0] for at_wall, s in on_it if at_wall in (wall, other)]
    spots = [low, (low + high) / 2, high, *(mark + step for mark in marks for step in (-BESIDE_M, BESIDE_M))]
    openings, studs = _openings(site, wall, other), _studs(site, wall, other)
    spots += [stud + side * _beside_stud_m(site) for stud in studs for side in (-1, 1) if _is_near(stud, spots)]
    return [
        spot
        for spot in sorted({site.units.set_out_m(s) for s in spots})
        if low - ROUNDING_M <= spot <= high + ROUNDING_M
        and all(abs(spot - mark) > CLEAR_OF_FITTINGS_M - 1e-6 for mark in marks)
        and not any(abs(spot - stud) < CLEAR_OF_STUD_M - 1e-6 for stud in studs)
        and not any(a - CLEAR_OF_FITTINGS_M < spot < b + CLEAR_OF_FITTINGS_M for a, b in openings)
    ]


def _openings(site: Site, wall: Wall, other: Wall) -> list[tuple[float, float]]:
    """From where to where openings in either face reach as high as the main, along the first [m]."""
    found = []
    for face in (wall, other):
        for opening in site.rooms[face.room].openings:
            high = opening.height_m > site.main.height_m - CLEAR_OF_FITTINGS_M
            if high and site.wall(face.room, opening.wall) == face:
                ends = (opening.from_left_m, opening.from_left_m + opening.width_m)
                a, b = sorted(wall.measure(face.at(end))[0] for end in ends)
                found.append((a, b))
    return found


def _studs(site: Site, wall: Wall, other: Wall) -> list[float]:
    """Where the studs of either face stand along the first [m]."""
    found = []
    for face in (wall, other):
        studs = site.rooms[face.room].studs_of(face.name)
        if studs is not None:
            found += [wall.measure(face.at(place_m))[0] for place_m in studs.places_m(face.length_m)]
    return sorted(found)


def _beside_stud_m(site: Site) -> float:
    """How far from a stud a sleeve beside it is set out [m]."""
    return CLEAR_OF_STUD_M + site.units.set_out_step_m / 2


def _is_near(stud_m: float, spots: Sequence[float]) -> bool:
    return any(abs(stud_m - spot) < CLEAR_OF_STUD_M for spot in spots)


def _stud_there(site: Site, wall: Wall, other: Wall, spot_m: float) -> str:
    """Say that a stud stands where a sleeve is to be, and where it would clear the studs; empty where it does."""
    studs = _studs(site, wall, other)
    hit = next((stud for stud in studs if abs(stud - spot_m) < CLEAR_OF_STUD_M - 1e-6), None)
    if hit is None:
        return ""
    units = site.units
    beside = [units.set_out_m(stud + side * _beside_stud_m(site)) for stud in studs for side in (-1, 1)]
    free = [at for at in beside if all(abs(at - stud) >= CLEAR_OF_STUD_M - 1e-6 for stud in studs)]
    where = f", it clears them at {units.length_with_unit(min(free, key=lambda at: abs(at - spot_m)))}" if free else ""
    return f"a stud stands at {units.length_with_unit(hit)}{where}"
