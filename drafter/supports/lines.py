"""Straight lines of pipe on one wall, from end to end through all their fittings, and where brackets may hold them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from drafter.geometry import Point3
from drafter.layout.graph import Node, NodeKind, Run, RunKind
from drafter.layout.obstacles import CLEAR_M
from drafter.site.decks import decks_passed
from drafter.site.wall import Wall
from drafter.sizing.network import Network
from drafter.sizing.unions import union_reason
from drafter.standards.components import component
from drafter.standards.materials import TubeSize
from drafter.supports.couplings import couplings_m
from drafter.supports.framing import Front, fronts, openings_on
from drafter.supports.spacing import Stretch, Window

CLEAR_OF_FITTING_M = 0.06
"""From a fitting's face to a bracket, room for a spanner (common practice)."""

NEAR_FITTING_M = 0.30
"""A bracket stands at most so far from a bend, tee or valve: 12 in, UFGS 15561A."""

BEYOND_M = 0.06
"""So much farther than usual from a fitting a bracket may be for a stud's sake (common practice)."""

FROM_END_M = 0.12
"""From an outside corner to a bracket (common practice)."""

MOST_OFF_FRONT_M = 0.4
"""A pipe farther than this before a column is not fixed to it (common practice)."""

FOOT_M = 0.05
"""Half the foot of a bracket, and room to drill (common practice)."""

FROM_EDGE_M = 0.03
"""From the edge of a column's face to a bracket on it (common practice)."""

BELOW_MAIN_M = 0.15
"""From the main down to a bracket on a drop behind it, in a driver's reach (common practice)."""

REACH_M = 0.05
"""How much later than usual a bracket may come where the usual place cannot be reached (common practice)."""

SHORTEST_M = 0.30
"""Shorter pieces hang on their neighbours' brackets (common practice)."""

AT_NODE_M = 0.001
"""Within so much of the middle of a fitting is on it."""

FIXED_KINDS = (
    RunKind.RISER, RunKind.TREATMENT, RunKind.MAIN, RunKind.RISE, RunKind.DROP, RunKind.RISING, RunKind.DRIP_LEG,
)  # fmt: skip

Range = tuple[float, float]


@dataclass(frozen=True)
class PipeLine:
    """Runs of pipe in one straight line on a wall.

    Stations along it are distances from the wall's left-hand corner, or heights where it is upright [m].

    Attributes:
        runs: in rising station.
        keep_out: where no bracket may stand, ends excluded.
        windows: where at least one must, one on either side of each fitting.
        face_m: how far off the wall what it is fixed to is, such as the front of a column.
        hangs: from the ceiling, as below a crossing or before a service too wide for brackets beside it.
    """

    wall: Wall
    upright: bool
    runs: tuple[Run, ...]
    stretches: tuple[Stretch, ...]
    keep_out: tuple[Range, ...]
    windows: tuple[Window, ...]
    ends: tuple[Point3, ...]
    face_m: float = 0.0
    hangs: bool = False

    @property
    def low_m(self) -> float:
        return self.stretches[0].low_m

    @property
    def high_m(self) -> float:
        return self.stretches[-1].high_m

    @property
    def is_main(self) -> bool:
        return any(run.kind is RunKind.MAIN for run in self.runs)

    def is_free(self, station_m: float) -> bool:
        """Whether a bracket may stand at a station."""
        return not any(low + 1e-6 < station_m < high - 1e-6 for low, high in self.keep_out)

    def part_at(self, station_m: float) -> int:
        """Which of its runs a station is on."""
        return next(i for i, part in enumerate(self.stretches) if station_m <= part.high_m + 1e-9)

    def at(self, station_m: float) -> Point3:
        """The pipe's centre at a station."""
        index = self.part_at(station_m)
        part, low, high = self.stretches[index], self.ends[index], self.ends[index + 1]
        return low.towards(high, high.minus(low).length * (station_m - part.low_m) / (part.high_m - part.low_m))


def near_fitting_words(network: Network) -> str:
    """Say how near brackets stand to fittings and valves."""
    near = "12 in" if network.layout.site.imperial else "300 mm"
    return f"within {near} of the face of each bend, tee and valve, on either side"


def least_span_m(network: Network, runs: Iterable[Run]) -> float:
    """Largest distance between brackets along pipe made of some runs: the least of theirs [m]."""
    return min(
        size.vertical_span_m if network.layout.is_upright(run) else size.bracket_span_m
        for run, size in ((run, network.sizes[run.id]) for run in runs)
    )


def pipe_lines(network: Network) -> tuple[PipeLine, ...]:
    """Return all straight lines of pipe that are fixed to walls."""
    layout = network.layout
    runs = [run for run in layout.runs if run.kind in FIXED_KINDS and layout.length_m(run) > 1e-3]
    runs = [run for run in runs if not layout.goes_across(run)]
    lines: dict[int, list[Run]] = {}
    line_at: dict[tuple[str, str, bool, str], int] = {}
    for number, run in enumerate(runs):
        joined = sorted({line_at[end] for end in _ends_in_line(network, run) if end in line_at})
        lines[number] = [run, *(each for line in joined for each in lines.pop(line))]
        line_at |= {end: number for each in lines[number] for end in _ends_in_line(network, each)}
    return tuple(_line(network, line) for line in lines.values())


