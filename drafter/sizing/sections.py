"""The runs that carry air, joined to sections between branchings, as arrays for the solver."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from drafter.layout.graph import Layout, NodeKind, Run, RunKind
from drafter.sizing.bends import Bend, bends_of
from drafter.sizing.carrying import carrying_runs, runs_on_rings
from drafter.standards.losses import bend_loss, fitting_loss
from drafter.standards.materials import Material, TubeSize

Floats = NDArray[np.float64]

HOSE_ROUGHNESS_M = 2e-5
"""Of smooth rubber hose (common practice)."""

STRAIGHT = 0.98
"""Cosine above which two runs count as one straight line: bends of less than 11 degrees."""

PARTS = {
    RunKind.CONNECTION: "connection",
    RunKind.FLEXIBLE: "hose",
    RunKind.RISER: "riser",
    RunKind.TREATMENT: "riser",
    RunKind.MAIN: "main",
    RunKind.RISE: "main",
    RunKind.SLEEVE: "main",
}
"""What a run belongs to; everything else is part of a drop."""


@dataclass(frozen=True, slots=True)
class Section:
    """Runs in line with one flow through them.

    Attributes:
        runs: in the direction in which the line fills; on a ring the air may flow the other way.
        start, end: node ids.
        outlets: tags of all outlets that may take air through it: those it feeds, on a ring all the ring feeds.
        part: ``connection``, ``hose``, ``riser``, ``main`` or ``drop``.
        ring: whether it lies on a ring.
    """

    runs: tuple[Run, ...]
    start: str
    end: str
    outlets: tuple[str, ...]
    part: str
    ring: bool


@dataclass(frozen=True)
class Sections:
    """All sections of a layout, each after one that feeds it."""

    layout: Layout
    material: Material
    sections: tuple[Section, ...]

    @cached_property
    def node_numbers(self) -> Mapping[str, int]:
        names = dict.fromkeys([self.sections[0].start, *(section.end for section in self.sections)])
        return {name: number for number, name in enumerate(names)}

    @cached_property
    def ends(self) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
        """Node numbers of the start and of the end of each section."""
        numbers = self.node_numbers
        start = np.array([numbers[section.start] for section in self.sections])
        return start, np.array([numbers[section.end] for section in self.sections])

    @cached_property
    def length_m(self) -> Floats:
        """Length of each section [m]."""
        return np.array([sum(self.layout.length_m(run) for run in section.runs) for section in self.sections])

    @cached_property
    def coupling_nodes(self) -> Mapping[str, int]:
        return {node.tag: self.node_numbers[node.id] for node in self.layout.couplings}

    @cached_property
    def draw_nodes(self) -> Mapping[str, int]:
        """Where air may be drawn, by tag: at the couplings and at the spare tees.

        A spare tee past the last outlet, where no air flows, draws from the last node before it that carries air.
        """
        found = dict(self.coupling_nodes)
        for node in self.layout.nodes.values():
            if node.kind is NodeKind.SPARE_TEE:
                carries = node.id
                while carries not in self.node_numbers:
                    carries = self.layout.runs_at[carries][0].start
                found[node.tag] = self.node_numbers[carries]
        return found

    @cached_property
    def fed_by(self) -> tuple[int | None, ...]:
        """Index of a section that feeds each section, None at the tank."""
        found: dict[str, int] = {}
        for index, section in enumerate(self.sections):
            found.setdefault(section.end, index)
        return tuple(found.get(section.start) for section in self.sections)

    @property
    def has_ring(self) -> bool:
        return any(section.ring for section in self.sections)

    @cached_property
    def section_of_run(self) -> Mapping[str, int]:
        """Index of the section whose size each run has, by its id; what hangs still is as the line before it."""
        of_run = {run.id: index for index, section in enumerate(self.sections) for run in section.runs}
        brought: dict[str, int] = {}
        for run in self.layout.runs:
            index = of_run.setdefault(run.id, brought.get(run.start, 0))
            brought.setdefault(run.end, index)
        return of_run

    @cached_property
    def bought_m(self) -> Floats:
        """Length of tube that has the size of each section, drip legs and dead ends with it [m]."""
        lengths = np.zeros(len(self.sections))
        for run in self.layout.runs:
            if run.kind is not RunKind.FLEXIBLE:
                lengths[self.section_of_run[run.id]] += self.layout.length_m(run)
        return lengths

    def run_sizes(self, sizes: Sequence[TubeSize]) -> dict[str, TubeSize]:
        """Return the size of every run by its id, from one size a section."""
        return {run: sizes[index] for run, index in self.section_of_run.items()}

    @cached_property
    def _fittings(self) -> tuple[Counter[str], ...]:
        """The fittings that air passes in each section, and how many of each."""
        return tuple(
            Counter(name for run in section.runs if (name := fitting_at_start(self.layout, run)))
            for section in self.sections
        )

    @cached_property
    def _roughness_m(self) -> Floats:
        return np.array([self.roughness_m(section.runs[0]) for section in self.sections])

    def arrays(self, sizes: Sequence[TubeSize]) -> tuple[Floats, Floats, Floats, Floats]:
        """Return length, bore, roughness [m] and loss coefficient [1] of each section, from one size a section."""
        bores = [size.bore_m for size in sizes]
        losses = [
            sum(count * self._loss(name, size.bore_m) for name, count in fittings.items())
            + self._bent_for_elbows[size.name][index]
            for index, (fittings, size) in enumerate(zip(self._fittings, sizes, strict=True))
        ]
        return self.length_m, np.array(bores), self._roughness_m, np.array(losses)

    def roughness_m(self, run: Run) -> float:
        """Return the roughness of a run's bore [m]."""
        return HOSE_ROUGHNESS_M if run.kind is RunKind.FLEXIBLE else self.material.roughness_m

    def loss(self, run: Run, size: TubeSize) -> float:
        """Return the loss coefficient of what stands at a run's start, or of the bend there, on its bore [1]."""
        name = fitting_at_start(self.layout, run)
        return (self._loss(name, size.bore_m) if name else 0.0) + self._bent_for_elbow(size, run)

    def _bent_for_elbow(self, size: TubeSize, run: Run) -> float:
        """What the loss at a run's start changes by, where the tube is bent there and has no elbow."""
        bend = self._bends[size.name].get(run.start)
        if bend is None:
            return 0.0
        return bend_loss(size.bore_m, bend.radius_m, bend.turn_rad) - self._loss("elbow", size.bore_m)

    @cached_property
    def _bent_for_elbows(self) -> Mapping[str, tuple[float, ...]]:
        """For each size, the same of each section."""
        return {
            size.name: tuple(
                sum((self._bent_for_elbow(size, run) for run in section.runs), 0.0) for section in self.sections
            )
            for size in self.material.sizes
        }

    @cached_property
    def _bends(self) -> Mapping[str, Mapping[str, Bend]]:
        """For each size, where all tube of that size would be bent."""
        runs = [run.id for run in self.layout.runs]
        return {
            size.name: bends_of(self.layout, self.material, dict.fromkeys(runs, size)) for size in self.material.sizes
        }

    def _loss(self, fitting: str, bore_m: float) -> float:
        return _loss_of(fitting, bore_m, self.material.insert_bore_ratio)


