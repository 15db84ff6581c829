"""How walls are built: told once and in one way, with a first stud that leaves no bay too wide."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.reader import is_read
from drafter.site.checks.on_wall import SLACK_M
from drafter.site.model import Room, Site, Studs, WallBuild


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
    if studs is None or studs.first_m <= studs.spacing_m + SLACK_M:
        return
    first, spacing = (site.units.length_with_unit(m) for m in (studs.first_m, studs.spacing_m))
    message = f"the first one, {first} from the end, leaves a wider bay than the spacing of {spacing}"
    fix = "give the one nearest the left-hand corner, or end, that is not the corner itself"
    yield Finding("WALL003", Severity.ERROR, studs.where("first_m"), message, "", first, spacing, fix)
