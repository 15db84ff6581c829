"""Turns the graph of runs into parts that mate: fittings at the nodes, where no tube is bent, and tube between."""

from __future__ import annotations

import math
from dataclasses import dataclass

from drafter.finding import Finding, Severity
from drafter.geometry import Point3
from drafter.layout.graph import Layout, Node, NodeKind, Run, RunKind
from drafter.sizing.network import Network
from drafter.sizing.unions import valve_item
from drafter.standards.components import component
from drafter.standards.materials import TubeSize
from drafter.takeoff.device_threads import LEAST_AT_OUTLET, LEAST_THREAD, supply_thread, unit_thread
from drafter.takeoff.ends import back
from drafter.takeoff.make_up import make_up_runs
from drafter.takeoff.part import FITTINGS, OUTLETS, SUPPLY, TREATMENT, VALVES, Port
from drafter.takeoff.pieces import Pieces
from drafter.takeoff.tees import branch_of, tee_sizes
from drafter.takeoff.unit_duty import duty

DRAIN_THREAD = "1/2"
HOSE_STEP_M = 0.1
"""Flexible connections are bought in steps of this (common practice)."""

ELBOW_45_SHARE = 0.75
"""Centre to face of a 45 degree elbow over that of a 90 degree one (ASME B16.3 class 150, from memory)."""

USUAL_ELBOW_DEG = 6.0
"""How far a turn may be off 90 or 45 degrees, for the fall of the main (from memory)."""


def flexible_length_m(layout: Layout) -> float:
    """Return how long a flexible connection is bought: from valve to pipe, so that the elbows leave it slack.

    Source:
        common practice.
    """
    flexible = next(run for run in layout.runs if run.kind is RunKind.FLEXIBLE)
    return max(0.3, math.ceil(layout.length_m(flexible) / HOSE_STEP_M - 1e-6) * HOSE_STEP_M)


