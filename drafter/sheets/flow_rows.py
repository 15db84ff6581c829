"""The chains of a flow diagram set in rows that cross nothing: each branch below where it leaves, right of it.

A line too long for its width goes back to the left below what branches from it; a ring goes there and back again.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from drafter.layout.graph import Run, RunKind
from drafter.lettering import text_width_mm
from drafter.sheets.flow_chains import Chain, Station
from drafter.sheets.flow_signs import TEXT_MM, Signs

GAP_MM = 2.0
STUB_MM = 4.0
"""Shortest line between two symbols."""

RING_STEP_MM, LANE_MM = 6.0, 5.0
"""How much wider rows of a ring are tried; room for an upright line at the end of a row."""

PRESSURES_APART_MM = 18.0
"""Beside a pressure that stands over a stretch of line, for those over the take-offs next to it."""

START_MM = 4.0
CLOSING_MM = 16.0
"""For what is written at the line that closes a ring."""

NARROWEST_MM = 37.0
"""Rows of a ring are not tried narrower."""

MOST_ROWS = 999
"""Stands for more rows than there can be: no room at all."""

WRAP, BRANCH, TURN, LETTER = "wrap", "branch", "turn", "letter"
"""How a row goes on from another: back to the left, down from a tee, down where a ring turns, by a letter."""


@dataclass(frozen=True, slots=True)
class Segment:
    """A stretch of line before a station: what is written over and under it.

    Attributes:
        arrow: +1 where the air flows to the station, -1 from it, 0 where no arrow is drawn.
    """

    flow: str = ""
    sizes: tuple[str, ...] = ()
    pressure: str = ""
    arrow: int = 0

    @property
    def width_mm(self) -> float:
        """Of the line that its words need."""
        widths = [text_width_mm(word, TEXT_MM) for word in (self.flow, self.pressure, *self.sizes) if word]
        beside = PRESSURES_APART_MM if self.pressure else 2.5 if widths else 0.0
        return max(widths, default=0.0) + beside


@dataclass(frozen=True, slots=True)
class Placed:
    station: Station
    x: float
    segment: Segment


@dataclass(frozen=True, slots=True)
class Row:
    """Stations on one level line.

    Attributes:
        way: +1 where the line runs to the right, -1 to the left.
        start, end: of the line itself.
        link: how it begins; empty at the compressor.
        source: index of the row it goes on from.
        source_x: where it leaves that row; lane: where an upright line beside its end stands.
        closes: where a ring's last row goes up again to where the ring began; None elsewhere.
        ring_row: index of the row the ring began in.
        last: what is written at the line that closes the ring.
    """

    places: tuple[Placed, ...]
    way: int
    start: float
    end: float
    above: float
    below: float
    link: str = ""
    source: int = -1
    source_x: float = 0.0
    lane: float = 0.0
    closes: float | None = None
    ring_row: int = -1
    last: Segment = Segment()

    @property
    def height(self) -> float:
        return self.above + self.below


@dataclass(frozen=True, slots=True)
class _Begin:
    """How a row begins: where, joined how, to which row, from where there."""

    x: float
    link: str = ""
    source: int = -1
    source_x: float = 0.0


class Rows:
    """Sets a chain in rows between two sides [mm]."""

    def __init__(self, signs: Signs, chain: Chain, left: float, right: float) -> None:
        self.signs, self.rows, self.left, self.right = signs, list[Row](), left, right
        self._waiting: list[tuple[Chain, int, float]] = []
        self._enters = next(
            (station.run.id for station in (*chain.stations, *chain.ring) if station.run and _of_main(station.run)), ""
        )
        self._chain(chain, left, right, _Begin(left))
        while self._waiting:
            branch, source, x = self._waiting.pop(0)
            self._chain(branch, left, right, _Begin(left, LETTER, source, x))

    def _chain(self, chain: Chain, left: float, right: float, begin: _Begin) -> None:
        """Add the rows of a chain, and of all that branches from it."""
        waiting, size = list(chain.stations), ""
        while waiting:
            placed, size = self._placed(waiting, left, right - LANE_MM - left, size)
            waiting = waiting[len(placed) :]
            if chain.ring and not waiting:
                if len(placed) > 1 and self._shares(chain, placed[-1].x, right, 2) is None:
                    ring = placed.pop().station
                    index = self._add(placed, begin, right)
                    begin = _Begin(left, WRAP, index, placed[-1].x)
                    placed, _ = self._placed([ring], left, right - left, "")
                self._ring(chain, placed, begin, right)
                return
            index = self._add(placed, begin, right)
            begin = _Begin(left, WRAP, index, placed[-1].x)

    def _placed(
        self, stations: Sequence[Station], start: float, length: float, size: str, way: int = 1
    ) -> tuple[list[Placed], str]:
        """Place as many stations as find room from a start on, at least one; return the last size too."""
        placed, at, near, taken = list[Placed](), 0.0, START_MM, 0.0
        for station in stations:
            room = self.signs.room(station)
            before, after = (room.left, room.right) if way > 0 else (room.right, room.left)
            segment = self._segment(station.run, size, not placed, station.back)
            apart = near + room.near + (segment.width_mm + GAP_MM if segment.width_mm else STUB_MM)
            here = max(at + apart, taken + before + GAP_MM if placed else before)
            if placed and here + after > length:
                break
            size = segment.sizes[0] if segment.sizes else size
            placed.append(Placed(station, start + way * here, segment))
            at, near, taken = here, room.near, max(taken, here + after)
        return placed, size

    def _segment(self, run: Run | None, size: str, fresh: bool, back: bool) -> Segment:
        """What is written at the run before a station: the flow in the main, the size where it changes."""
        if run is None or run.kind in (RunKind.CONNECTION, RunKind.FLEXIBLE, RunKind.TREATMENT):
            return Segment()
        scene, network = self.signs.scene, self.signs.scene.design.network
        flow, name, enters = network.pipe(run.id).free_air_m3_s, scene.size_of(run), run.id == self._enters
        sizes = (name, f"bore {scene.units.bore(network.sizes[run.id].bore_m)}") if fresh or name != size else ()
        words = scene.units.free_air(flow) if flow > 0.0 and _of_main(run) else ""
        pressure = scene.units.pressure(network.supply.supply_gauge_pa) if enters else ""
        arrow = (-1 if back else 1) if words and (fresh or enters) else 0
        return Segment(words, sizes, pressure, arrow)

    def _add(
        self, placed: Sequence[Placed], begin: _Begin, right: float, way: int = 1, end: float | None = None,
        free: float = 0.0,
    ) -> int:  # fmt: skip
        """Add a row, and below it the rows of all that branches from it, the rightmost first; return its index.

        A branch that would take more rows here than from side to side waits, and goes on at a letter.

        Args:
            right: where the upright line beside its end stands.
            free: how far to the right branches may go, where that is farther.
        """
        rooms = [self.signs.room(each.station) for each in placed]
        above, below = max(room.above for room in rooms) + 2.0, max(room.below for room in rooms)
        start, index = begin.x if begin.link else placed[0].x, len(self.rows)
        last = placed[-1].x if end is None else end
        self.rows.append(
            Row(tuple(placed), way, start, last, above, below, begin.link, begin.source, begin.source_x, right)
        )
        for each in sorted(placed, key=lambda each: -each.x):
            for branch in each.station.branches:
                limit = max(free, right - LANE_MM)
                if self._count(branch, each.x, limit) > self._count(branch, self.left, self.right):
                    self._waiting.append((branch, index, each.x))
                else:
                    self._chain(branch, each.x, limit, _Begin(each.x, BRANCH, index, each.x))
        return index

    def _count(self, chain: Chain, left: float, right: float) -> int:
        """How many rows a chain takes between two sides, without its branches."""
        rest, count = list(chain.stations), 0
        while rest:
            placed, _ = self._placed(rest, left, right - LANE_MM - left, "")
            last = placed[-1]
            if last.x + self.signs.room(last.station).right > right:
                return MOST_ROWS
            rest, count = rest[len(placed) :], count + 1
        return count

    def _shares(self, chain: Chain, x: float, right: float, count: int) -> list[list[Station]] | None:
        """Part the stations of a ring over rows as narrow as hold them; None where there is no room for that."""
        width, most = NARROWEST_MM, right - x - 2 * LANE_MM - CLOSING_MM
        while width < most:
            shares, rest = list[list[Station]](), list(chain.ring)
            while rest:
                way = -1 if len(shares) % 2 else 1
                taken = len(self._placed(rest, 0.0, width, "", way)[0])
                shares.append(rest[:taken])
                rest = rest[taken:]
            if len(shares) <= count and max(self._width(share) for share in shares) <= most:
                return _parted(shares, count)
            width += RING_STEP_MM
        return None

    def _width(self, share: Sequence[Station]) -> float:
        placed, _ = self._placed(share, 0.0, math.inf, "")
        return placed[-1].x + self.signs.room(placed[-1].station).right

    def _ring(self, chain: Chain, placed: list[Placed], begin: _Begin, right: float) -> None:
        """Set a ring in an even number of rows, there and back, beside or below what stands before it."""
        x, count = placed[-1].x, 2
        while (shares := self._shares(chain, x, right, count)) is None:
            count += 2
        closing = replace(self._segment(chain.closing, "", True, True), sizes=())
        back, _ = self._placed(shares[-1], 0.0, math.inf, "", -1)
        length = self.signs.room(back[-1].station).near + closing.width_mm + GAP_MM + START_MM - back[-1].x
        side = x + max(length, LANE_MM + max(self._width(share) for share in shares) + LANE_MM)
        first = index = len(self.rows)
        for number, share in enumerate(shares):
            way = -1 if number % 2 else 1
            lane = x + LANE_MM if way > 0 else side
            row, _ = self._placed(share, lane, math.inf, "", way)
            if number == 0:
                index = self._add([*placed, *row], begin, side, end=side)
            else:
                last = number == count - 1
                end = side if way > 0 else x if last else x + LANE_MM
                index = self._add(row, _Begin(lane, TURN, index, lane), side, way, end, right if last else 0.0)
        self.rows[index] = replace(self.rows[index], end=x, closes=x, ring_row=first, last=closing)


def _parted(shares: list[list[Station]], count: int) -> list[list[Station]]:
    """Halve the longest share until there are so many."""
    while len(shares) < count:
        at = max(range(len(shares)), key=lambda number: len(shares[number]))
        half = (len(shares[at]) + 1) // 2
        shares[at : at + 1] = [shares[at][:half], shares[at][half:]]
    return shares


def _of_main(run: Run) -> bool:
    return run.kind in (RunKind.MAIN, RunKind.RISE, RunKind.SLEEVE)
