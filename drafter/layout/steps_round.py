"""Where the main may step out from its wall: round a column, or in front of another service."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from drafter.geometry import Point3
from drafter.layout.obstacles import CLEAR_M, PIPE_M, Obstacle
from drafter.layout.wall_line import Stretch
from drafter.site.model import Site
from drafter.site.wall import Wall

STEP = "step "

BEYOND_M, BEYOND_STEP_M = 0.5, 0.05
"""How much farther from a thing than it must the main may turn out, to keep clear of other fittings."""

BESIDE_FITTING_M = 0.15
"""Least distance of a turn from another fitting, or from the next turn: both sockets and a grip (common practice)."""

LEAST_OUT_M = 0.2
"""A shorter step does not give way when the main grows (common practice, from memory)."""

MOST_ON_ARMS_M = 0.6
"""Farthest that bracket arms hold a pipe off the wall (common practice, from memory)."""

SET_OUT_M = 0.02
"""So much a turn may move where it is set out in whole steps of the tape."""

LEAST_GAP_M = 2 * (CLEAR_M + PIPE_M + SET_OUT_M) + BESIDE_FITTING_M
"""Between things nearer to each other than this the main does not come back to the wall."""

Mark = tuple[str, float]


@dataclass(frozen=True, slots=True)
class Turn:
    """A turn of a step: key of its station, the wall, and where it lies before that [m]."""

    key: str
    wall: Wall
    from_left_m: float
    off_wall_m: float


@dataclass(frozen=True, slots=True)
class StepRound:
    """A way round a thing on a wall, from left to right.

    Attributes:
        thing: what it leads round.
        turns: the first and the last on the line of the main; three where the thing stands in a corner of the room,
            else four.
    """

    thing: Obstacle
    wall: Wall
    turns: tuple[Turn, ...]

    @property
    def ends(self) -> tuple[Turn, Turn]:
        return self.turns[0], self.turns[-1]


@dataclass(frozen=True, slots=True)
class NoStep:
    """A thing that the main could step round but for a fitting too near to it.

    Attributes:
        key: of the fitting's station.
        at_m: where the fitting is along the wall.
        free_m: where it would leave room: no farther to the right where it stands left of the thing, else no
            farther to the left; None where it stands between the thing and a corner.
    """

    thing: Obstacle
    wall: Wall
    key: str
    at_m: float
    free_m: float | None

    def is_about(self, obstacle: Obstacle) -> bool:
        """Whether an obstacle is the thing, or one of those that are stepped round as one."""
        low_m, high_m, _ = _extent(self.wall, self.thing)
        left_m, right_m, _ = _extent(self.wall, obstacle) if obstacle.outline else (-math.inf, math.inf, 0.0)
        return low_m - 1e-6 <= left_m and right_m <= high_m + 1e-6


def steps_round(
    site: Site,
    lines: Sequence[Stretch],
    marks: dict[str, list[Mark]],
    obstacles: Iterable[Obstacle],
    off_wall_m: float,
) -> tuple[list[StepRound], list[NoStep]]:
    """Return the ways round the columns and services that stand on the line of the main in a room.

    Beside them, what leaves no room for another.

    Args:
        lines: of its walls, clockwise.
        marks: by wall, what the main must or may come by there.
        off_wall_m: of the main.
    """
    found, refused = list[StepRound](), list[NoStep]()
    taken = {line.wall.name: [*marks.get(line.wall.name, [])] for line in lines}
    stepped = [thing for thing in obstacles if thing.stepped and _is_at_level(site, thing)]
    room = lines[0].wall.room
    for number, line in enumerate(lines):
        for thing in _grouped(line.wall, [thing for thing in stepped if _on_line(thing, line, off_wall_m)]):
            step = _step(site, f"{STEP}{len(found) + 1} {room}", thing, lines, number, taken, off_wall_m)
            if isinstance(step, NoStep):
                refused.append(step)
            elif step is not None:
                found.append(step)
                for turn in step.ends:
                    taken[turn.wall.name].append((turn.key, turn.from_left_m))
    return found, refused


def _is_at_level(site: Site, thing: Obstacle) -> bool:
    """Whether a thing is as high as the main can be somewhere on its way."""
    main = site.main
    round_m = sum(wall.length_m for walls in site.walls.values() for wall in walls)
    low_m = max(main.lowest_m, main.height_m - main.fall * round_m)
    return thing.top_m > low_m - CLEAR_M - PIPE_M and thing.bottom_m < main.height_m + CLEAR_M + PIPE_M


def _on_line(thing: Obstacle, line: Stretch, off_wall_m: float) -> bool:
    """Whether a thing stands on the line of the main, at whatever height."""
    ends = (Point3(*line.wall.at(m, off_wall_m), 0.0) for m in (line.low_m, line.high_m))
    return line.low_m < line.high_m and replace(thing, bottom_m=-math.inf, top_m=math.inf).meets(*ends)


def _grouped(wall: Wall, things: Sequence[Obstacle]) -> list[Obstacle]:
    """The things on a wall from left to right; those between which the main cannot turn back to it are one."""
    found: list[Obstacle] = []
    for thing in sorted(things, key=lambda thing: _extent(wall, thing)):
        if found and _extent(wall, thing)[0] - _extent(wall, found[-1])[1] < LEAST_GAP_M:
            found[-1] = _together(wall, found[-1], thing)
        else:
            found.append(thing)
    return found


def _extent(wall: Wall, thing: Obstacle) -> tuple[float, float, float]:
    """From where to where along a wall a thing stands, and how far off it its front is [m]."""
    spots = [wall.measure(corner) for corner in thing.outline]
    along = [s for s, _ in spots]
    return min(along), max(along), max(off for _, off in spots)


def _together(wall: Wall, one: Obstacle, other: Obstacle) -> Obstacle:
    (low, high, front), (low_2, high_2, front_2) = _extent(wall, one), _extent(wall, other)
    first = one if front >= front_2 else other
    left_m, right_m, deep_m = min(low, low_2), max(high, high_2), max(front, front_2)
    names = " and ".join(each.on_site.partition(" (")[0] for each in (one, other))
    box = wall.footprint(left_m, 0.0, right_m - left_m, deep_m)
    bottom_m, top_m = min(one.bottom_m, other.bottom_m), max(one.top_m, other.top_m)
    on = wall.name if wall.name in (one.on, other.on) else first.on
    return replace(first, name=names, outline=box, bottom_m=bottom_m, top_m=top_m, on=on)


def _step(
    site: Site,
    key: str,
    thing: Obstacle,
    lines: Sequence[Stretch],
    number: int,
    taken: dict[str, list[Mark]],
    off_wall_m: float,
) -> StepRound | NoStep | None:
    line = lines[number]
    wall = line.wall
    low_m, high_m, face_m = _extent(wall, thing)
    beyond_m = off_wall_m if thing.stepped == "face" else PIPE_M
    out_m = site.units.set_out_m(max(face_m + beyond_m, off_wall_m + LEAST_OUT_M) + 0.004)
    if thing.stepped == "arms" and out_m > MOST_ON_ARMS_M:
        return None
    sides: list[tuple[Turn, ...]] = []
    for name, sign, edge_m in (("left", -1, low_m), ("right", 1, high_m)):
        at_m = _turn_m(site, line, edge_m, sign)
        beside = [mark for mark in taken[wall.name] if (mark[1] - edge_m) * sign > 0.0]
        if beside:
            key_m = min(beside, key=lambda mark: abs(mark[1] - edge_m))
            free_m = None if at_m is None else at_m + sign * BESIDE_FITTING_M
            if free_m is None or (key_m[1] - free_m) * sign < -1e-6:
                return NoStep(thing, wall, *key_m, free_m)
        if at_m is not None:
            on, out = (
                Turn(f"{key} {name}{word}", wall, at_m, off) for word, off in (("", off_wall_m), (" out", out_m))
            )
            sides.append((on, out))
            continue
        corner = _round_corner(f"{key} {name}", thing, lines, number, sign, out_m, taken, off_wall_m)
        if corner is None:
            return None
        sides.append((corner,))
    (left, right) = sides
    turns = (*left, *reversed(right))
    return StepRound(thing, wall, turns) if len(turns) > 2 else None


def _turn_m(site: Site, line: Stretch, edge_m: float, sign: int) -> float | None:
    """Where the main turns out beside a thing: the nearest place to its edge; None where a corner is too near."""
    for n in range(round(BEYOND_M / BEYOND_STEP_M) + 1):
        least_m = edge_m + sign * (CLEAR_M + PIPE_M + n * BEYOND_STEP_M)
        at_m = site.units.set_out_m(least_m + sign * 0.004)
        if line.low_m + BESIDE_FITTING_M <= at_m <= line.high_m - BESIDE_FITTING_M:
            return at_m
    return None


def _round_corner(
    key: str,
    thing: Obstacle,
    lines: Sequence[Stretch],
    number: int,
    sign: int,
    out_m: float,
    taken: dict[str, list[Mark]],
    off_wall_m: float,
) -> Turn | None:
    """The turn on the line of the next wall, where a thing stands in the corner before it."""
    line, after = lines[number], lines[(number + sign) % len(lines)]
    if thing.on != line.wall.name or abs(line.wall.along.dot(after.wall.along)) > 1e-6:
        return None
    at = line.wall.at(line.low_m if sign < 0 else line.high_m, out_m)
    from_left_m, off_m = after.wall.measure(at)
    low, high = after.low_m + BESIDE_FITTING_M, after.high_m - BESIDE_FITTING_M
    clear = all(abs(from_left_m - m) >= BESIDE_FITTING_M for _, m in taken[after.wall.name])
    fits = low <= from_left_m <= high and clear and abs(off_m - off_wall_m) < 1e-6
    return Turn(key, after.wall, from_left_m, off_wall_m) if fits else None


def pieces_of(step: StepRound) -> Iterator[tuple[Turn, Turn, int]]:
    """Yield each piece of a step by its two turns, with how many half bends it brings.

    An end on the line of the main is a bend that the line does not have; each turn between two pieces is one bend.
    """
    last = len(step.turns) - 2
    for number in range(last + 1):
        one, other = step.turns[number : number + 2]
        ends = sum((number == 0, number == last))
        yield one, other, 2 * ends + (2 - ends)