@dataclass
class Assembling(Pieces):
    """Adds the parts of a whole network; ``start`` is the one its pipe begins with, behind the flexible connection."""

    start: str = ""

    def run(self) -> None:
        for node in self.network.layout.nodes.values():
            self._node(node)
        make_up = make_up_runs(self.network.layout, self.network.tube_lines)
        for line in self.network.tube_lines:
            if line.runs[0].kind not in (RunKind.CONNECTION, RunKind.FLEXIBLE):
                alone = [make_up[run.id] for run in line.runs if run.id in make_up]
                bent_between = bool(alone) and len(line.bends) > 1
                self._tube(line, not all(alone) or bent_between, bool(alone))
        self.note_short()

    def _node(self, node: Node) -> None:
        runs = self.network.layout.runs_at[node.id]
        match node.kind:
            case NodeKind.TANK:
                self._supply(node)
            case NodeKind.HOSE_END:
                return
            case NodeKind.VALVE if node.tag != "V-01":
                self._valve(node, runs)
            case NodeKind.DRAIN:
                self._drain(node, runs[0])
            case NodeKind.COUPLING:
                self._coupling(node, runs[0])
            case NodeKind.TREATMENT | NodeKind.SERVICE:
                self._unit(node, runs)
            case NodeKind.SPARE_TEE:
                self._spare_tee(node, runs)
            case _ if node.id in self.network.bends:
                return
            case NodeKind.BEND | NodeKind.TEE | NodeKind.TAKE_OFF:
                self._fitting(node, runs)

    def _supply(self, tank: Node) -> None:
        """From the tank's port: nipple, lockable ball valve, flexible connection, adapter to the tube.

        Valve and tube both point along the wall, one before the other: an elbow at either end lets the connection run
        straight from one to the other, so that it is not bent tighter than it may be.
        """
        layout, nominal = self.network.layout, supply_thread(self.network)
        thread, own = self.thread(nominal), self.thread(_connection_thread(self.network) or nominal)
        flexible = next(run for run in layout.runs if run.kind is RunKind.FLEXIBLE)
        riser = next(run for run in layout.runs_at[flexible.end] if run.kind is RunKind.RISER)
        male, female = Port("male", thread), Port("female", thread)
        port = self.add(SUPPLY, "compressor on tank", own, (Port("female", own),), tank.tag, stands=True)
        nipple = self._nipple(own, thread)
        valve = self.add(VALVES, "ball valve, lockable, threaded", thread, (female, female), "V-01")
        hose_size = f"{thread}, {layout.site.units.length_with_unit(flexible_length_m(layout))}"
        item = "flexible connection with a swivel end, rated for the discharge"
        hose = self.add(SUPPLY, item, hose_size, (male, male), ends_turn=True)
        self.join((port, 0), (nipple, 0))
        self.join((nipple, 1), (valve, 0))
        elbows = [self.add(SUPPLY, "street elbow 90°, male x female", thread, (male, female)) for _ in range(2)]
        self.join((valve, 1), (elbows[0], 0))
        self.join((elbows[0], 1), (hose, 0))
        size = self._size(riser)
        ports = (female, self.socket(size.name))
        adapter = self._onto(f"adapter, female thread to {self.stuff}", size.name, nominal, ports)
        self.join((hose, 1), (elbows[1], 1))
        self.join((elbows[1], 0), (adapter, 0))
        self.start = adapter
        self._end(flexible.end, riser, (adapter, 1), size.coupling_length_m / 2)

    def _nipple(self, own: str, thread: str) -> str:
        """What is screwed into the tank, for the valve's thread."""
        ports = Port("male", own), Port("male", thread)
        if own == thread:
            return self.add(SUPPLY, "hexagon nipple", thread, ports)
        return self.add(SUPPLY, "reducing nipple", f"{own} x {thread}", ports)

    def _onto(self, item: str, size: str, nominal: str, ports: tuple[Port, ...], stands: bool = False) -> str:
        """A part from a device's male thread to pipe or tube: a coupling, where the pipe is threaded itself."""
        if self.threaded and size == nominal:
            return self.add(FITTINGS, "coupling", size, ports, stands=stands)
        name = "reducing coupling" if self.threaded else item
        return self.add(FITTINGS, name, self.sized(size, self.thread(nominal)), ports, stands=stands)

    def _valve(self, node: Node, runs: tuple[Run, ...]) -> None:
        size = max((self._size(run) for run in runs), key=lambda size: size.outside_m)
        ports = (self.socket(size.name),) * 2
        valve = self.add(VALVES, valve_item(self.family), size.name, ports, node.tag)
        for index, run in enumerate(runs):
            self._end(node.id, run, (valve, index), size.valve_length_m / 2)

    def _drain(self, node: Node, run: Run) -> None:
        thread = self.thread(DRAIN_THREAD)
        kind = "automatic drain" if self.network.layout.site.main.drains == "automatic" else "drain valve"
        drain = self.add(VALVES, kind, thread, (Port("male", thread), Port("open", "")), node.tag)
        self._end_device(node, run, drain, f"adapter, female thread to {self.stuff}", DRAIN_THREAD)

    def _coupling(self, node: Node, run: Run) -> None:
        body = node.what.removeprefix("quick coupling ")
        thread = self.thread(body)
        item = f"quick coupling, {body} body, one profile for the site"
        coupling = self.add(OUTLETS, item, thread, (Port("male", thread), Port("open", "")), node.tag)
        self._end_device(node, run, coupling, f"outlet adapter, female thread to {self.stuff}", body, True)

    def _end_device(self, node: Node, run: Run, device: str, adapter: str, nominal: str, stands: bool = False) -> None:
        """Put the device at the end of a run into an adapter, up to the middle of it."""
        size, way = self._size(run), self._way(node.id, run)
        ends = (self.socket(size.name), Port("female", self.thread(nominal)))
        part = self._onto(adapter, size.name, nominal, ends, stands)
        self._screw((part, 1), (device, 0), node.id, back(way), 0.0)
        self._end(node.id, run, (part, 0), size.coupling_length_m / 2)

    def _unit(self, node: Node, runs: tuple[Run, ...]) -> None:
        treats = node.kind is NodeKind.TREATMENT
        nominal = unit_thread(self.network, runs, LEAST_THREAD if treats else LEAST_AT_OUTLET)
        thread, group = self.thread(nominal), TREATMENT if treats else OUTLETS
        straight_in = [self.threaded and self._size(run).name == nominal for run in runs]
        ports = tuple(self.socket(nominal) if each else Port("female", thread) for each in straight_in)
        made_for, serves = duty(self.network, node), "" if treats else self.network.layout.outlet_at(node)
        unit = self.add(group, node.what, thread, ports, node.tag, stands=treats, made_for=made_for, serves=serves)
        half = component(node.what).length_m / 2
        for index, run in enumerate(runs):
            if straight_in[index]:
                self._end(node.id, run, (unit, index), half)
                continue
            size, why = self._size(run), "" if self.threaded else self._union_reason(node.id, run)
            item, length = f"adapter, male thread to {self.stuff}", size.coupling_length_m / 2
            if why:
                item, length = f"union adapter, male thread to {self.stuff}", size.union_length_m - length
                self._note_union(node.id, run, half + length / 2, why)
            ends = (Port("male", thread), self.socket(size.name))
            adapter = self.add(FITTINGS, item, self.sized(size.name, thread), ends, ends_turn=bool(why))
            self._screw((unit, index), (adapter, 0), f"{node.id} {run.id} unit", self._way(node.id, run), half)
            self._end(node.id, run, (adapter, 1), half + length, length)

    def _fitting(self, node: Node, runs: tuple[Run, ...]) -> None:
        sizes = [self._size(run) for run in runs]
        largest = max(sizes, key=lambda size: size.outside_m)
        if len(runs) == 2:
            self._elbow(node, runs, largest)
            return
        branch = branch_of(self.network.layout, node, runs)
        one, other = (i for i in range(3) if i != branch)
        bodies = tee_sizes(self.family, sizes[one], sizes[other], sizes[branch])
        of_end = dict(zip((one, other, branch), bodies, strict=True))
        fitting = self._tee(bodies, tuple(self.socket(of_end[i].name) for i in range(3)))
        for index, run in enumerate(runs):
            self._end(node.id, run, (fitting, index), largest.centre_to_face_m)

    def _spare_tee(self, node: Node, runs: tuple[Run, ...]) -> None:
        """A tee with its branch up and a plug in it, as wide as the widest drop."""
        drops = [self._size(run) for run in self.network.layout.runs if run.outlet]
        one, other = (self._size(run) for run in runs)
        bodies = tee_sizes(self.family, one, other, max(drops, key=lambda size: size.outside_m))
        branch, key = bodies[2], f"{node.id} plug"
        face_m = max(bodies, key=lambda size: size.outside_m).centre_to_face_m
        up = Point3(0.0, 0.0, 1.0)
        ports = (
            *(self.socket(size.name) for size in bodies[:2]),
            self.socket(branch.name, key, up, face_m - branch.insertion_m),
        )
        tee = self._tee(bodies, ports)
        item = "plug" if self.threaded or self.family.comes_apart else "stub of tube with a cap, to be cut for the drop"
        ends = (self.plain(branch.name, key, back(up), branch.insertion_m),)
        plug = self.add(FITTINGS, item, branch.name, ends, node.tag)
        self.join((tee, 2), (plug, 0))
        for index, run in enumerate(runs):
            self._end(node.id, run, (tee, index), face_m)

    def _tee(self, bodies: tuple[TubeSize, TubeSize, TubeSize], ports: tuple[Port, ...]) -> str:
        """A tee by the sizes of its ends: along the line the larger first, then the branch."""
        through = sorted(bodies[:2], key=lambda size: -size.outside_m)
        names = [size.name for size in (*through, bodies[2])]
        if len(set(names)) == 1:
            return self.add(FITTINGS, "tee", names[0], ports)
        return self.add(FITTINGS, "reducing tee", self.sized(*names), ports)

    def _elbow(self, node: Node, runs: tuple[Run, ...], size: TubeSize) -> None:
        """The elbow for two runs; a coupling where they go straight on."""
        one, other = (self._way(node.id, run) for run in runs)
        turn = 180.0 - math.degrees(math.acos(max(-1.0, min(1.0, one.dot(other)))))
        usual = min((90.0, 45.0, 0.0), key=lambda angle: abs(angle - turn))
        if abs(usual - turn) > USUAL_ELBOW_DEG:
            self._no_elbow(node, turn)
        item = f"elbow {usual:.0f}°" if usual else "coupling"
        fitting = self.add(FITTINGS, item, size.name, (self.socket(size.name),) * 2)
        faces_m = {90.0: size.centre_to_face_m, 45.0: ELBOW_45_SHARE * size.centre_to_face_m}
        face_m = faces_m.get(usual, size.coupling_length_m / 2)
        for index, run in enumerate(runs):
            self._end(node.id, run, (fitting, index), face_m)

    def _no_elbow(self, node: Node, turn_deg: float) -> None:
        layout = self.network.layout
        self.findings.append(
            Finding(
                "JOIN002",
                Severity.ERROR,
                layout.site.main.where("material"),
                f"the pipe turns {turn_deg:.0f}° on the {node.wall} wall, for which there is no usual elbow",
                layout.outlet_at(node) or "main",
                measured=f"{turn_deg:.0f}°",
                limit="0°, 45° or 90°",
                fix="lead the main by other walls, or have a corner of 90° or 45°",
                write="main: {path: [...]}",
                source="elbows sold for tube and pipe, common practice",
            )
        )


def _connection_thread(network: Network) -> str:
    connection = network.layout.site.compressor.connection
    return connection.thread if connection else ""
