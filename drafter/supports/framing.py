"""What can be screwed into behind the face of a stud wall: studs, corner posts, the sides of openings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from drafter.site.model import Opening, Site
from drafter.site.wall import Wall

STUD_WIDTH_M = 0.038
"""Face of a stud: 1 1/2 in, the dressed width of a nominal 2 in (American Softwood Lumber Standard PS 20)."""

AGAINST_M = 0.05
"""A column nearer to the wall than this leaves no room behind it (common practice)."""

MEETS_M = 0.01
"""So far from a stud's centre a screw still has wood on both sides (common practice)."""


@dataclass(frozen=True, slots=True)
class Post:
    """Something to screw to.

    Attributes:
        at_m: its centre, or the face a board ends at, from the left-hand corner of the wall.
        name: in words, such as ``stud 4``.
        stud: its number from the left; 0 for corners and the sides of openings.
    """

    at_m: float
    name: str
    stud: int = 0


def studs_on(site: Site, wall: Wall) -> tuple[Post, ...]:
    """Return the studs of a wall from the left, openings not yet considered; none where it is masonry."""
    studs = site.rooms[wall.room].studs_of(wall.name)
    if studs is None:
        return ()
    word = "joist" if wall.is_crossing else "stud"
    return tuple(
        Post(at_m, f"{word} {number}", number)
        for number, at_m in enumerate(studs.places_m(wall.length_m - STUD_WIDTH_M), 1)
    )


def openings_on(site: Site, wall: Wall) -> Iterator[Opening]:
    """Yield the openings in a wall, in the order of the site file."""
    for opening in site.rooms[wall.room].openings:
        if site.wall(wall.room, opening.wall) is wall:
            yield opening


@dataclass(frozen=True, slots=True)
class Front:
    """A column as one faces a wall: from where to where along it, how far off it its back and its front are [m]."""

    low_m: float
    high_m: float
    back_m: float
    off_m: float


def fronts(site: Site, wall: Wall) -> Iterator[Front]:
    """Yield the fronts of the columns of a wall's room, in the order of the site file."""
    for column in site.rooms[wall.room].columns:
        own = site.wall(wall.room, column.wall)
        box = own.footprint(column.from_left_m, column.off_wall_m, column.width_m, column.depth_m)
        spots = [wall.measure(corner) for corner in box]
        along, off = zip(*spots, strict=True)
        yield Front(min(along), max(along), min(off), max(off))


def posts_at(site: Site, wall: Wall, height_m: float) -> tuple[Post, ...]:
    """Return what stands behind the face of a stud wall at a height, from the left.

    Walls end in posts, and an opening has one on either side (common practice); studs are cut out for it. What is
    behind a column is out of reach.
    """
    found = [Post(0.0, "left-hand corner"), *studs_on(site, wall), Post(wall.length_m, "right-hand corner")]
    for opening in openings_on(site, wall):
        if opening.bottom_m < height_m < opening.height_m:
            left_m, right_m = opening.from_left_m, opening.from_left_m + opening.width_m
            half_m = STUD_WIDTH_M / 2
            found = [post for post in found if not left_m - half_m < post.at_m < right_m + half_m]
            found += [Post(left_m, f"side of the {opening.kind}"), Post(right_m, f"side of the {opening.kind}")]
    for front in fronts(site, wall):
        if front.back_m < AGAINST_M and front.off_m > 0.0 and not wall.is_crossing:
            found = [post for post in found if not front.low_m < post.at_m < front.high_m]
            sides = (front.low_m, front.high_m)
            found += [Post(at_m, "side of the column") for at_m in sides if 0.0 < at_m < wall.length_m]
    return tuple(sorted(found, key=lambda post: post.at_m))


def stud_at(posts: tuple[Post, ...], from_left_m: float) -> int:
    """Return the number of the stud that a screw at a place meets; 0 where it meets none."""
    near = (post.stud for post in posts if post.stud and abs(post.at_m - from_left_m) <= MEETS_M + 1e-9)
    return next(near, 0)
