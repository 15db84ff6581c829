"""A ring main: along all walls of the riser's room, falling both ways from the riser to its low points."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import accumulate, pairwise

from drafter.finding import Finding, Severity
from drafter.geometry import Point3
from drafter.layout.blocked import blocked, in_words
from drafter.layout.graph import IN_LINE
from drafter.layout.obstacles import CLEAR_M, PIPE_M, Obstacle
from drafter.layout.ring_levels import RING_LOW, STEP_M, Ring, Valley, valley, valleys
from drafter.layout.route import Route, Step, common_reasons, grown, without_passed
from drafter.layout.steiner import cheapest_tree
from drafter.layout.steps_round import STEP
from drafter.layout.valve_places import VALVE_FROM_M, VALVE_ROOM_M, VALVE_TO_M, best_reached
from drafter.layout.wall_line import Station
from drafter.layout.ways import LIKELY, MOST_ATTEMPTS, RISER, Obstacles, Ways, in_the_way, terminals
from drafter.site.model import Site
from drafter.site.wall import Wall

LEFT_VALVE, RIGHT_VALVE, HALF_WAY_VALVE = "valve in the left arm", "valve in the right arm", "valve half way round"
VALVE_WORDS = {
    LEFT_VALVE: "ring valve, arm to the left",
    RIGHT_VALVE: "ring valve, arm to the right",
    HALF_WAY_VALVE: "ring valve, half way round",
}
"""What a schedule calls the valves of a ring, the arms as one faces the wall of the riser."""


@dataclass(frozen=True)
class _Laid:
    """A ring with its low points and its valves, as steps from the riser along either arm.

    Attributes:
        valleys: once round; both arms end at the low point in the middle one.
        missing: words for the valves that found no room.
    """

    ring: Ring
    steps: tuple[Step, ...]
    closing: Step
    valleys: tuple[Valley, ...]
    missing: tuple[str, ...]


def route_ring(site: Site, ways: Ways, obstacles: Obstacles) -> tuple[Route | None, list[Finding]]:
    """Find the way of a ring main and of the branches that lead on from it into other rooms.

    Args:
        ways: all ways along the walls, nothing closed yet.
        obstacles: of each room.

    Returns:
        The route, or None with findings that name what blocks it.
    """
    whole = ways.around[ways.stations[RISER].wall.room]
    around = {frozenset(ends) for ends in pairwise([*whole, whole[0]])}
    if short := [
        (ways.closed[piece], site.main.height_m) for piece in sorted(around, key=sorted) if piece in ways.closed
    ]:
        return None, [_cannot_close(site, short)]
    for a, b in around:
        del ways.edges[a][b], ways.edges[b][a]
    others = [key for key in terminals(site) if key not in whole]
    levels = dict.fromkeys(ways.stations, site.main.height_m)
    edges = ways.edges
    for _ in range(MOST_ATTEMPTS):
        ways.close(levels, obstacles)
        edges = _with_ring(ways, around)
        tree = cheapest_tree(edges, [RISER, *others])
        if tree is None:
            break
        branches = set(tree.pieces - around)
        laid, finding = _lay(site, _measured(ways, whole, branches), obstacles, ways.along)
        if laid is None:
            return None, [finding] if finding else []
        route = Route(grown(ways, branches, laid.steps, site.main.fall), closing=laid.closing)
        levels |= {step.station.key: step.level_m for step in route.steps}
        if not any(ways.in_the_way(piece, levels, obstacles) for piece in branches):
            branches_said = [f"Of the branches that lead on from it, {tree.proof}."] if branches else []
            reasons = (*_reasons(site, laid), *branches_said, *common_reasons(ways, route))
            steps = without_passed(route)
            return Route(steps, reasons, laid.closing, ways.closed_by), [*_valve_findings(site, laid)]
    return None, [blocked(site, ways, edges)]


def _with_ring(ways: Ways, around: set[frozenset[str]]) -> dict[str, dict[str, float]]:
    """The open ways, with the ring's own pieces free of cost: branches may leave it anywhere."""
    edges = {a: dict(ends) for a, ends in ways.edges.items()}
    for a, b in around:
        edges.setdefault(a, {})[b] = 0.0
        edges.setdefault(b, {})[a] = 0.0
    return edges


