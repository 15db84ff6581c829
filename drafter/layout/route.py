"""The way of the main as stations in the order of flow: a tree, or a ring with what hangs on it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

from drafter.finding import Place
from drafter.layout.graph import IN_LINE
from drafter.layout.wall_line import Station
from drafter.layout.ways import LIKELY, Ways, station_in_words
from drafter.site.wall import Wall


@dataclass(frozen=True, slots=True)
class Step:
    """One station of the main in the order of flow.

    Attributes:
        before: key of the station the air comes from; empty at the riser.
        wall: the wall that the pipe from there runs along, or passes.
        through_wall: whether it passes that wall.
        along_m: length of the main from the riser to here, in plan.
        level_m: of the main here, above floor.
        rise_m: how far it rises here, straight up from that level.
        over_m: the height at which it crosses a room on the way here; 0 where it does not rise for that.
    """

    station: Station
    before: str
    wall: Wall
    through_wall: bool
    along_m: float
    level_m: float
    rise_m: float = 0.0
    over_m: float = 0.0

    @property
    def out_m(self) -> float:
        """Level at which the main goes on from here."""
        return self.level_m + self.rise_m


@dataclass(frozen=True)
class Route:
    """The main as stations, each after the one that feeds it.

    Attributes:
        closing: of a ring, the last piece: it ends at a station that the other arm has reached already.
        closed: where in the site file the things stand that were in its way at its level.
    """

    steps: tuple[Step, ...]
    reasons: tuple[str, ...] = ()
    closing: Step | None = None
    closed: tuple[Place, ...] = ()

    @cached_property
    def by_key(self) -> dict[str, Step]:
        return {step.station.key: step for step in self.steps}

    @cached_property
    def _following(self) -> dict[str, tuple[Step, ...]]:
        found: dict[str, tuple[Step, ...]] = {}
        for step in (*self.steps, *([self.closing] if self.closing else [])):
            found[step.before] = (*found.get(step.before, ()), step)
        return found

    def after(self, key: str) -> tuple[Step, ...]:
        """The stations that a station feeds directly."""
        return self._following.get(key, ())


def grown(ways: Ways, pieces: Iterable[frozenset[str]], first: Iterable[Step], fall: float) -> tuple[Step, ...]:
    """Return the first steps and, in the order of flow, those that the pieces lead on to, falling on the way."""
    beside: dict[str, list[str]] = {}
    for piece in pieces:
        a, b = piece
        beside.setdefault(a, []).append(b)
        beside.setdefault(b, []).append(a)
    steps = list(first)
    done = {step.station.key for step in steps}
    for step in steps:
        here = step.station
        ahead = [key for key in beside.get(here.key, []) if key not in done]
        for key in sorted(ahead, key=lambda k: (ways.stations[k].wall.room, k)):
            there, piece = ways.stations[key], frozenset((here.key, key))
            through = piece in ways.through
            wall = there.wall if through else ways.along[piece]
            length_m = there.at.minus(here.at).length
            along_m, level_m, over_m = (
                step.along_m + length_m,
                step.level_m - fall * length_m,
                ways.over.get(piece, 0.0),
            )
            steps.append(Step(there, here.key, wall, through, along_m, level_m, over_m=over_m))
            done.add(key)
    return tuple(steps)


def without_passed(route: Route) -> tuple[Step, ...]:
    """The steps without the stations that the main only runs past: places to come by, likely places to turn off."""
    before = {step.station.key: step.before for step in route.steps}
    passed = set()
    for step in route.steps:
        key, after = step.station.key, route.after(step.station.key)
        if key.startswith(LIKELY) and len(after) == 1 and _goes_straight_on(route, step, after[0]):
            passed.add(key)
            before[after[0].station.key] = before[key]
    return tuple(
        replace(step, before=before[step.station.key]) for step in route.steps if step.station.key not in passed
    )


def _goes_straight_on(route: Route, step: Step, after: Step) -> bool:
    if step.through_wall or after.through_wall:
        return False
    at = step.station.at
    way, on = at.minus(route.by_key[step.before].station.at), after.station.at.minus(at)
    return way.unit.dot(on.unit) > IN_LINE


def common_reasons(ways: Ways, route: Route) -> tuple[str, ...]:
    """Say in words what was closed to the main, and how often it passes a wall."""
    said = []
    if ways.closed:
        names = sorted({obstacle.on_site for obstacle in ways.closed.values()} - set(ways.around_what.values()))
        if names:
            said.append(f"Closed to it at its height: {', '.join(names)}.")
        no_step = [(thing.on_site, ways.no_step_round(thing)) for thing in ways.closed.values()]
        for name, key in sorted({(name, station_in_words(refused.key)) for name, refused in no_step if refused}):
            said.append(f"It cannot step round the {name}: {key} is too near to it.")
    used = [step.station.key for step in route.steps]
    around = dict.fromkeys(ways.around_what[key] for key in used if key in ways.around_what)
    if around:
        said.append(f"It steps out from the wall round the {', the '.join(around)}.")
    across = [step.wall for step in route.steps if step.wall.is_crossing]
    if across:
        lines = ", ".join(f"{line.name} of {line.room}" for line in across)
        said.append(f"It crosses below the ceiling on {lines}.")
    sleeves = sum(step.through_wall for step in route.steps)
    if sleeves:
        passed = "a sleeve in the wall they share" if sleeves == 1 else f"{sleeves} sleeves in the walls they share"
        said.append(f"It passes from room to room through {passed}.")
    return tuple(said)
