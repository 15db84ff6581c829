"""Levels the main could hang at: below the ceiling, over each doorway, over and below decks, just above headroom."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from drafter.layout.doorways import Doorway, decks, doorways, served_rooms
from drafter.layout.graph import Layout, RunKind
from drafter.layout.laying_out import lay_out, swan_neck_rise_m
from drafter.layout.obstacles import CLEAR_M, PIPE_M
from drafter.site.model import Site
from drafter.standards.limits import BELOW_CEILING_M, HEADROOM_M

MOST_LEVELS, FEWEST_LEVELS = 5, 2
"""Besides the one given."""

APART_M = 0.06
"""Levels nearer than this are one."""

MOST_ATTEMPTS = 8
"""The main falls along its way, and the way depends on the level: tried so often."""


@dataclass(frozen=True, slots=True)
class NoRoom:
    """A doorway that the main finds no room over: the level it would need, and the highest that the ceilings allow."""

    doorway: Doorway
    needed_m: float
    most_m: float


@dataclass(frozen=True, slots=True)
class Level:
    """A level, what it is in words, and the doorways it would pass over."""

    height_m: float
    whys: tuple[str, ...] = ()
    over: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        over = f"over the {self.over[0]}" if self.over else ""
        more = f" and {len(self.over) - 1} more" if len(self.over) > 1 else ""
        return ", ".join(each for each in (f"{over}{more}", *self.whys) if each)


def candidate_levels(site: Site, outside_m: float, given: Level | None = None) -> tuple[list[Level], list[NoRoom]]:
    """Return levels of the main, the highest first, and the doorways it finds no room over.

    Args:
        outside_m: diameter of the main.
        given: a level that is left out, and those near it.
    """
    most_m = highest_main_m(site)
    levels = [*([given] if given else []), Level(most_m, ("just below the ceiling",))]
    low_m = height_with_headroom_m(site, outside_m, most_m)
    if low_m <= most_m:
        levels.append(Level(low_m, ("headroom at its low end",)))
    no_room = []
    for doorway in doorways(site):
        height_m = height_over_m(site, doorway, most_m)
        if height_m > most_m + 1e-6:
            no_room.append(NoRoom(doorway, height_m, most_m))
        else:
            levels.append(Level(height_m, over=(f"{doorway.kind} ({doorway.wall} wall)",)))
    for deck in decks(site):
        height_m = height_over_m(site, deck, most_m)
        if height_m <= most_m + 1e-6:
            levels.append(Level(height_m, over=(f"{deck.kind} ({deck.wall} wall)",)))
        under_m = _rounded(site, deck.obstacles[0].bottom_m - CLEAR_M - PIPE_M, math.floor)
        if low_m <= under_m <= most_m:
            levels.append(Level(under_m, (f"just below the {deck.kind}",)))
    kept = _apart(levels, given)
    if len(kept) <= FEWEST_LEVELS:
        ends = sorted(level.height_m for level in levels)
        kept = _apart([*kept, Level(site.units.set_out_m((ends[0] + ends[-1]) / 2), ("between the others",))], given)
    chosen = [level for level in kept if level is not given][:MOST_LEVELS]
    return sorted(chosen, key=lambda level: -level.height_m), no_room


def lowest_main_m(layout: Layout) -> float:
    """Return the level of the main's centre where it is lowest."""
    main = [run for run in layout.runs if run.kind in (RunKind.MAIN, RunKind.SLEEVE)]
    return min(layout.nodes[node].at.z for run in main for node in (run.start, run.end))


def _apart(levels: list[Level], given: Level | None) -> list[Level]:
    """The levels with those near each other made one, at the higher of them; the one given stays as it is."""
    kept: list[Level] = []
    for level in levels:
        near = next((n for n, other in enumerate(kept) if abs(level.height_m - other.height_m) < APART_M), None)
        if near is None:
            kept.append(level)
        elif kept[near] is not given:
            other = kept[near]
            height_m = max(other.height_m, level.height_m)
            kept[near] = Level(height_m, (*other.whys, *level.whys), (*other.over, *level.over))
    return kept