def _measured(ways: Ways, whole: list[str], branches: set[frozenset[str]]) -> Ring:
    """The ring from the riser clockwise, without the likely places of sleeves that no branch uses."""
    used = {key for piece in branches for key in piece}
    first = whole.index(RISER)
    turned = [*whole[first:], *whole[:first]]
    kept = [key for key in turned if not key.startswith(LIKELY) or key in used or _turns_at(ways, turned, key)]
    stations = [ways.stations[key] for key in kept]
    lengths = [b.at.minus(a.at).length for a, b in pairwise([*stations, stations[0]])]
    return Ring(tuple(stations), tuple(accumulate(lengths[:-1], initial=0.0)), sum(lengths))


def _turns_at(ways: Ways, around: list[str], key: str) -> bool:
    """Whether the ring turns at a station, to step round something."""
    number = around.index(key)
    before, at, after = (ways.stations[around[n % len(around)]].at for n in (number - 1, number, number + 1))
    return key.startswith(STEP) and at.minus(before).unit.dot(after.minus(at).unit) < IN_LINE


def _lay(
    site: Site, ring: Ring, obstacles: Obstacles, along: Mapping[frozenset[str], Wall]
) -> tuple[_Laid | None, Finding | None]:
    """Find room for the low points and the valves, and lay both arms; or say what closes the ring."""
    found = valleys(site, ring, obstacles)
    if found is None:
        half = ring.place(site, RING_LOW, ring.length_m / 2, -STEP_M)
        if half is None:
            return None, _no_low_point(site)
        whole = (valley(site, 0.0, ring.length_m, half),)
        blocking = _blocking(_arms(site, ring.with_station(*half), whole, along), obstacles)
        return None, _cannot_close(site, blocking) if blocking else _no_low_point(site)
    for each in found:
        ring = ring.with_station(each.low, each.low_m)
    missing = []
    for key, sign in ((RIGHT_VALVE, 1), (LEFT_VALVE, -1)):
        valve = _valve(site, ring, key, 0.0, sign, obstacles)
        if valve is None:
            missing.append(VALVE_WORDS[key])
        else:
            ring = ring.with_station(*valve)
    ring = _half_way(site, ring, found[len(found) // 2].low_m, obstacles)
    steps = _arms(site, ring, found, along)
    blocking = _blocking(steps, obstacles)
    if blocking:
        return None, _cannot_close(site, blocking)
    return _Laid(ring, steps[:-1], steps[-1], found, tuple(missing)), None


def _valve(
    site: Site, ring: Ring, key: str, from_m: float, sign: int, obstacles: Obstacles
) -> tuple[Station, float] | None:
    """The place nearest to another of the ring where a valve finds room between fittings, reached from a ladder."""
    spots = []
    for n in range(round((VALVE_TO_M - VALVE_FROM_M) / STEP_M) + 1):
        away_m = VALVE_FROM_M + n * STEP_M
        found = ring.place(site, key, (from_m + sign * away_m) % ring.length_m, VALVE_ROOM_M)
        if found is not None:
            spots.append(found)
    return best_reached(site, spots, obstacles)


def _half_way(site: Site, ring: Ring, low_m: float, obstacles: Obstacles) -> Ring:
    """The ring with a valve beside its middle low point, where one finds room: with it either half can be shut."""
    for sign in (1, -1):
        valve = _valve(site, ring, HALF_WAY_VALVE, low_m, sign, obstacles)
        if valve is not None:
            return ring.with_station(*valve)
    return ring


def _arms(site: Site, ring: Ring, lows: tuple[Valley, ...], along: Mapping[frozenset[str], Wall]) -> tuple[Step, ...]:
    """The steps of the right arm, then of the left one to where it closes the ring, in the middle valley."""
    top_m, low_m = site.main.height_m, lows[len(lows) // 2].low_m
    right = [*zip(ring.stations, ring.round_m, strict=True)]
    left = [(right[0][0], ring.length_m), *reversed(right[1:])]
    steps = [Step(ring.stations[0], "", ring.stations[0].wall, False, 0.0, top_m)]
    for arm in (right, left):
        for (before, _), (here, round_m) in pairwise(arm):
            if round_m <= low_m + 1e-9 if arm is right else round_m >= low_m - 1e-9:
                wall = along.get(frozenset((before.key, here.key)), here.wall if arm is right else before.wall)
                level_m = top_m - next(low for low in lows if round_m <= low.end_m + 1e-9).below_top_m(round_m)
                along_m = round_m if arm is right else ring.length_m - round_m
                steps.append(Step(here, before.key, wall, False, along_m, level_m))
    return tuple(steps)


def _blocking(steps: tuple[Step, ...], obstacles: Obstacles) -> list[tuple[Obstacle, float]]:
    """What is in the way of the ring's pieces, each with the lower level of the piece that meets it."""
    at = {step.station.key: Point3(*step.station.at, step.level_m) for step in steps}
    found = []
    for step in steps[1:]:
        start, end = at[step.before], at[step.station.key]
        found += [(thing, min(start.z, end.z)) for thing in in_the_way(step.wall, start, end, obstacles)]
    return found


def _cannot_close(site: Site, blocking: list[tuple[Obstacle, float]]) -> Finding:
    units, main = site.units, site.main
    names = ", ".join(dict.fromkeys(in_words(site, obstacle) for obstacle, _ in blocking))
    message = f"at {units.length_with_unit(main.height_m)} the ring cannot be closed: {names}"
    needed_m = max(main.height_m + thing.top_m + CLEAR_M + PIPE_M - level_m for thing, level_m in blocking)
    most_m = min(wall.ceiling_m for wall in site.walls[site.compressor.room]) - CLEAR_M
    if needed_m <= most_m:
        fix = f"raise the main to {units.length_with_unit(_rounded_up(site, needed_m))}, where the ring passes above"
    else:
        fix = f"no height below the ceiling passes it ({units.length_with_unit(needed_m)} would be needed)"
        if math.isinf(needed_m):
            fix = "the ceiling is too low for the ring"
    fix += "; or move what blocks it, or write 'arrangement: dead end'"
    return Finding("ROUTE007", Severity.ERROR, main.where("height_m"), message, "main", fix=fix)


def _rounded_up(site: Site, length_m: float) -> float:
    rounded = site.units.set_out_m(length_m)
    return rounded if rounded >= length_m - 1e-6 else site.units.set_out_m(length_m + 0.01)


def _no_low_point(site: Site) -> Finding:
    message = "half way round the ring there is no free place on the wall for the drip leg at its low point"
    fix = "move what stands there, so that the wall is free to the floor and 0.3 m of the main is free of fittings"
    return Finding("DRAIN001", Severity.ERROR, site.main.where("arrangement"), message, "main", fix=fix)


def _valve_findings(site: Site, laid: _Laid) -> Iterator[Finding]:
    for words in laid.missing:
        message = f"the {words} of the riser finds no room beside it and is left out"
        room = site.units.length_with_unit(2 * VALVE_ROOM_M)
        fix = f"move the riser or the outlets so that {room} of the main beside the riser is free"
        place = site.main.where("arrangement")
        yield Finding("RING001", Severity.WARNING, place, message, "main", fix=fix, source="common practice")


def _reasons(site: Site, laid: _Laid) -> tuple[str, ...]:
    """Say in words why it is a ring, and where its high and its low points are."""
    units, wall = site.units, laid.ring.stations[0].wall
    halves = any(station.key == HALF_WAY_VALVE for station in laid.ring.stations)
    work = (
        "With a second one shut too, that half way round or that of the arm, the part between them can be bled at its "
        "drains for work, while the other half keeps its air."
        if halves
        else "No part of it is without pressure then: before work on it shut V-01 and bleed it."
    )
    closed = (
        "" if laid.missing else f" With one of its valves shut every outlet still gets air, from the other side. {work}"
    )
    ring = f"The main is a ring along all walls of {wall.room}, {units.long_length(laid.ring.length_m)} round: "
    return (f"{ring}its outlets get their air from both sides.{closed}", _level_reason(site, laid.valleys))


def _level_reason(site: Site, lows: tuple[Valley, ...]) -> str:
    units, high_m = site.units, site.main.height_m
    where = [
        f"on the {low.low.wall.name} wall, {units.length_with_unit(low.low.from_left_m)} from the left" for low in lows
    ]
    if not site.main.fall:
        return f"The ring is level; it drains {where[0]}."
    if len(lows) > 1:
        levels = [f"{place} ({units.level(high_m - low.deep_m)})" for place, low in zip(where, lows, strict=True)]
        why = "Half way round no low point finds room, so"
        if site.main.lowest_m:
            why = f"So as not to fall below {units.length_with_unit(site.main.lowest_m)}"
        return (
            f"{why} the ring falls and rises {len(lows)} times, {units.slope(site.main.fall)} or more, between "
            f"{units.level(high_m)} and its low points, where it drains: {'; '.join(levels)}."
        )
    right, left = (units.slope(fall) for fall in lows[0].falls)
    falls = f"both arms fall {right}" if right == left else f"the right arm falls {right}, the left arm {left}"
    low_m = high_m - lows[0].deep_m
    return (
        f"The ring is highest where the riser feeds it ({units.level(high_m)}) and lowest {where[0]} "
        f"({units.level(low_m)}), where it drains; {falls}."
    )
