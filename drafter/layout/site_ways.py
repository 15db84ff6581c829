"""Shortest ways from the couplings of a site to the spots of its places, each found once."""

from __future__ import annotations

import math
from itertools import accumulate

from drafter.geometry import Point
from drafter.layout.hose_ways import Piece, Ways, ways_from
from drafter.layout.open_floor import OpenFloor
from drafter.layout.places import spots_of
from drafter.layout.sight import Outline
from drafter.site.model import Site


class SiteWays:
    """The ways of one site; all that is looked up again is kept."""

    def __init__(self, site: Site, floor: OpenFloor) -> None:
        self.floor = floor
        self._spots = [spots_of(site, floor, place) for place in site.work_places]
        self._first = [0, *accumulate(map(len, self._spots))]
        self._pieces: dict[Outline, Piece] = {}
        self._ways: dict[tuple[str, Point, frozenset[int], float], tuple[Ways, float] | None] = {}

    def spots(self, number: int) -> tuple[tuple[Point, ...], slice]:
        """Return the spots of a place, and where they stand among those of all places."""
        return self._spots[number], slice(self._first[number], self._first[number + 1])

    def of(self, room: str, start: Point, left_out: frozenset[int], within_m: float) -> tuple[Ways, float] | None:
        """Return the ways from a coupling in a room with some things away, and how far off the open floor it is [m].

        None where nothing of the room's floor is open. Ways are followed as far as asked for, or wherever they lead
        where there are places to get to.
        """
        within_m = math.inf if self._first[-1] else within_m
        key = (room, start, left_out, within_m)
        if key not in self._ways:
            found = self.floor.around(room, start, left_out)
            self._ways[key] = (self._from(found[0], found[1], within_m), found[2]) if found else None
        return self._ways[key]

    def _from(self, outline: Outline, start: Point, within_m: float) -> Ways:
        spots = [spot for each in self._spots for spot in each]
        if outline not in self._pieces:
            self._pieces[outline] = Piece(outline, spots)
        return ways_from(self._pieces[outline], start, within_m)
