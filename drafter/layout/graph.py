"""The installation as a graph in space: nodes where something is joined, straight runs of pipe between them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum
from functools import cached_property
from heapq import heappop, heappush

from drafter.finding import Place
from drafter.geometry import Point3
from drafter.layout.reach import Reach, reach_of
from drafter.site.model import Site

IN_LINE = 0.999
"""Two pipes whose directions have at least this cosine are one line: the fall and its changes do not count."""


class NodeKind(Enum):
    """What stands at a node; bends and tees follow from the runs that meet there."""

    TANK = "tank connection"
    VALVE = "isolating valve"
    HOSE_END = "end of the flexible connection"
    TREATMENT = "treatment unit"
    BEND = "bend"
    TEE = "tee"
    TAKE_OFF = "take-off"
    SPARE_TEE = "plugged tee for a later drop"
    COUPLING = "outlet"
    SERVICE = "unit at the outlet"
    DRAIN = "drain valve"


class RunKind(Enum):
    """What a run is for."""

    CONNECTION = "connection"
    FLEXIBLE = "flexible connection"
    RISER = "riser"
    TREATMENT = "treatment line"
    MAIN = "main"
    RISE = "upright of the main"
    SLEEVE = "main through a wall"
    SWAN_NECK = "swan neck"
    DROP = "drop"
    BRANCH = "outlet branch"
    RISING = "rising branch"
    DRIP_LEG = "drip leg"


@dataclass(frozen=True, slots=True)
class Node:
    """A point where runs meet or end.

    Attributes:
        id: unique, such as ``N12``.
        at: in plan and above floor [m]; the centre of the fitting or device there.
        room, wall: the wall it stands before.
        tag: what the drawings call it: the outlet's own tag, ``V-01``, ``D-02``; empty for plain fittings.
        what: kind of a treatment or service unit, such as ``filter``.
        place: of the entry in the site file that asked for it.
    """

    id: str
    kind: NodeKind
    at: Point3
    room: str
    wall: str
    tag: str = ""
    what: str = ""
    place: Place = Place()


@dataclass(frozen=True, slots=True)
class Run:
    """A straight line of pipe from one node to the next, in the direction of flow; in a ring, of filling.

    Attributes:
        id: unique, such as ``P7``, counted from the compressor outwards.
        room, wall: the wall it is fixed to.
        outlet: tag of the outlet that a swan neck, drop, rising branch, branch or drip leg belongs to.
    """

    id: str
    kind: RunKind
    start: str
    end: str
    room: str
    wall: str
    outlet: str = ""


@dataclass(frozen=True)
class Layout:
    """Stage 2's result: everything in its place, nothing sized.

    Attributes:
        nodes: by id, the tank first.
        runs: from the compressor outwards; each run begins at the tank, or where all that end there are earlier runs.
            A ring is closed by a run that ends where an earlier one ends.
        reasons: why the main goes as it does, in sentences.
        closed: where in the site file the things stand that were in its way at its level.
    """

    site: Site
    nodes: Mapping[str, Node]
    runs: tuple[Run, ...]
    reasons: tuple[str, ...] = field(default=())
    closed: tuple[Place, ...] = field(default=())

    @cached_property
    def runs_at(self) -> Mapping[str, tuple[Run, ...]]:
        """The runs that meet at each node, the one that brings the air first; where a ring closes, both that do."""
        bringing: dict[str, list[Run]] = {id: [] for id in self.nodes}
        leaving: dict[str, list[Run]] = {id: [] for id in self.nodes}
        for run in self.runs:
            bringing[run.end].append(run)
            leaving[run.start].append(run)
        return {id: (*bringing[id], *leaving[id]) for id in self.nodes}

    @cached_property
    def run_by_id(self) -> Mapping[str, Run]:
        return {run.id: run for run in self.runs}

    @cached_property
    def from_tank_m(self) -> Mapping[str, float]:
        """How far each node is from the tank along the pipe, round a ring the shorter way [m]."""
        found: dict[str, float] = {}
        waiting = [(0.0, next(iter(self.nodes)))]
        while waiting:
            here_m, id = heappop(waiting)
            if id not in found:
                found[id] = here_m
                for run in self.runs_at[id]:
                    heappush(waiting, (here_m + self.length_m(run), run.end if run.start == id else run.start))
        return found

    @cached_property
    def take_offs(self) -> Mapping[str, Node]:
        """Where each outlet's drop leaves the main, by the outlet's tag."""
        return {run.outlet: self.nodes[run.start] for run in reversed(self.runs) if run.outlet}

    def outlet_at(self, node: Node) -> str:
        """Tag of the outlet whose drop or branch meets a node; empty where none does."""
        return next((run.outlet for run in self.runs_at[node.id] if run.outlet), "")

    def is_low_point(self, node: Node) -> bool:
        """Whether the main is lowest at a node and drains there through a drip leg of its own."""
        runs = self.runs_at[node.id]
        return runs[0].kind is RunKind.MAIN and any(run.kind is RunKind.DRIP_LEG and not run.outlet for run in runs)

    def is_on_main(self, node: Node) -> bool:
        """Whether what stands at a node stands in the line of the main."""
        return self.runs_at[node.id][0].kind is RunKind.MAIN

    def fall(self, run: Run) -> float:
        """Fall of a run from its start to its end [1]."""
        start, end = self.nodes[run.start].at, self.nodes[run.end].at
        return (start.z - end.z) / end.plan.minus(start.plan).length

    def is_upright(self, run: Run) -> bool:
        """Whether a run goes up or down rather than along."""
        start, end = self.nodes[run.start].at, self.nodes[run.end].at
        return abs(end.z - start.z) > end.plan.minus(start.plan).length

    def goes_across(self, run: Run) -> bool:
        """Whether a level run leads away from its wall, or back to it."""
        start, end = self.nodes[run.start].at.plan, self.nodes[run.end].at.plan
        along = self.site.wall(run.room, run.wall).along
        return not self.is_upright(run) and abs(end.minus(start).unit.dot(along)) < 1.0 - IN_LINE

    def steps_out_to_m(self, node: Node) -> float:
        """How far off its wall the main turns out at a node, to step round something; 0 where it does not [m]."""
        wall = self.site.wall(node.room, node.wall)
        here_m = wall.measure(node.at.plan)[1]
        for run in self.runs_at[node.id]:
            if run.kind is RunKind.MAIN and run.wall == node.wall and self.goes_across(run):
                other = self.nodes[run.start if run.end == node.id else run.end]
                there_m = wall.measure(other.at.plan)[1]
                if there_m > here_m:
                    return there_m
        return 0.0

    def length_m(self, run: Run) -> float:
        """Length of a run from node to node [m]."""
        return self.nodes[run.end].at.minus(self.nodes[run.start].at).length

    def from_left_m(self, node: Node) -> float:
        """Distance of a node from the left-hand corner of its wall [m]."""
        return self.site.wall(node.room, node.wall).measure(node.at.plan)[0]

    @cached_property
    def reach(self) -> Reach:
        """What the hoses at the outlets get to."""
        return reach_of(self.site, {node.tag: node.at for node in self.couplings})

    def outlet_foot(self, node: Node) -> Node:
        """Where the drop of an outlet is, whose coupling is a node: where its branch begins."""
        id = node.id
        while id in self._branches:
            id = self._branches[id]
        return self.nodes[id]

    @cached_property
    def _branches(self) -> dict[str, str]:
        """Where each run of an outlet's branch begins, by where it ends."""
        return {run.end: run.start for run in self.runs if run.kind is RunKind.BRANCH}

    def rises_to(self, tag: str) -> bool:
        """Whether an outlet stands above the main and is fed upwards."""
        return any(run.outlet == tag and run.kind is RunKind.RISING for run in self.runs_at[self.take_offs[tag].id])

    @property
    def couplings(self) -> tuple[Node, ...]:
        """The outlets' couplings, in the order of the site file."""
        order = {outlet.tag: index for index, outlet in enumerate(self.site.outlets)}
        found = [node for node in self.nodes.values() if node.kind is NodeKind.COUPLING]
        return tuple(sorted(found, key=lambda node: order[node.tag]))
