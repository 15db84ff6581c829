"""Which other height of the main would let it pass what blocks it: each one named has been laid out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from drafter.finding import Finding
from drafter.layout.doorways import served_rooms
from drafter.layout.laying_out import lay_out
from drafter.layout.levels import at_height
from drafter.layout.obstacles import CLEAR_M, PIPE_M, obstacles_in
from drafter.site.model import Site
from drafter.standards.limits import BELOW_CEILING_M, HEADROOM_M

MOST_TRIED = 12
"""Heights tried on a site."""

FINE_M = 0.01
"""A height is found to this."""


def with_height_that_helps(site: Site, findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Add to the finding of a main that is blocked the nearest height at which it is not."""
    blocked = [
        n for n, each in enumerate(findings) if each.rule == "ROUTE001" and each.place == site.main.where("height_m")
    ]
    if not blocked:
        return findings
    first, *_ = blocked
    height_m, fix = nearest_height_m(site), findings[first].fix
    if height_m is None:
        fix += "; of the other heights of the main that were tried, none helps"
    else:
        fix = f"hang the main at {site.units.length_with_unit(height_m)}, where it finds a way; or {fix}"
    return (*findings[:first], replace(findings[first], fix=fix), *findings[first + 1 :])


def nearest_height_m(site: Site) -> float | None:
    """Return the height nearest to the main's own at which a site can be laid out; None where none was found."""
    given_m, found = site.main.height_m, list[float]()
    for low_m, high_m in sorted(_ranges_m(site), key=lambda ends: abs(ends[0] - given_m))[:MOST_TRIED]:
        nearest = min((abs(height_m - given_m) for height_m in found), default=float("inf"))
        if abs(low_m - given_m) < nearest and (height_m := _least_m(site, low_m, high_m)):
            found.append(height_m)
    return min(found, key=lambda height_m: abs(height_m - given_m), default=None)


def _ranges_m(site: Site) -> Iterator[tuple[float, float]]:
    """Yield from where to where the main may hang to pass above or below each thing, at most as it may fall."""
    rooms = served_rooms(site)
    around_m = sum(wall.length_m for room in rooms for wall in site.walls[room])
    fall_m, room_m = site.main.fall * around_m, CLEAR_M + PIPE_M
    most_m = min(site.rooms[room].ceiling_m for room in rooms) - BELOW_CEILING_M.value
    things = [thing for room in rooms for thing in obstacles_in(site, room) if not thing.low]
    for top_m in {thing.top_m + room_m for thing in things}:
        if site.main.height_m < top_m + fall_m and top_m <= most_m:
            yield site.units.set_out_m(top_m + 0.004), min(top_m + fall_m, most_m)
    for under_m in {thing.bottom_m - room_m for thing in things}:
        if HEADROOM_M.value < under_m < min(site.main.height_m, most_m):
            yield site.units.set_out_m(under_m - 0.01), site.units.set_out_m(under_m - 0.01)


def _least_m(site: Site, low_m: float, high_m: float) -> float | None:
    """The least height of a range at which a site can be laid out, found by halving; None where its end fails."""
    if _finds_a_way(site, low_m):
        return low_m
    if high_m <= low_m + FINE_M or not _finds_a_way(site, high_m):
        return None
    while high_m - low_m > 2 * FINE_M:
        middle_m = site.units.set_out_m((low_m + high_m) / 2)
        if not low_m < middle_m < high_m:
            break
        if _finds_a_way(site, middle_m):
            high_m = middle_m
        else:
            low_m = middle_m
    return high_m


def _finds_a_way(site: Site, height_m: float) -> bool:
    return lay_out(at_height(site, height_m))[0] is not None
