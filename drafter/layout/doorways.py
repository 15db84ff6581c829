"""The doorways and decks of the rooms that the main serves, and what of the main crosses them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from drafter.finding import Place
from drafter.layout.graph import Layout, Run, RunKind
from drafter.layout.obstacles import CLEAR_M, PIPE_M, Obstacle, obstacles_in
from drafter.site.model import Site

DOORS = ("door", "overhead door", "opening")


@dataclass(frozen=True)
class Doorway:
    """A doorway with what belongs to it, such as the tracks of an overhead door; or a deck, to be passed like one.

    Attributes:
        room: it opens into.
        obstacles: the doorway first.
    """

    kind: str
    room: str
    wall: str
    place: Place
    obstacles: tuple[Obstacle, ...]

    @property
    def name(self) -> str:
        return f"{self.kind} ({self.wall} wall, line {self.place.line})"

    @cached_property
    def clear_m(self) -> float:
        """The least level of a pipe's centre that passes over it."""
        return max(obstacle.top_m for obstacle in self.obstacles) + CLEAR_M + PIPE_M

    def over_it(self, layout: Layout) -> Iterator[Run]:
        """Yield the runs of the main that cross it in plan."""
        endless = [replace(obstacle, bottom_m=-math.inf, top_m=math.inf) for obstacle in self.obstacles]
        for run in layout.runs:
            if run.kind is RunKind.MAIN and run.room == self.room:
                start, end = layout.nodes[run.start].at, layout.nodes[run.end].at
                if any(obstacle.meets(start, end) for obstacle in endless):
                    yield run


def served_rooms(site: Site) -> tuple[str, ...]:
    """Return the rooms that hold the compressor, an outlet or a part of the path, each once."""
    rooms = [site.compressor.room, *(outlet.room for outlet in site.outlets), *(step.room for step in site.main.path)]
    return tuple(dict.fromkeys(rooms))


def doorways(site: Site) -> tuple[Doorway, ...]:
    """Return the doorways of the rooms served, in the order of the site file."""
    found = []
    for room in served_rooms(site):
        obstacles = obstacles_in(site, room)
        for opening in site.rooms[room].openings:
            if opening.kind in DOORS:
                own = tuple(obstacle for obstacle in obstacles if obstacle.place == opening.place)
                found.append(Doorway(opening.kind, room, own[0].on, opening.place, own))
    return tuple(found)


def decks(site: Site) -> tuple[Doorway, ...]:
    """Return the decks of the rooms served, in the order of the site file."""
    found = []
    for room in served_rooms(site):
        for deck in site.rooms[room].decks:
            own = tuple(obstacle for obstacle in obstacles_in(site, room) if obstacle.place == deck.place)
            found.append(Doorway(deck.name, room, own[0].on, deck.place, own))
    return tuple(found)