def highest_main_m(site: Site) -> float:
    """Return the highest level at which brackets and swan necks keep below the ceilings they come under."""
    drop_m = swan_neck_rise_m(site.material)
    ceilings = [site.rooms[room].ceiling_m for room in served_rooms(site)]
    over_drops = [site.rooms[outlet.room].ceiling_m - drop_m for outlet in site.outlets]
    most_m = _rounded(site, min(ceilings) - BELOW_CEILING_M.value, math.floor)
    fits_m = _rounded(site, min(*ceilings, *over_drops) - BELOW_CEILING_M.value, math.floor)
    step_m = _step_m(site)
    while most_m - fits_m > 1.5 * step_m:
        middle_m = _rounded(site, (fits_m + most_m) / 2, math.floor)
        if _laid_out(site, middle_m) is None:
            most_m = middle_m
        else:
            fits_m = middle_m
    return most_m if _laid_out(site, most_m) else fits_m


def _laid_out(site: Site, height_m: float) -> Layout | None:
    return lay_out(at_height(site, height_m))[0]


def at_height(site: Site, height_m: float) -> Site:
    """Return a site with its main at a height."""
    return site.with_main(height_m=height_m, level_open=False)


def height_over_m(site: Site, doorway: Doorway, most_m: float) -> float:
    """Return the least height at which the main passes over a doorway, falling on its way there.

    Where its way does not lead there, the fall to its low end is counted, so that it could.

    Args:
        most_m: what the ceilings allow.
    """

    def too_low_m(layout: Layout) -> float:
        crossing = list(doorway.over_it(layout))
        nodes = [layout.nodes[node].at.z for run in crossing for node in (run.start, run.end)]
        return doorway.clear_m - min(nodes, default=lowest_main_m(layout))

    return _settled(site, doorway.clear_m, most_m, too_low_m)


def height_with_headroom_m(site: Site, outside_m: float, most_m: float) -> float:
    """Return the least height at which the underside of the main keeps headroom to its low end.

    Args:
        outside_m: diameter of the main.
        most_m: what the ceilings allow.
    """
    least_m = HEADROOM_M.value + outside_m / 2
    return _settled(site, least_m, most_m, lambda layout: least_m - lowest_main_m(layout))


def _settled(site: Site, least_m: float, most_m: float, too_low_m: Callable[[Layout], float]) -> float:
    """The least height, of those tried from a high one down, at which nothing is too low.

    Args:
        least_m: where nothing falls; the high one is as much above as the main may fall in once round the walls.
        too_low_m: by how much a layout is.
    """
    around_m = sum(wall.length_m for room in served_rooms(site) for wall in site.walls[room])
    needed_m = _rounded(site, least_m + site.main.fall * around_m, math.ceil)
    tried_m, fits_m, blocked_m = min(needed_m, most_m), math.inf, 0.0
    for _ in range(MOST_ATTEMPTS):
        layout = _laid_out(site, tried_m)
        if layout is not None:
            better_m = _rounded(site, tried_m + too_low_m(layout), math.ceil)
            if better_m > tried_m and fits_m == math.inf:
                needed_m = better_m
            elif better_m <= tried_m:
                needed_m = fits_m = min(fits_m, tried_m)
        elif fits_m < math.inf:
            blocked_m = better_m = tried_m
        else:
            break
        if better_m <= blocked_m:
            better_m = _rounded(site, (fits_m + blocked_m) / 2, math.ceil)
        if better_m in (tried_m, fits_m) or better_m > most_m:
            break
        tried_m = better_m
    return needed_m


def _step_m(site: Site) -> float:
    """The step of setting out: 10 mm, or half an inch."""
    return site.units.set_out_m(0.01)


def _rounded(site: Site, height_m: float, way: Callable[[float], int]) -> float:
    """A height on the grid of setting out, up or down."""
    step_m = _step_m(site)
    return round(way(round(height_m / step_m, 6)) * step_m, 6)
