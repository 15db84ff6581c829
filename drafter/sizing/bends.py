"""Corners that the tube itself goes round, bent to a radius, and the tubes that go on through them from run to run."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import accumulate, pairwise

from drafter.geometry import Point3
from drafter.layout.graph import Layout, Node, NodeKind, Run, RunKind
from drafter.layout.obstacles import CLEAR_M, first_in_the_way, obstacles_in
from drafter.standards.components import component
from drafter.standards.materials import Material, TubeSize

LEAST_TURN, MOST_TURN = math.radians(12.0), math.radians(135.0)
"""Turns that a tube is bent for: below, two runs are as good as in line; above, a bend takes too much of its legs."""

NOT_BENT = (RunKind.CONNECTION, RunKind.FLEXIBLE, RunKind.SLEEVE)
"""Runs that keep their ends as they are: a tube stays straight in its sleeve."""

ENDS_IN_ADAPTER = (NodeKind.DRAIN, NodeKind.COUPLING, NodeKind.HOSE_END)
UNITS = (NodeKind.TREATMENT, NodeKind.SERVICE)
ARC_STEPS = 6


@dataclass(frozen=True, slots=True)
class Bend:
    """A corner that the tube itself goes round.

    Attributes:
        node: id of the node at the corner, where the two straight lines meet.
        runs: ids of the run that ends there and of the one that begins.
        radius_m: of the tube's centre line.
        turn_rad: how far the tube turns, 0 where it goes straight on.
    """

    node: str
    runs: tuple[str, str]
    radius_m: float
    turn_rad: float

    @property
    def tangent_m(self) -> float:
        """From the corner back to where the bend begins, and on to where it ends."""
        return self.radius_m * math.tan(self.turn_rad / 2)

    @property
    def arc_m(self) -> float:
        """Length of tube in the bend."""
        return self.radius_m * self.turn_rad

    @property
    def shorter_m(self) -> float:
        """How much shorter than by the corner: 2 R tan(a/2) - R a, which is 0.4292 R for a right angle."""
        return 2 * self.tangent_m - self.arc_m


@dataclass(frozen=True)
class TubeLine:
    """Runs that one tube goes through, in the direction of flow, with the bends between them.

    Attributes:
        lengths_m: of the runs, centre to centre.
        closes: whether it is the last to go in where a ring closes.
    """

    runs: tuple[Run, ...]
    lengths_m: tuple[float, ...]
    bends: tuple[Bend, ...] = ()
    closes: bool = False

    @property
    def centres_m(self) -> float:
        """Centre to centre, by the corners."""
        return sum(self.lengths_m)

    @property
    def axis_m(self) -> float:
        """Length of its centre line from end to end, round the bends."""
        return self.centres_m - sum(bend.shorter_m for bend in self.bends)

    @property
    def run_starts_m(self) -> tuple[float, ...]:
        """For each run, from which mark on the centre line a distance from its first node counts."""
        passed = (length - bend.shorter_m for length, bend in zip(self.lengths_m, self.bends, strict=False))
        return tuple(accumulate(passed, initial=0.0))

    @property
    def bent_m(self) -> tuple[tuple[float, float], ...]:
        """From where to where on the centre line each bend reaches."""
        lasting = zip(self.run_starts_m, self.lengths_m, self.bends, strict=False)
        starts = [start + length - bend.tangent_m for start, length, bend in lasting]
        return tuple((start, start + bend.arc_m) for start, bend in zip(starts, self.bends, strict=True))


def bends_of(layout: Layout, family: Material, sizes: Mapping[str, TubeSize]) -> dict[str, Bend]:
    """Return the corners that the tube is bent round, by node; all others keep their fittings.

    A corner is bent where two runs of one size meet, both legs have room for the bend and for a straight end as long
    as goes into a fitting, and the short cut comes no nearer to walls and obstacles than a pipe may. Corners come in
    the order of the nodes; one that finds no room beside those before it keeps its elbow.

    Args:
        sizes: the tube of each run, by its id.

    Source:
        geometry of an arc between two tangents; the radius from the family; the straight end is common practice.
    """
    if layout.site.main.turns != "bent" or not family.bend_radius_factor:
        return {}
    found: dict[str, Bend] = {}
    for node in layout.nodes.values():
        bend = _bend_at(layout, family, sizes, node)
        if bend and _has_room(layout, sizes, bend, found) and _cuts_nothing(layout, sizes, bend):
            found[node.id] = bend
    return found


def tube_lines(layout: Layout, bends: Mapping[str, Bend]) -> tuple[TubeLine, ...]:
    """Return the runs that each tube goes through, in the order of the first of them.

    Source:
        none; a tube goes on where it is bent, and ends at every other node.
    """
    after = {bend.runs[0]: bend for bend in bends.values()}
    led_to = {bend.runs[1] for bend in bends.values()}
    lines = []
    for first in layout.runs:
        if first.id in led_to:
            continue
        runs, passed = [first], list[Bend]()
        while bend := after.get(runs[-1].id):
            passed.append(bend)
            runs.append(layout.run_by_id[bend.runs[1]])
        lengths_m = tuple(layout.length_m(run) for run in runs)
        lines.append(TubeLine(tuple(runs), lengths_m, tuple(passed), closes_ring(layout, runs[-1])))
    return tuple(lines)


def closes_ring(layout: Layout, run: Run) -> bool:
    """Whether a run is the second to lead to its end, where a ring closes.

    Source:
        the order of flow in the layout, in which each node but that one has one run that leads to it.
    """
    return run in [other for other in layout.runs_at[run.end] if other.end == run.end][1:]


def _bend_at(layout: Layout, family: Material, sizes: Mapping[str, TubeSize], node: Node) -> Bend | None:
    runs = layout.runs_at[node.id]
    if node.kind is not NodeKind.BEND or len(runs) != 2 or any(run.kind in NOT_BENT for run in runs):
        return None
    into, out = runs
    if (into.end, out.start) != (node.id, node.id) or sizes[into.id] != sizes[out.id]:
        return None
    one, other = (_way(layout, run) for run in runs)
    turn_rad = math.acos(max(-1.0, min(1.0, one.dot(other))))
    if not LEAST_TURN <= turn_rad <= MOST_TURN:
        return None
    return Bend(node.id, (into.id, out.id), family.bend_radius_factor * sizes[into.id].outside_m, turn_rad)


def _way(layout: Layout, run: Run) -> Point3:
    """The way of a run, one long."""
    start = layout.nodes[run.start].at
    return Point3(0.0, 0.0, 0.0).towards(layout.nodes[run.end].at.minus(start), 1.0)


def _has_room(layout: Layout, sizes: Mapping[str, TubeSize], bend: Bend, others: Mapping[str, Bend]) -> bool:
    """Whether each leg is long enough for the bend, a straight end, and what stands at its other end."""
    for id in bend.runs:
        run = layout.run_by_id[id]
        far = run.start if run.end == bend.node else run.end
        taken_m = others[far].tangent_m if far in others else _face_m(layout, sizes, layout.nodes[far], run)
        if bend.tangent_m + sizes[id].insertion_m + taken_m > layout.length_m(run):
            return False
    return True


def _face_m(layout: Layout, sizes: Mapping[str, TubeSize], node: Node, run: Run) -> float:
    """The most that a fitting or device at a node takes of a run, from its centre to its face."""
    size, met = sizes[run.id], [sizes[each.id] for each in layout.runs_at[node.id]]
    if node.kind in ENDS_IN_ADAPTER:
        return size.coupling_length_m / 2
    if node.kind in UNITS:
        return component(node.what).length_m / 2 + max(size.coupling_length_m, size.union_length_m)
    if node.kind is NodeKind.SPARE_TEE:
        met += [sizes[each.id] for each in layout.runs if each.outlet]
    reducer_m = size.coupling_length_m / 2 if any(each.outside_m > size.outside_m for each in met) else 0.0
    if node.kind is NodeKind.VALVE:
        return max(each.valve_length_m for each in met) / 2 + reducer_m
    return max(each.centre_to_face_m for each in met) + reducer_m


def _cuts_nothing(layout: Layout, sizes: Mapping[str, TubeSize], bend: Bend) -> bool:
    """Whether the bend, which leaves the corner out, keeps off obstacles and off the corners of the walls."""
    from shapely import LineString, Polygon

    node, site = layout.nodes[bend.node], layout.site
    arc = _arc(layout, bend)
    obstacles = obstacles_in(site, node.room)
    if any(first_in_the_way(obstacles, one, other) for one, other in pairwise(arc)):
        return False
    room = Polygon([wall.left for wall in site.walls[node.room]])
    line = LineString([spot.plan for spot in arc])
    legs_m = min(room.exterior.distance(LineString([end.plan, node.at.plan])) for end in (arc[0], arc[-1]))
    least_m = min(legs_m, sizes[bend.runs[0]].outside_m / 2 + CLEAR_M)
    return bool(room.contains(line) and room.exterior.distance(line) >= least_m - 1e-6)


def _arc(layout: Layout, bend: Bend) -> list[Point3]:
    """Points along the bend, its two ends among them."""
    corner = layout.nodes[bend.node].at
    into, out = (_way(layout, layout.run_by_id[id]) for id in bend.runs)
    sine = math.sin(bend.turn_rad)
    points = []
    for step in range(ARC_STEPS + 1):
        done = bend.turn_rad * step / ARC_STEPS
        across = bend.radius_m * (1.0 - math.cos(done)) / sine
        along = bend.radius_m * math.sin(done) - bend.tangent_m - across * math.cos(bend.turn_rad)
        points.append(Point3(*(c + a * along + b * across for c, a, b in zip(corner, into, out, strict=True))))
    return points