def _ends_in_line(network: Network, run: Run) -> list[tuple[str, str, bool, str]]:
    """The ends of a run, each with what another there has in common with it if both are of one straight line."""
    upright = network.layout.is_upright(run)
    return [(run.room, run.wall, upright, node) for node in (run.start, run.end)]


def _line(network: Network, runs: list[Run]) -> PipeLine:
    layout = network.layout
    wall, upright = layout.site.wall(runs[0].room, runs[0].wall), layout.is_upright(runs[0])

    def station(node: str) -> float:
        at = layout.nodes[node].at
        return at.z if upright else wall.measure(at.plan)[0]

    ordered = sorted(runs, key=lambda run: min(station(run.start), station(run.end)))
    nodes = [tuple(sorted((run.start, run.end), key=station)) for run in ordered]
    stretches = []
    for run, (low, high) in zip(ordered, nodes, strict=True):
        size, stations = network.sizes[run.id], station(high) - station(low)
        span = (size.vertical_span_m if upright else size.bracket_span_m) * stations / layout.length_m(run)
        stretches.append(Stretch(station(low), station(high), span))
    ends = (layout.nodes[nodes[0][0]].at, *(layout.nodes[high].at for _, high in nodes))
    faces = [
        (part.low_m + half_m(network, low, run), part.high_m - half_m(network, high, run))
        for run, part, (low, high) in zip(ordered, stretches, nodes, strict=True)
    ]
    bare = PipeLine(wall, upright, tuple(ordered), tuple(stretches), (), (), ends)
    edges = _edges(network, bare)
    keep_out = [edge for edge in edges if edge[0] < edge[1]]
    for part, (low_m, high_m) in zip(stretches, faces, strict=True):
        keep_out += [
            (part.low_m - AT_NODE_M, low_m + CLEAR_OF_FITTING_M),
            (high_m - CLEAR_OF_FITTING_M, part.high_m + AT_NODE_M),
        ]
    keep_out += [*_at_couplings(network, bare), *_at_openings(network, bare)]
    keep_out += list(_at_decks(network, bare))
    services, front = list(_at_services(network, bare)), _front(network, bare)
    span_m = min(part.span_m for part in stretches)
    hangs = wall.is_crossing or (not upright and front is None and any(b - a > span_m for a, b in services))
    if front is not None:
        keep_out += [(-math.inf, front.low_m + FROM_EDGE_M), (front.high_m - FROM_EDGE_M, math.inf)]
    elif not hangs:
        keep_out += services
    near = [
        (_near_m(network, low, run), _near_m(network, high, run))
        for run, (low, high) in zip(ordered, nodes, strict=True)
    ]
    windows = tuple(
        window
        for run, face, near_m in zip(ordered, faces, near, strict=True)
        for window in _windows(run, face, edges, near_m)
    )
    if not windows and (front is not None or any(run.kind is RunKind.RISING for run in ordered)):
        windows = _one_at_least(faces, front)
    face_m = front.off_m if front else 0.0
    return PipeLine(wall, upright, bare.runs, bare.stretches, tuple(keep_out), windows, ends, face_m, hangs)


def _one_at_least(faces: list[Range], front: Front | None) -> tuple[Window, ...]:
    """A window over a whole line too short for two, that is to be held once all the same."""
    low, high = faces[0][0] + CLEAR_OF_FITTING_M, faces[-1][1] - CLEAR_OF_FITTING_M
    if front is not None:
        low, high = max(low, front.low_m + FROM_EDGE_M), min(high, front.high_m - FROM_EDGE_M)
    return (Window(low, high),) if low <= high else ()


def half_m(network: Network, node_id: str, run: Run) -> float:
    """Length of the fitting or device at a node, or of the bend, along a run, from its centre to its face [m].

    With the union of threaded pipe where one stands there.
    """
    if node_id in network.bends:
        return network.bends[node_id].tangent_m
    layout, size = network.layout, network.sizes[run.id]
    threaded = network.material.joins_by == "thread"
    union = threaded and union_reason(layout, network.material, layout.nodes[node_id], run)
    return _body_half_m(layout.nodes[node_id], size) + (size.union_length_m if union else 0.0)


def _body_half_m(node: Node, size: TubeSize) -> float:
    if node.kind in (NodeKind.VALVE, NodeKind.DRAIN):
        return size.valve_length_m / 2
    if node.kind is NodeKind.TREATMENT:
        return component(node.what).length_m / 2 + size.coupling_length_m
    if node.kind is NodeKind.HOSE_END:
        return size.coupling_length_m / 2
    return size.centre_to_face_m


