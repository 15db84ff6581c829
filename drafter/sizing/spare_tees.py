"""The pressure that a later drop would find at each spare tee, on top of the worst cases of today."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drafter.layout.graph import NodeKind
from drafter.sizing.cases import CaseResults, Piping
from drafter.sizing.demand import Case, free_air_m3_s
from drafter.standards.air import atmospheric_pressure_pa
from drafter.standards.materials import TubeSize


@dataclass(frozen=True, slots=True)
class SpareFlow:
    """A spare tee with a later drop in use.

    Attributes:
        free_air_m3_s: that the later drop takes.
        gauge_pressure_pa: in the main at the tee, with the compressor at cut-in; 0 where the air cannot pass.
        now_pa: the same today, before there is a drop.
        together_with: tags of the outlets that run at the same time.
    """

    tag: str
    free_air_m3_s: float
    gauge_pressure_pa: float
    now_pa: float
    together_with: tuple[str, ...]


def spare_flows(piping: Piping, sizes: Sequence[TubeSize], results: CaseResults) -> tuple[SpareFlow, ...]:
    """Return for each spare tee what is left there in the worst of the outlets' worst cases, its own flow added.

    Past the last outlet a main carries no air, and the pressure of its last outlet's tee stands there.

    Source:
        the network solved again with the flow drawn at the tee; the hungriest outlet's flow where none is given.
    """
    layout = piping.sections.layout
    spares = [node for node in layout.nodes.values() if node.kind is NodeKind.SPARE_TEE]
    usual = max(piping.demand.peaks_m3_s.values())
    flows = [
        usual if spare.free_air is None else free_air_m3_s(layout.site, spare.free_air)
        for spare in layout.site.main.spare_tees
    ]
    return tuple(_spare_flow(piping, sizes, results, node.tag, flow) for node, flow in zip(spares, flows, strict=True))


def _spare_flow(piping: Piping, sizes: Sequence[TubeSize], results: CaseResults, tag: str, flow: float) -> SpareFlow:
    today = [solved.case for solved in results.worst.values()] + list(piping.demand.written)
    later = [Case(f"{case.name}, with {tag}", {**case.flows_m3_s, tag: flow}) for case in today]
    number = piping.sections.draw_nodes[tag]
    solved = piping.solve_all(sizes, later)
    worst = min(solved, key=lambda each: float(each.absolute_pa[number]))
    before = min(float(each.absolute_pa[number]) for each in piping.solve_all(sizes, today))
    atmosphere_pa = atmospheric_pressure_pa(piping.sections.layout.site.altitude_m)
    left = 0.0 if worst.choked else max(0.0, float(worst.absolute_pa[number]) - atmosphere_pa)
    others = tuple(each for each in worst.case.flows_m3_s if each != tag)
    return SpareFlow(tag, flow, left, max(0.0, before - atmosphere_pa), others)
