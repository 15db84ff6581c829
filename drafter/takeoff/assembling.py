"""Turns the graph of runs into parts that mate: fittings at the nodes, tube between them."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from drafter.finding import Finding, Severity
from drafter.geometry import Point3
from drafter.layout.graph import Layout, Node, NodeKind, Run, RunKind
from drafter.standards.components import component
from drafter.standards.materials import TubeSize
from drafter.supports.couplings import stock_lengths
from drafter.takeoff.ends import Ends, back
from drafter.takeoff.make_up import make_up_runs
from drafter.takeoff.part import FITTINGS, OUTLETS, SUPPLY, TREATMENT, TUBE, VALVES, Port
from drafter.takeoff.tees import branch_of, tee_sizes

DEVICE_THREAD = "1/2"
LEAST_BETWEEN_SOCKETS_M = 0.01
ELBOW_45_SHARE = 0.75
"""Centre to face of a 45 degree elbow over that of a 90 degree one (ASME B16.3 class 150, from memory)."""

USUAL_ELBOW_DEG = 6.0
"""How far a turn may be off 90 or 45 degrees, for the fall of the main (from memory)."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A straight piece of tube: where it goes, centre to centre, and its length as cut [m].

    Attributes:
        make_up: cut on site, when the rest of its line is in.
    """

    number: int
    run: str
    size: str
    start: str
    end: str
    centre_to_centre_m: float
    cut_m: float
    make_up: bool = False


@dataclass
class Assembling(Ends):
    """Adds the parts of a whole network; ``start`` is the one its pipe begins with, behind the flexible connection."""

    pieces: list[Piece] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    start: str = ""

    def run(self) -> None:
        for node in self.network.layout.nodes.values():
            self._node(node)
        make_up = make_up_runs(self.network.layout)
        for run in self.network.layout.runs:
            if run.kind not in (RunKind.CONNECTION, RunKind.FLEXIBLE):
                self._tube(run, run.id in make_up)

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
            case NodeKind.BEND | NodeKind.TEE | NodeKind.TAKE_OFF:
                self._fitting(node, runs)

    def _supply(self, tank: Node) -> None:
        """From the tank's port: nipple, lockable ball valve, flexible connection, adapter to the tube."""
        layout, thread = self.network.layout, self.thread(DEVICE_THREAD)
        flexible = next(run for run in layout.runs if run.kind is RunKind.FLEXIBLE)
        riser = next(run for run in layout.runs_at[flexible.end] if run.kind is RunKind.RISER)
        male, female = Port("male", thread), Port("female", thread)
        port = self.add(SUPPLY, "compressor on tank", thread, (female,), tank.tag, stands=True)
        nipple = self.add(SUPPLY, "hexagon nipple", thread, (male, male))
        valve = self.add(VALVES, "ball valve, lockable, threaded", thread, (female, female), "V-01")
        reach = layout.length_m(flexible) * 1.1
        length = max(0.3, -(-reach // 0.1) * 0.1)
        hose_size = f"{thread}, {layout.site.units.length_with_unit(length)}"
        item = "flexible connection with a swivel end, rated for the discharge"
        hose = self.add(SUPPLY, item, hose_size, (male, male), ends_turn=True)
        self.join((port, 0), (nipple, 0))
        self.join((nipple, 1), (valve, 0))
        self.join((valve, 1), (hose, 0))
        size = self._size(riser)
        ports = (female, self.socket(size.name))
        adapter = self.add(FITTINGS, f"adapter, female thread to {self.stuff}", self.sized(size.name, thread), ports)
        self.join((hose, 1), (adapter, 0))
        self.start = adapter
        self._end(flexible.end, riser, (adapter, 1), size.coupling_length_m / 2)

    def _valve(self, node: Node, runs: tuple[Run, ...]) -> None:
        size = max((self._size(run) for run in runs), key=lambda size: size.outside_m)
        ports, item = (self.socket(size.name),) * 2, ", threaded" if self.threaded else " with tube ends"
        valve = self.add(VALVES, f"ball valve{item}", size.name, ports, node.tag)
        for index, run in enumerate(runs):
            self._end(node.id, run, (valve, index), size.valve_length_m / 2)

    def _drain(self, node: Node, run: Run) -> None:
        thread = self.thread(DEVICE_THREAD)
        kind = "automatic drain" if self.network.layout.site.main.drains == "automatic" else "drain valve"
        drain = self.add(VALVES, kind, thread, (Port("male", thread), Port("open", "")), node.tag)
        self._end_device(node, run, drain, f"adapter, female thread to {self.stuff}", thread)

    def _coupling(self, node: Node, run: Run) -> None:
        body = node.what.removeprefix("quick coupling ")
        thread = self.thread(body)
        item = f"quick coupling, {body} body, one profile for the site"
        coupling = self.add(OUTLETS, item, thread, (Port("male", thread), Port("open", "")), node.tag)
        self._end_device(node, run, coupling, f"wall adapter, female thread to {self.stuff}", thread, True)

    def _end_device(self, node: Node, run: Run, device: str, adapter: str, thread: str, stands: bool = False) -> None:
        """Put the device at the end of a run into an adapter, up to the middle of it."""
        size, way = self._size(run), self._way(node.id, run)
        ends = (self.socket(size.name), Port("female", thread))
        part = self.add(FITTINGS, adapter, self.sized(size.name, thread), ends, stands=stands)
        self._screw((part, 1), (device, 0), node.id, back(way), 0.0)
        self._end(node.id, run, (part, 0), size.coupling_length_m / 2)

    def _unit(self, node: Node, runs: tuple[Run, ...]) -> None:
        thread = self.thread(DEVICE_THREAD)
        female, treats = Port("female", thread), node.kind is NodeKind.TREATMENT
        group = TREATMENT if treats else OUTLETS
        unit = self.add(group, node.what, thread, (female, female), node.tag, stands=treats)
        half = component(node.what).length_m / 2
        for index, run in enumerate(runs):
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

    def _tube(self, run: Run, make_up: bool) -> None:
        layout, size = self.network.layout, self._size(run)
        start, end = layout.nodes[run.start], layout.nodes[run.end]
        length = layout.length_m(run)
        taken = self.allowance_m[run.start, run.id] + self.allowance_m[run.end, run.id]
        cut, way = length - taken + 2 * size.insertion_m, self._way(run.start, run)
        if cut < 2 * size.insertion_m + LEAST_BETWEEN_SOCKETS_M - 1e-6:
            self._too_short(run, length, taken)
            cut = max(cut, LEAST_BETWEEN_SOCKETS_M)
        lengths = stock_lengths(cut, self.family, size)
        before = self.ends[run.start, run.id]
        for index, part_cut in enumerate(lengths):
            number, last = len(self.pieces) + 1, index == len(lengths) - 1
            after = self.ends[run.end, run.id] if last else self._stock_joint(f"{run.id} {index}", size, way)
            ends = (
                self.plain(size.name, self._port(before).key, back(way)),
                self.plain(size.name, self._port(after).key, way),
            )
            piece = self.add(TUBE, self.family.title, size.name, ends, f"{number}", part_cut)
            centres = part_cut if len(lengths) > 1 else length
            names = called(layout, start), called(layout, end)
            self.pieces.append(Piece(number, run.id, size.name, *names, centres, part_cut, make_up and last))
            self.join(before, (piece, 0))
            self.join((piece, 1), after)
            before = (after[0], 1)

    def _stock_joint(self, key: str, size: TubeSize, way: Point3) -> tuple[str, int]:
        """Add the coupling after a full stock length; return its end towards that."""
        reach = size.coupling_length_m / 2 - size.insertion_m
        ends = self.socket(size.name, f"{key} in", back(way), reach), self.socket(size.name, f"{key} out", way, reach)
        return self.add(FITTINGS, "coupling", size.name, ends), 0

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
                fix="give the way of the main by other walls with path: [...], or have a corner of 90° or 45°",
                source="elbows sold for tube and pipe, common practice",
            )
        )

    def _too_short(self, run: Run, length: float, taken: float) -> None:
        """Fittings that nearly touch are a warning, those that overlap an error."""
        units, layout = self.network.layout.site.units, self.network.layout
        start, end = layout.nodes[run.start], layout.nodes[run.end]
        least = units.length_with_unit(taken + LEAST_BETWEEN_SOCKETS_M)
        where = f"{called(layout, start)} to {called(layout, end)}"
        self.findings.append(
            Finding(
                "CUT001",
                Severity.WARNING if taken <= length else Severity.ERROR,
                layout.site.main.where("material"),
                f"the piece from {where} is too short for its fittings: "
                f"{units.length_with_unit(length)} centre to centre",
                run.outlet or run.id,
                measured=units.length_with_unit(length),
                limit=least,
                fix=f"it needs {least}: use a close fitting there, or give smaller sizes",
                source="centre-to-face and insertion of " + self.family.name,
            )
        )


def called(layout: Layout, node: Node) -> str:
    """What a list calls a node: its tag, or the kind of fitting and the outlet it serves."""
    if node.kind is NodeKind.TEE and layout.is_low_point(node):
        return "low point"
    words = {NodeKind.TAKE_OFF: "take-off", NodeKind.HOSE_END: "hose", NodeKind.TEE: "tee"}.get(node.kind, "bend")
    return node.tag or f"{words} {layout.outlet_at(node)}".strip()
