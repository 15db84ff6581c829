"""The levels of a dead end main: it falls to its ends, rising again where it must, or back to the riser."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from drafter.finding import Finding, Severity
from drafter.geometry import Point3
from drafter.layout.connection import too_low_above_riser
from drafter.layout.low_ends import END_FROM_M
from drafter.layout.obstacles import first_in_the_way
from drafter.layout.route import Step
from drafter.layout.wall_line import Station
from drafter.layout.ways import Obstacles
from drafter.site.model import Site
from drafter.site.wall import with_article

RISE = "rise "

RISE_ROOM_M = 0.3
"""From a rise to the next fitting of the main, for its own and a bracket beside it (common practice)."""

LEAST_RISE_M = 0.2
"""A lower rise finds no room for its two fittings (common practice)."""

STEP_M = 0.05


def levelled(
    site: Site, steps: Sequence[Step], obstacles: Obstacles, least_m: float
) -> tuple[list[Step], Finding | None]:
    """Return the steps of a main at their levels, with the rises that keep it above the lowest the site allows.

    A rise stands as late as its foot is still high enough and its drip leg finds room: so there are as few as can be.

    Args:
        least_m: the lowest that the main may come back to its riser.

    Returns:
        The steps, and LEVEL004 where it comes back lower, LEVEL005 where a rise is needed and finds no place.
    """
    main = site.main
    if main.falls_to == "riser":
        high_m = max(step.along_m for step in steps)
        steps = [replace(step, level_m=main.height_m - main.fall * (high_m - step.along_m)) for step in steps]
        return steps, too_low_above_riser(site, steps[0].level_m, least_m)
    steps = _levelled(site, steps)
    while low := next((step for step in steps if _lowest_m(site, steps, step) < site.main.lowest_m - 1e-9), None):
        place = next(_places(site, steps, low, obstacles), None)
        if place is None:
            return steps, _no_place(site, low)
        steps = _levelled(site, _inserted(steps, *place))
    return steps, None


def level_reasons(site: Site, steps: Sequence[Step]) -> tuple[str, ...]:
    """Say in words which way the main falls, where that is not to its ends alone, and where it rises again."""
    units, main = site.units, site.main
    if main.falls_to == "riser":
        low_m = steps[0].level_m
        return (f"It falls back to the riser, where it is lowest ({units.level(low_m)}); no drains at its ends.",)
    rises = [step for step in steps if step.rise_m]
    if not rises:
        return ()
    where = ", ".join(
        f"{with_article(step.wall.name)} at {units.length_with_unit(step.station.from_left_m)} by "
        f"{units.length_with_unit(step.rise_m)}"
        for step in rises
    )
    lowest = units.length_with_unit(main.lowest_m)
    return (f"So as not to fall below {lowest} it rises again, each foot with a drain: on {where}.",)


def _levelled(site: Site, steps: Sequence[Step]) -> list[Step]:
    """The steps at the levels they come to, each rise back up to the height of the main."""
    main, done = site.main, dict[str, Step]()
    for step in steps:
        level_m = main.height_m
        if step.before:
            before = done[step.before]
            level_m = before.out_m - main.fall * step.station.at.minus(before.station.at).length
        rise_m = main.height_m - level_m if step.station.key.startswith(RISE) else 0.0
        done[step.station.key] = replace(step, level_m=level_m, rise_m=rise_m)
    return list(done.values())


def _lowest_m(site: Site, steps: Sequence[Step], step: Step) -> float:
    """The level that the main comes to at a station, or at its low end just past the last one."""
    is_last = not any(other.before == step.station.key for other in steps)
    return step.level_m - (site.main.fall * END_FROM_M if is_last else 0.0)


def _places(site: Site, steps: Sequence[Step], low: Step, obstacles: Obstacles) -> Iterator[tuple[Step, float, float]]:
    """Yield where a rise finds room before a station, the last place first: the step, and how far before it [m]."""
    by_key = {step.station.key: step for step in steps}
    step, main = low, site.main
    while step.before:
        before = by_key[step.before]
        length_m = step.station.at.minus(before.station.at).length
        for n in range(round((length_m - 2 * RISE_ROOM_M) / STEP_M) + 1):
            off_m = RISE_ROOM_M + n * STEP_M
            along_m = length_m - off_m
            foot_m = before.out_m - main.fall * along_m
            high_enough = main.lowest_m - 1e-9 <= foot_m <= main.height_m - LEAST_RISE_M
            if along_m >= RISE_ROOM_M and high_enough and _is_free(site, before, step, along_m, foot_m, obstacles):
                yield step, along_m, foot_m
        if before.station.key.startswith(RISE):
            return
        step = before


def _is_free(site: Site, before: Step, step: Step, along_m: float, foot_m: float, obstacles: Obstacles) -> bool:
    """Whether the drip leg and the rise find room on a wall, no passage through one and no crossing."""
    wall = step.wall
    way = step.station.at.minus(before.station.at).unit
    if step.through_wall or wall.is_crossing or abs(way.dot(wall.along)) < 0.999:
        return False
    plan = before.station.at.plus(way, along_m)
    low, high = Point3(*plan, site.main.drain_height_m), Point3(*plan, site.main.height_m)
    return foot_m > low.z and first_in_the_way(obstacles[wall.room], low, high) is None


def _inserted(steps: Sequence[Step], step: Step, along_m: float, foot_m: float) -> list[Step]:
    before = next(each for each in steps if each.station.key == step.before)
    key = f"{RISE}{1 + sum(each.station.key.startswith(RISE) for each in steps)}"
    plan = before.station.at.plus(step.station.at.minus(before.station.at).unit, along_m)
    station = Station(key, step.wall, step.wall.measure(plan)[0], plan)
    rise = Step(station, before.station.key, step.wall, False, before.along_m + along_m, foot_m)
    found = []
    for each in steps:
        found += [rise, replace(each, before=key)] if each is step else [each]
    return found


def _no_place(site: Site, low: Step) -> Finding:
    units, main = site.units, site.main
    measured, limit = units.length_with_unit(low.level_m), units.length_with_unit(main.lowest_m)
    message = f"the main comes down to {measured} at {low.station.key} or its end, below the lowest you allow"
    fix = "raise the main, or allow it lower; a rise finds no place before that, free to the floor for its drain"
    return Finding("LEVEL005", Severity.ERROR, main.where("lowest_m"), message, "main", measured, limit, fix)
