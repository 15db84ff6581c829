"""Where things placed from a wall lie: along it, within their room, in each other's way."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Protocol

from drafter.finding import Finding, Place, Severity
from drafter.geometry import Point
from drafter.site.model import Site
from drafter.site.wall import Wall

SLACK_M = 0.0005
SLACK_M2 = 1e-4


class Placed(Protocol):
    """What is placed from a wall and takes up some of it."""

    @property
    def from_left_m(self) -> float: ...

    @property
    def width_m(self) -> float: ...

    def where(self, attribute: str) -> Place: ...


def reaches_past(site: Site, wall: Wall, thing: Placed, name: str) -> Iterator[Finding]:
    """Yield PLACE001 for a thing that reaches past the right-hand end of its wall."""
    units = site.units
    far_m = thing.from_left_m + thing.width_m
    if far_m <= wall.length_m + SLACK_M:
        return
    length, far = units.length_with_unit(wall.length_m), units.length_with_unit(far_m)
    if thing.width_m > wall.length_m:
        place, fix = thing.where("width_m"), f"its width can be at most {length}"
    else:
        most = units.length_with_unit(wall.length_m - thing.width_m)
        place, fix = thing.where("from_left_m"), f"its 'from left' can be at most {most}"
    message = f"the {name} reaches to {far} along the {wall.name} wall of {wall.room}, which is {length} long"
    yield Finding("PLACE001", Severity.ERROR, place, message, name, far, length, fix + "; measure both again")


def point_past(site: Site, wall: Wall, entry: Any, name: str, subject: str) -> Iterator[Finding]:
    """Yield PLACE001 for a point that lies past the right-hand end of its wall."""
    if entry.from_left_m <= wall.length_m + SLACK_M:
        return
    length, far = (site.units.length_with_unit(m) for m in (wall.length_m, entry.from_left_m))
    message = f"{name} lies {far} along the {wall.name} wall of {wall.room}, which is {length} long"
    fix = "measure again from the left-hand corner, facing the wall"
    yield Finding("PLACE001", Severity.ERROR, entry.where("from_left_m"), message, subject, far, length, fix)


def outline(wall: Wall, thing: Any) -> tuple[Point, ...]:
    """Return the corners in plan of a thing that stands off a wall."""
    return wall.footprint(thing.from_left_m, thing.off_wall_m, thing.width_m, thing.depth_m)


def is_inside(site: Site, room: str, corners: tuple[Point, ...]) -> bool:
    """Whether an outline lies wholly within the walls of a room."""
    from shapely import Polygon

    walls = Polygon([wall.left for wall in site.walls[room]])
    return bool(walls.buffer(SLACK_M, join_style="mitre").covers(Polygon(corners)))


def is_spot_inside(site: Site, room: str, spot: Point) -> bool:
    """Whether a spot lies within the walls of a room."""
    from shapely import Point as Spot
    from shapely import Polygon

    return bool(Polygon([wall.left for wall in site.walls[room]]).distance(Spot(spot)) <= SLACK_M)


def overlap(corners: tuple[Point, ...], others: tuple[Point, ...]) -> bool:
    """Whether two outlines share more than an edge."""
    from shapely import Polygon

    return bool(Polygon(corners).intersection(Polygon(others)).area > SLACK_M2)
