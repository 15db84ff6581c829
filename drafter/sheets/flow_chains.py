"""The installation as chains of stations in the order of flow: what a flow diagram shows, without any place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from drafter.layout.graph import Layout, Node, NodeKind, Run, RunKind
from drafter.sheets.scene import Scene
from drafter.sizing.carrying import runs_on_rings

COMPRESSOR, TANK, RING, TEE, SLEEVE, END = "compressor", "tank", "ring", "tee", "sleeve", "end"
"""What stands at a station besides the kinds of nodes."""

IN_LINE = {
    NodeKind.VALVE: "valve",
    NodeKind.TREATMENT: "treatment",
    NodeKind.SPARE_TEE: "spare tee",
}
TAKE_OFF, DRAIN, HOSE = "take-off", "drain", "hose"


@dataclass(frozen=True, slots=True)
class Station:
    """What stands at one place of a chain.

    Attributes:
        kind: one of the words above.
        node: what stands there; for a drain, the drain valve itself; for a sleeve, the node behind the wall.
        run: the run that the air comes by from the station before; None where both stand at one node.
        outlet: tag of the outlet of a take-off.
        branches: chains that begin here, besides the one that goes on.
        back: whether a ring fills from this station to the one before it.
    """

    kind: str
    node: Node
    run: Run | None = None
    outlet: str = ""
    branches: tuple[Chain, ...] = ()
    back: bool = False


@dataclass(frozen=True, slots=True)
class Chain:
    """Stations one after the other; where the last is a ring, the stations once round it.

    Attributes:
        ring: stations from the ring's first tee along one arm and back along the other.
        closing: the run from the last station of the ring back to where it begins.
    """

    stations: tuple[Station, ...]
    ring: tuple[Station, ...] = ()
    closing: Run | None = None


@dataclass
class _Walk:
    scene: Scene
    on_ring: frozenset[str] = field(init=False)

    def __post_init__(self) -> None:
        self.on_ring = runs_on_rings(self.layout)

    @property
    def layout(self) -> Layout:
        return self.scene.layout

    def leaving(self, node: str) -> list[Run]:
        """The runs of the line itself that leave a node, the one with the largest flow first."""
        runs = [run for run in self.layout.runs_at[node] if run.start == node]
        runs = [run for run in runs if not run.outlet and run.kind is not RunKind.DRIP_LEG]
        flow = self.scene.design.network.pipe
        return sorted(runs, key=lambda run: -flow(run.id).free_air_m3_s)

    def chain(self, first: Run) -> Chain:
        """Follow a line from one of its runs to where it ends, along the larger flow where it parts."""
        stations, run = list[Station](), first
        while True:
            ahead = self.leaving(run.end)
            arms = [each for each in ahead if each.id in self.on_ring]
            going = [each for each in ahead if each not in arms]
            here = list(self.at(run))
            if len(arms) == 2:
                branches = tuple(self.chain(each) for each in going)
                here.append(self._next(here, Station(RING, self.layout.nodes[run.end], run, branches=branches)))
                return Chain((*stations, *here), *self._around(arms[0], arms[1]))
            if len(going) > 1:
                branches = tuple(self.chain(each) for each in going[1:])
                here.append(self._next(here, Station(TEE, self.layout.nodes[run.end], run, branches=branches)))
            if not going and not here:
                here.append(Station(END, self.layout.nodes[run.end], run))
            stations += here
            if not going:
                return Chain(tuple(stations))
            run = going[0]

    def _next(self, here: list[Station], station: Station) -> Station:
        """A station that stands at the node of those before it has no run of its own."""
        return replace(station, run=None) if here else station

    def at(self, run: Run) -> Iterator[Station]:
        """What stands at the end of a run: units and valves in the line, take-offs, drains."""
        node, found = self.layout.nodes[run.end], list[tuple[str, Node, str]]()
        if run.kind is RunKind.SLEEVE:
            found.append((SLEEVE, node, ""))
        if run.kind is RunKind.FLEXIBLE:
            found.append((HOSE, node, ""))
        if node.kind in IN_LINE:
            found.append((IN_LINE[node.kind], node, ""))
        meeting = [each for each in self.layout.runs_at[node.id] if each.start == node.id]
        tags = dict.fromkeys(each.outlet for each in meeting if each.outlet)
        found += [(TAKE_OFF, node, tag) for tag in tags]
        found += [
            (DRAIN, self.layout.nodes[each.end], "")
            for each in meeting
            if each.kind is RunKind.DRIP_LEG and not each.outlet
        ]
        for number, (kind, there, tag) in enumerate(found):
            yield Station(kind, there, None if number else run, tag)

    def _around(self, right: Run, left: Run) -> tuple[tuple[Station, ...], Run]:
        """The stations of a ring: along one arm to where both meet, and back along the other."""
        out, back = self._arm(right), self._arm(left)
        meeting = next(run for run, _ in reversed(out) for other, _ in back if run.end == other.end)
        ends = [index for index, (run, _) in enumerate(back) if run.end == meeting.end]
        stations = [each for _, here in out for each in here]
        arm, coming = back[: ends[0]], back[ends[0]][0]
        for run, here in reversed(arm):
            for number, station in enumerate(reversed(here)):
                arrives = coming if number == 0 else None
                stations.append(replace(station, run=arrives, back=True))
            if here:
                coming = run
        return tuple(stations), coming

    def _arm(self, first: Run) -> list[tuple[Run, list[Station]]]:
        """The runs of an arm of a ring in the direction of filling, each with what stands at its end."""
        found, run = list[tuple[Run, list[Station]]](), first
        while True:
            ahead = self.leaving(run.end)
            on = [each for each in ahead if each.id in self.on_ring]
            here = list(self.at(run))
            if branches := tuple(self.chain(each) for each in ahead if each not in on):
                here.append(self._next(here, Station(TEE, self.layout.nodes[run.end], run, branches=branches)))
            found.append((run, here))
            if not on:
                return found
            run = on[0]


def flow_chain(scene: Scene) -> Chain:
    """Return the chain that begins at the compressor, with all that branches from it."""
    first = scene.layout.runs[0]
    tank = scene.layout.nodes[first.start]
    whole = _Walk(scene).chain(first)
    start = (Station(COMPRESSOR, tank), Station(TANK, tank))
    return Chain((*start, *whole.stations), whole.ring, whole.closing)


def all_stations(chain: Chain) -> Iterator[Station]:
    """Yield every station of a chain and of what branches from it."""
    for station in (*chain.stations, *chain.ring):
        yield station
        for branch in station.branches:
            yield from all_stations(branch)