@lru_cache(maxsize=4096)
def _loss_of(fitting: str, bore_m: float, insert_bore_ratio: float) -> float:
    return fitting_loss(fitting, bore_m, insert_bore_ratio)


def fitting_at_start(layout: Layout, run: Run) -> str:
    """Return the fitting that air passes on its way into a run, or an empty name.

    The elbows at the ends of the flexible connection are not counted: a few ten pascals.

    Source:
        names of `drafter/standards/losses.yaml`.
    """
    node = layout.nodes[run.start]
    if node.kind is NodeKind.TANK:
        return "entrance"
    if node.kind is NodeKind.VALVE:
        return "ball valve"
    if node.kind in (NodeKind.TREATMENT, NodeKind.SERVICE, NodeKind.HOSE_END):
        return ""
    if node.kind is NodeKind.SPARE_TEE:
        return "tee run"
    runs = layout.runs_at[node.id]
    straight = _in_line(layout, runs[0], run)
    if len(runs) > 2:
        return "tee run" if straight else "tee branch"
    return "" if straight else "elbow"


def _in_line(layout: Layout, first: Run, second: Run) -> bool:
    ends = [(layout.nodes[run.start].at, layout.nodes[run.end].at) for run in (first, second)]
    (a, b), (c, d) = ends
    one, other = b.minus(a), d.minus(c)
    return one.dot(other) > STRAIGHT * one.length * other.length


def sections_of(layout: Layout, material: Material) -> Sections:
    """Join the runs that carry air; drip legs and dead ends hang still and are left out.

    Source:
        mass balance: runs in line with nothing between them carry one flow.
    """
    carrying = carrying_runs(layout)
    outlets, on_ring = _outlets_behind(layout, carrying), runs_on_rings(layout)
    order = {outlet.tag: number for number, outlet in enumerate(layout.site.outlets)}
    sections: list[Section] = []
    done: set[str] = set()
    for first in layout.runs:
        if first.id not in carrying or first.id in done:
            continue
        runs = [first]
        while True:
            meeting = [run for run in layout.runs_at[runs[-1].end] if run.id in carrying]
            if layout.nodes[runs[-1].end].kind is NodeKind.SPARE_TEE:
                break
            ahead = [run for run in meeting if run.start == runs[-1].end]
            if len(meeting) != 2 or len(ahead) != 1 or part_of(ahead[0]) != part_of(first):
                break
            runs.append(ahead[0])
        done |= {run.id for run in runs}
        tags = tuple(sorted(outlets[first.id], key=lambda tag: order[tag]))
        sections.append(Section(tuple(runs), first.start, runs[-1].end, tags, part_of(first), first.id in on_ring))
    return Sections(layout, material, tuple(sections))


def part_of(run: Run) -> str:
    """Return which part of the line a run belongs to.

    Source:
        none; names of the trade.
    """
    return PARTS.get(run.kind, "drop")


def _outlets_behind(layout: Layout, carrying: frozenset[str]) -> dict[str, set[str]]:
    """Tags of the outlets behind each carrying run; runs on one ring share all that the ring feeds."""
    behind: dict[str, set[str]] = {run.id: set() for run in layout.runs}
    for run in reversed(layout.runs):
        end = layout.nodes[run.end]
        if end.kind is NodeKind.COUPLING:
            behind[run.id].add(end.tag)
        for other in layout.runs_at[run.end]:
            if other.start == run.end:
                behind[run.id] |= behind[other.id]
    ring = runs_on_rings(layout)
    together: set[str] = set().union(*(behind[id] for id in ring))
    return {id: together if id in ring else tags for id, tags in behind.items() if id in carrying}