def _near_m(network: Network, node: str, run: Run) -> float:
    """How far from a fitting's face a bracket may be: no farther than that both sides of it keep the span [m]."""
    meeting = (each for each in network.layout.runs_at[node] if each.kind is not RunKind.FLEXIBLE)
    return min(NEAR_FITTING_M, least_span_m(network, meeting) / 2 - half_m(network, node, run))


def _windows(run: Run, face: Range, edges: tuple[Range, Range], near_m: Range) -> Iterator[Window]:
    """Yield the windows at either end of a run between two faces; it moves on where it cannot be reached.

    Short ones have none, but a drop has one by its outlet, where the hose is pulled.

    Args:
        near_m: how far from either face a bracket may be.
    """
    low, high = face
    if high - low < SHORTEST_M:
        if run.kind is RunKind.DROP:
            yield from _one_at_least([face], None)
        return
    first = max(low + CLEAR_OF_FITTING_M, edges[0][1])
    last = min(high - CLEAR_OF_FITTING_M, edges[1][0])
    if first <= last:
        yield Window(first, min(last, max(low + near_m[0], first + REACH_M)))
        yield Window(max(first, min(high - near_m[1], last - REACH_M)), last)


def _edges(network: Network, line: PipeLine) -> tuple[Range, Range]:
    """Keep brackets off the ends of the wall, and those of a drop out from behind the main."""
    layout, run = network.layout, line.runs[-1]
    if not line.upright:
        return (-math.inf, FROM_END_M), (line.wall.length_m - FROM_END_M, math.inf)
    if run.kind is RunKind.DROP and layout.nodes[run.start].kind is NodeKind.BEND:
        return (-math.inf, -math.inf), (layout.take_offs[run.outlet].at.z - BELOW_MAIN_M, math.inf)
    return (-math.inf, -math.inf), (math.inf, math.inf)


def _at_couplings(network: Network, line: PipeLine) -> Iterator[Range]:
    """Yield the places of couplings between stock lengths, which are joined on from the start of each tube."""
    for run, part, first in zip(line.runs, line.stretches, line.ends, strict=False):
        size, tube = network.sizes[run.id], network.tube_line_of[run.id]
        room = size.coupling_length_m / 2 + CLEAR_OF_FITTING_M
        rising = network.layout.nodes[run.start].at == first
        faces_m = (
            half_m(network, tube.runs[0].start, tube.runs[0]),
            half_m(network, tube.runs[-1].end, tube.runs[-1]),
        )
        for id, place in couplings_m(tube, faces_m, network.material, size):
            if id == run.id:
                middle = part.low_m + place if rising else part.high_m - place
                yield middle - room, middle + room


def _at_openings(network: Network, line: PipeLine) -> Iterator[Range]:
    for opening in openings_on(network.layout.site, line.wall):
        across = opening.from_left_m - CLEAR_M, opening.from_left_m + opening.width_m + CLEAR_M
        up = opening.bottom_m - CLEAR_M, opening.top_m + CLEAR_M
        along, other = (up, across) if line.upright else (across, up)
        if along[0] >= line.high_m or along[1] <= line.low_m:
            continue
        reached = (line.at(min(max(station, line.low_m), line.high_m)) for station in along)
        beside = [line.wall.measure(at.plan)[0] if line.upright else at.z for at in reached]
        if max(beside) > other[0] and min(beside) < other[1]:
            yield along


def _at_services(network: Network, line: PipeLine) -> Iterator[Range]:
    """Yield where other services stand behind the pipe, or so near that a bracket's foot would meet them."""
    site = network.layout.site
    for service in site.rooms[line.wall.room].services:
        if site.wall(line.wall.room, service.wall) is not line.wall or service.off_wall_m > FOOT_M:
            continue
        across = service.from_left_m - FOOT_M, service.from_left_m + service.width_m + FOOT_M
        up = service.above_floor_m - FOOT_M, service.above_floor_m + service.height_m + FOOT_M
        along, other = (up, across) if line.upright else (across, up)
        low, high = max(along[0], line.low_m), min(along[1], line.high_m)
        if low < high:
            reached = (line.at(station) for station in (low, high))
            beside = [line.wall.measure(at.plan)[0] if line.upright else at.z for at in reached]
            if max(beside) > other[0] and min(beside) < other[1]:
                yield along


def _at_decks(network: Network, line: PipeLine) -> Iterator[Range]:
    """Yield where an upright line passes a deck."""
    if line.upright:
        for deck in decks_passed(network.layout.site, line.wall.room, line.ends[0], line.ends[-1]):
            yield deck.underside_m - CLEAR_M, deck.top_m + CLEAR_M


def _front(network: Network, line: PipeLine) -> Front | None:
    """The front of the column that a level line steps out round."""
    off_m = line.wall.measure(line.ends[0].plan)[1]
    return next(
        (
            front
            for front in fronts(network.layout.site, line.wall)
            if not line.upright
            and line.low_m < front.high_m
            and line.high_m > front.low_m
            and 0.0 < front.off_m < off_m
            and off_m - front.off_m < MOST_OFF_FRONT_M
        ),
        None,
    )
