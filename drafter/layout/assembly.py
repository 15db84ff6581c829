"""Collects nodes and runs while an installation is laid out, and numbers them in the order of flow."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field, replace

from drafter.finding import Place
from drafter.geometry import Point, Point3
from drafter.layout.graph import Layout, Node, NodeKind, Run, RunKind
from drafter.layout.route import Route
from drafter.site.model import Site
from drafter.site.wall import Wall


@dataclass
class Assembly:
    """Nodes and runs so far; ``valves``, ``drains`` and ``spares`` count the tags given."""

    nodes: dict[str, Node] = field(default_factory=dict)
    runs: list[Run] = field(default_factory=list)
    valves: int = 0
    drains: int = 0
    spares: int = 0

    def node(
        self,
        kind: NodeKind,
        plan: Point,
        height_m: float,
        wall: Wall,
        tag: str = "",
        what: str = "",
        place: Place | None = None,
    ) -> str:
        """Add a node and return its id; valves, drains and spare tees are tagged in the order they come."""
        if kind is NodeKind.VALVE:
            self.valves += 1
            tag = f"V-{self.valves:02d}"
        elif kind is NodeKind.DRAIN:
            self.drains += 1
            tag = f"D-{self.drains:02d}"
        elif kind is NodeKind.SPARE_TEE:
            self.spares += 1
            tag = f"P-{self.spares:02d}"
        id = f"N{len(self.nodes) + 1}"
        at = Point3(plan.x, plan.y, height_m)
        self.nodes[id] = Node(id, kind, at, wall.room, wall.name, tag, what, place or Place())
        return id

    def run(self, kind: RunKind, start: str, end: str, wall: Wall, outlet: str = "") -> None:
        self.runs.append(Run("", kind, start, end, wall.room, wall.name, outlet))

    def split(self, number: int, middle: str) -> None:
        """Put a node into a run, which becomes two."""
        run = self.runs[number]
        self.runs[number : number + 1] = [replace(run, end=middle), replace(run, start=middle)]

    def raise_to(self, id: str, height_m: float) -> None:
        """Change how high a node is."""
        node = self.nodes[id]
        self.nodes[id] = replace(node, at=Point3(node.at.x, node.at.y, height_m))

    def become(self, id: str, kind: NodeKind) -> None:
        """Change what stands at a node, as when a bend turns out to be a tee."""
        self.nodes[id] = replace(self.nodes[id], kind=kind)

    def layout(self, site: Site, route: Route) -> Layout:
        """Return the finished layout, runs numbered from the tank outwards."""
        leaving: dict[str, list[Run]] = {}
        for run in self.runs:
            leaving.setdefault(run.start, []).append(run)
        arriving = Counter(run.end for run in self.runs)
        ordered: list[Run] = []
        waiting = [next(iter(self.nodes))]
        while waiting:
            for run in leaving.get(waiting.pop(0), []):
                ordered.append(run)
                arriving[run.end] -= 1
                if not arriving[run.end]:
                    waiting.append(run.end)
        turn = {"": -1} | {outlet.tag: number for number, outlet in enumerate(site.outlets)}
        ordered.sort(key=lambda run: turn[run.outlet])
        numbered = tuple(replace(run, id=f"P{number}") for number, run in enumerate(ordered, 1))
        return Layout(site, dict(self.nodes), numbered, route.reasons, route.closed)
