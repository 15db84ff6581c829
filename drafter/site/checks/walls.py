"""How walls are built: told once and in one way, the same from both faces, and no bay too wide at the corner."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.reader import is_read
from drafter.site.checks.on_wall import SLACK_M
from drafter.site.model import Room, Site, Studs, WallBuild
from drafter.site.shared_studs import CORNER_POST_M, first_from, shared_walls, stud_without_fellow
from drafter.site.wall import with_article

ONE_STUD_M = 0.01
"""Two tapes that meet a stud's middle so near to one another have found the same stud (common practice)."""


def check_build(room: Room, build: WallBuild, earlier: list[WallBuild]) -> Iterator[Finding]:
    """Yield WALL001 for a wall told of twice, WALL002 where what is said of it does not agree."""
    same = next((each for each in earlier if is_read(each.wall) and each.wall == build.wall), None)
    if same is not None:
        message = f"the {build.wall} wall was told of in line {same.place.line} already"
        yield Finding("WALL001", Severity.ERROR, build.where("wall"), message, fix="keep one of the two")
    if build.built == "masonry" and build.studs is not None:
        message, fix = f"the {build.wall} wall is masonry and has studs", "delete 'studs', or write 'built: studs'"
        yield Finding("WALL002", Severity.ERROR, build.where("studs"), message, fix=fix)
    elif build.built == "studs" and build.studs is None and room.studs is None:
        message = f"nothing says where the studs of the {build.wall} wall stand"
        fix = "add 'studs: {spacing: ..., first: ...}' to the wall or its room"
        yield Finding("WALL002", Severity.ERROR, build.where("built"), message, fix=fix)
    elif not build.built and build.studs is None:
        message = f"it is not said how the {build.wall} wall is built"
        fix = "add 'built: masonry', or 'studs: {spacing: ..., first: ...}'"
        yield Finding("WALL002", Severity.ERROR, build.place, message, fix=fix)


def check_studs(site: Site, studs: Studs | None) -> Iterator[Finding]:
    """Yield WALL003 where the first stud stands further from the corner than studs do from one another."""
    if studs is None or studs.first_m <= studs.spacing_m + CORNER_POST_M + SLACK_M:
        return
    first, spacing = (site.units.length_with_unit(m) for m in (studs.first_m, studs.spacing_m))
    message = f"the first one, {first} from the end, leaves a wider bay than the spacing of {spacing}"
    fix = "give the one nearest the left-hand corner, or end, that is not the corner itself"
    yield Finding("WALL003", Severity.ERROR, studs.where("first_m"), message, "", first, spacing, fix)


def check_shared_studs(site: Site) -> Iterator[Finding]:
    """Yield WALL004 for each wall whose studs are told from both faces and do not agree."""
    if not any(room.studs is not None or room.builds for room in site.rooms.values()):
        return
    for face, other in shared_walls(site.walls):
        ours, theirs = (site.rooms[each.room].studs_of(each.name) for each in (face, other))
        if ours is None or theirs is None:
            continue
        faces = ((face, ours, other, theirs), (other, theirs, face, ours))
        told = [(each, at_m) for each in faces if (at_m := stud_without_fellow(*each, ONE_STUD_M)) is not None]
        if not told:
            continue
        (here, _, there, others), at_m = told[0]
        units = site.units
        first_m = first_from(here, there, others)
        nearest_m = first_m + round((at_m - first_m) / others.spacing_m) * others.spacing_m
        at, nearest = units.length_with_unit(at_m), units.length_with_unit(nearest_m)
        seen = [units.length_with_unit(m) for m in (ours.spacing_m, first_from(other, face, ours))]
        yield Finding(
            "WALL004",
            Severity.WARNING,
            theirs.where("first_m"),
            f"{site.wall_words(here.room, here.name, with_article)} has a stud at {at}, "
            f"but as told of {site.wall_words(there.room, there.name, with_article)} behind, at {nearest}",
            measured=at,
            limit=nearest,
            fix=f"measure the wall again; if {face.room} is right, write in {other.room} walls: "
            f"[{{wall: {other.name}, studs: {{spacing: {seen[0]}, first: {seen[1]}}}}}]",
        )
