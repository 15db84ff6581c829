"""Turns the graph of runs into parts that mate: fittings at the nodes, tube between them."""

from __future__ import annotations

from dataclasses import dataclass, field

from drafter.finding import Finding, Severity
from drafter.layout.graph import Layout, Node, NodeKind, Run, RunKind
from drafter.sizing.network import Network
from drafter.standards.components import component
from drafter.standards.materials import Material, TubeSize
from drafter.supports.couplings import stock_lengths
from drafter.takeoff.make_up import make_up_runs
from drafter.takeoff.part import Joint, Part, Port
from drafter.takeoff.tees import branch_of, tee_sizes

TUBE, FITTINGS, VALVES, OUTLETS = "tube", "fittings", "valves and drains", "outlets"
SUPPLY, TREATMENT, SUPPORTS, SUNDRIES = "compressor connection", "treatment", "supports", "sundries"
DEVICE_THREAD = "1/2"
LEAST_BETWEEN_SOCKETS_M = 0.01


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
class Assembling:
    """Parts and joints so far. ``ends`` holds, for each node and run, the free port that waits there."""

    network: Network
    parts: list[Part] = field(default_factory=list)
    joints: list[Joint] = field(default_factory=list)
    pieces: list[Piece] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    ends: dict[tuple[str, str], tuple[str, int]] = field(default_factory=dict)
    allowance_m: dict[tuple[str, str], float] = field(default_factory=dict)

    @property
    def family(self) -> Material:
        return self.network.material

    def thread(self, size: str) -> str:
        """A thread of the site's standard, as the trade writes it."""
        standard = self.network.layout.site.threads
        return f"G {size}" if standard == "G" else f"{size} NPT"

    def sized(self, *names: str) -> str:
        """Several sizes in one, as the trade writes them: ``1 x 1 x 1/2``, or ``22 x 2 / 15 x 1.5``."""
        return (" x " if self.family.inch_sized else " / ").join(names)

    def add(self, group: str, item: str, size: str, ports: tuple[Port, ...], tag: str = "", cut_m: float = 0.0) -> str:
        id = f"{len(self.parts) + 1}"
        self.parts.append(Part(id, group, item, size, ports, tag, cut_m))
        return id

    def join(self, first: tuple[str, int], second: tuple[str, int]) -> None:
        self.joints.append(Joint(first, second))

    def run(self) -> None:
        for node in self.network.layout.nodes.values():
            self._node(node)
        make_up = make_up_runs(self.network.layout)
        for run in self.network.layout.runs:
            if run.kind not in (RunKind.CONNECTION, RunKind.FLEXIBLE):
                self._tube(run, run.id in make_up)

    def _size(self, run: Run) -> TubeSize:
        return self.network.sizes[run.id]

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
            case NodeKind.BEND | NodeKind.TEE | NodeKind.TAKE_OFF:
                self._fitting(node, runs)

    def _supply(self, tank: Node) -> None:
        """From the tank's port: nipple, lockable ball valve, flexible connection, adapter to the tube."""
        layout, thread = self.network.layout, self.thread(DEVICE_THREAD)
        flexible = next(run for run in layout.runs if run.kind is RunKind.FLEXIBLE)
        riser = next(run for run in layout.runs_at[flexible.end] if run.kind is RunKind.RISER)
        male, female = Port("male", thread), Port("female", thread)
        port = self.add(SUPPLY, "compressor on tank", thread, (female,), tank.tag)
        nipple = self.add(SUPPLY, "hexagon nipple", thread, (male, male))
        valve = self.add(VALVES, "ball valve, lockable, threaded", thread, (female, female), "V-01")
        reach = layout.length_m(flexible) * 1.1
        length = max(0.3, -(-reach // 0.1) * 0.1)
        hose_size = f"{thread}, {layout.site.units.length_with_unit(length)}"
        hose = self.add(SUPPLY, "flexible connection, rated for the discharge", hose_size, (male, male))
        self.join((port, 0), (nipple, 0))
        self.join((nipple, 1), (valve, 0))
        self.join((valve, 1), (hose, 0))
        size = self._size(riser)
        adapter = self.add(
            FITTINGS,
            "adapter, female thread to tube",
            self.sized(size.name, thread),
            (female, Port("socket", size.name)),
        )
        self.join((hose, 1), (adapter, 0))
        self._end(flexible.end, riser, (adapter, 1), size.coupling_length_m / 2)

    def _end(self, node_id: str, run: Run, port: tuple[str, int], centre_to_face_m: float) -> None:
        """Note the socket that waits at a node for a run's tube; a run of another size gets a reducer."""
        waiting = self._port(port)
        size = self._size(run)
        if waiting.size != size.name:
            small, large = sorted((waiting.size, size.name), key=self._outside)
            plug = self.add(
                FITTINGS,
                "reducer, plug-in",
                self.sized(large, small),
                (Port("tube", waiting.size), Port("socket", size.name)),
            )
            self.join(port, (plug, 0))
            port = (plug, 1)
            centre_to_face_m += size.coupling_length_m / 2
        self.ends[node_id, run.id] = port
        self.allowance_m[node_id, run.id] = centre_to_face_m

    def _port(self, port: tuple[str, int]) -> Port:
        return self.parts[int(port[0]) - 1].ports[port[1]]

    def _outside(self, name: str) -> float:
        size = self.family.find_size(name)
        return size.outside_m if size else 0.0

    def _valve(self, node: Node, runs: tuple[Run, ...]) -> None:
        size = max((self._size(run) for run in runs), key=lambda size: size.outside_m)
        socket = Port("socket", size.name)
        valve = self.add(VALVES, "ball valve with tube ends", size.name, (socket, socket), node.tag)
        for index, run in enumerate(runs):
            self._end(node.id, run, (valve, index), size.valve_length_m / 2)

    def _drain(self, node: Node, run: Run) -> None:
        size, thread = self._size(run), self.thread(DEVICE_THREAD)
        kind = "automatic drain" if self.network.layout.site.main.drains == "automatic" else "drain valve"
        adapter = self.add(
            FITTINGS, "adapter, female thread to tube", self.sized(size.name, thread),
            (Port("socket", size.name), Port("female", thread)),
        )  # fmt: skip
        drain = self.add(VALVES, kind, thread, (Port("male", thread), Port("open", "")), node.tag)
        self.join((adapter, 1), (drain, 0))
        self._end(node.id, run, (adapter, 0), size.coupling_length_m / 2)

    def _coupling(self, node: Node, run: Run) -> None:
        size, body = self._size(run), node.what.removeprefix("quick coupling ")
        thread = self.thread(body)
        adapter = self.add(
            FITTINGS, "wall adapter, female thread to tube", self.sized(size.name, thread),
            (Port("socket", size.name), Port("female", thread)),
        )  # fmt: skip
        coupling = self.add(
            OUTLETS, f"quick coupling, {body} body, one profile for the site", thread,
            (Port("male", thread), Port("open", "")), node.tag,
        )  # fmt: skip
        self.join((adapter, 1), (coupling, 0))
        self._end(node.id, run, (adapter, 0), size.coupling_length_m / 2)

    def _unit(self, node: Node, runs: tuple[Run, ...]) -> None:
        thread = self.thread(DEVICE_THREAD)
        female = Port("female", thread)
        group = TREATMENT if node.kind is NodeKind.TREATMENT else OUTLETS
        unit = self.add(group, node.what, thread, (female, female), node.tag)
        half = component(node.what).length_m / 2
        for index, run in enumerate(runs):
            size = self._size(run)
            adapter = self.add(
                FITTINGS, "adapter, male thread to tube", self.sized(size.name, thread),
                (Port("male", thread), Port("socket", size.name)),
            )  # fmt: skip
            self.join((unit, index), (adapter, 0))
            self._end(node.id, run, (adapter, 1), half + size.coupling_length_m / 2)

    def _fitting(self, node: Node, runs: tuple[Run, ...]) -> None:
        sizes = [self._size(run) for run in runs]
        largest = max(sizes, key=lambda size: size.outside_m)
        if len(runs) == 2:
            sockets = (Port("socket", largest.name),) * 2
            fitting = self.add(FITTINGS, "elbow 90°", largest.name, sockets)
        else:
            branch = branch_of(self.network.layout, node, runs)
            one, other = (i for i in range(3) if i != branch)
            bodies = tee_sizes(self.family, sizes[one], sizes[other], sizes[branch])
            of_end = dict(zip((one, other, branch), bodies, strict=True))
            through = sorted(bodies[:2], key=lambda size: -size.outside_m)
            names = [size.name for size in (*through, bodies[2])]
            equal = len(set(names)) == 1
            title = names[0] if equal else self.sized(*names)
            ports = tuple(Port("socket", of_end[i].name) for i in range(3))
            fitting = self.add(FITTINGS, "tee" if equal else "reducing tee", title, ports)
        for index, run in enumerate(runs):
            self._end(node.id, run, (fitting, index), largest.centre_to_face_m)

    def _tube(self, run: Run, make_up: bool) -> None:
        layout, size = self.network.layout, self._size(run)
        start, end = layout.nodes[run.start], layout.nodes[run.end]
        length = layout.length_m(run)
        taken = self.allowance_m[run.start, run.id] + self.allowance_m[run.end, run.id]
        cut = length - taken + 2 * size.insertion_m
        if cut < 2 * size.insertion_m + LEAST_BETWEEN_SOCKETS_M - 1e-6:
            self._too_short(run, length, taken)
            cut = max(cut, LEAST_BETWEEN_SOCKETS_M)
        lengths = stock_lengths(cut, self.family, size)
        before = self.ends[run.start, run.id]
        for index, part_cut in enumerate(lengths):
            number = len(self.pieces) + 1
            plain = Port("tube", size.name)
            piece = self.add(TUBE, self.family.title, size.name, (plain, plain), f"{number}", part_cut)
            centres, last = part_cut if len(lengths) > 1 else length, index == len(lengths) - 1
            names = called(layout, start), called(layout, end)
            self.pieces.append(Piece(number, run.id, size.name, *names, centres, part_cut, make_up and last))
            self.join(before, (piece, 0))
            if not last:
                socket = Port("socket", size.name)
                coupling = self.add(FITTINGS, "coupling", size.name, (socket, socket))
                self.join((piece, 1), (coupling, 0))
                before = (coupling, 1)
            else:
                self.join((piece, 1), self.ends[run.end, run.id])

    def _too_short(self, run: Run, length: float, taken: float) -> None:
        units, layout = self.network.layout.site.units, self.network.layout
        start, end = layout.nodes[run.start], layout.nodes[run.end]
        least = units.length_with_unit(taken + LEAST_BETWEEN_SOCKETS_M)
        where = f"{called(layout, start)} to {called(layout, end)}"
        self.findings.append(
            Finding(
                "CUT001",
                Severity.WARNING,
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
