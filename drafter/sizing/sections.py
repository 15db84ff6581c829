"""The runs that carry air, joined to sections between branchings, as arrays for the solver."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from drafter.layout.graph import Layout, NodeKind, Run, RunKind
from drafter.standards.losses import fitting_loss
from drafter.standards.materials import Material, TubeSize

Floats = NDArray[np.float64]

HOSE_ROUGHNESS_M = 2e-5
"""Of smooth rubber hose (common practice)."""

STRAIGHT = 0.98
"""Cosine above which two runs count as one straight line: bends of less than 11 degrees."""


@dataclass(frozen=True, slots=True)
class Section:
    """Runs in line with one flow through them.

    Attributes:
        runs: in the direction of flow.
        start, end: node ids.
        outlets: tags of all outlets it feeds.
    """

    runs: tuple[Run, ...]
    start: str
    end: str
    outlets: tuple[str, ...]


@dataclass(frozen=True)
class Sections:
    """All sections of a layout, each after the one that feeds it."""

    layout: Layout
    material: Material
    sections: tuple[Section, ...]

    @cached_property
    def node_numbers(self) -> Mapping[str, int]:
        names = [self.sections[0].start, *(section.end for section in self.sections)]
        return {name: number for number, name in enumerate(names)}

    @cached_property
    def feeding(self) -> Mapping[str, tuple[int, ...]]:
        """By outlet tag: indices of the sections between the tank and its coupling."""
        ways: dict[str, list[int]] = {}
        for index, section in enumerate(self.sections):
            for tag in section.outlets:
                ways.setdefault(tag, []).append(index)
        return {tag: tuple(way) for tag, way in ways.items()}

    @cached_property
    def coupling_nodes(self) -> Mapping[str, int]:
        return {node.tag: self.node_numbers[node.id] for node in self.layout.couplings}

    def sizes(self, main: TubeSize, drop: TubeSize) -> dict[str, TubeSize]:
        """Return the size of each run by its id, for one size of the main and one of the drops."""
        return {run.id: drop if run.outlet else main for run in self.layout.runs}

    def arrays(self, sizes: Mapping[str, TubeSize]) -> tuple[Floats, Floats, Floats, Floats]:
        """Return length, bore, roughness [m] and loss coefficient [1] of each section."""
        bores = [sizes[section.runs[0].id].bore_m for section in self.sections]
        lengths, losses = [], []
        for section, bore_m in zip(self.sections, bores, strict=True):
            lengths.append(sum(self.layout.length_m(run) for run in section.runs))
            losses.append(sum(self.loss(run, bore_m) for run in section.runs))
        roughness = [self.roughness_m(section.runs[0]) for section in self.sections]
        return np.array(lengths), np.array(bores), np.array(roughness), np.array(losses)

    def roughness_m(self, run: Run) -> float:
        """Return the roughness of a run's bore [m]."""
        return HOSE_ROUGHNESS_M if run.kind is RunKind.FLEXIBLE else self.material.roughness_m

    def loss(self, run: Run, bore_m: float) -> float:
        """Return the loss coefficient of what stands at a run's start, on its bore [1]."""
        name = fitting_at_start(self.layout, run)
        return fitting_loss(name, bore_m, self.material.insert_bore_ratio) if name else 0.0


def fitting_at_start(layout: Layout, run: Run) -> str:
    """Return the fitting that air passes on its way into a run, or an empty name.

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
    """Join the runs that carry air; drip legs hang still and are left out.

    Source:
        mass balance: runs in line with nothing between them carry one flow.
    """
    fed: dict[str, set[str]] = {run.id: set() for run in layout.runs}
    for run in reversed(layout.runs):
        end = layout.nodes[run.end]
        if end.kind is NodeKind.COUPLING:
            fed[run.id].add(end.tag)
        for other in layout.runs_at[run.end]:
            if other.start == run.end:
                fed[run.id] |= fed[other.id]
    order = {outlet.tag: number for number, outlet in enumerate(layout.site.outlets)}
    sections: list[Section] = []
    for first in layout.runs:
        if not fed[first.id] or (sections and any(first in section.runs for section in sections)):
            continue
        runs = [first]
        while True:
            ahead = [run for run in layout.runs_at[runs[-1].end] if run.start == runs[-1].end and fed[run.id]]
            if len(ahead) != 1 or _kind_of(ahead[0]) != _kind_of(first):
                break
            runs.append(ahead[0])
        tags = tuple(sorted(fed[first.id], key=lambda tag: order[tag]))
        sections.append(Section(tuple(runs), first.start, runs[-1].end, tags))
    return Sections(layout, material, tuple(sections))


def _kind_of(run: Run) -> str:
    """Runs of one size and roughness: the flexible connection, the drops, and all the rest."""
    if run.kind is RunKind.FLEXIBLE:
        return "hose"
    return "drop" if run.outlet else "main"
