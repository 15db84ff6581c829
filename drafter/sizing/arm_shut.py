"""What a ring still gives while one of its valves is shut and air comes one way round only."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from drafter.layout.graph import NodeKind
from drafter.quantity import Units
from drafter.sizing.cases import Piping, case_results
from drafter.sizing.groups import velocity_m_s
from drafter.sizing.tool_end import tool_end
from drafter.standards.air import atmospheric_pressure_pa
from drafter.standards.materials import TubeSize


@dataclass(frozen=True, slots=True)
class Starved:
    """A tool that gets less than it needs.

    Attributes:
        tool_pressure_pa: gauge, at the tool with the compressor at cut-in.
    """

    outlet: str
    tool_pressure_pa: float
    needed_pa: float


@dataclass(frozen=True, slots=True)
class ArmShut:
    """A ring with one valve shut, in the worst cases of that state.

    Attributes:
        valve: its tag.
        velocity_m_s: of the fastest air on the ring.
        outlet: tag of the outlet whose tool has the least to spare.
        tool_pressure_pa: gauge, at that tool with the compressor at cut-in; 0 where the air cannot pass.
        needed_pa: gauge pressure that tool wants; 0 where nothing is known.
        starved: all tools that get less than they need, the worst first.
    """

    valve: str
    velocity_m_s: float
    outlet: str
    tool_pressure_pa: float
    needed_pa: float
    starved: tuple[Starved, ...] = ()


def arms_shut(piping: Piping, sizes: Sequence[TubeSize]) -> tuple[ArmShut, ...]:
    """Return what the ring gives with each of its valves shut in turn; nothing without a ring or its valves.

    Args:
        sizes: one a section.

    Source:
        the network solved again without the section the valve stands in.
    """
    return tuple(_arm_shut(piping, sizes, tag, index) for tag, index in _ring_valves(piping))


def arm_shut_words(shut: ArmShut, units: Units) -> str:
    """Return what a ring gives with one of its valves shut, in the worst case.

    Source:
        none; it only words.
    """
    needed = f", {units.pressure(shut.needed_pa)} needed" if shut.needed_pa else ""
    return (
        f"the air in the ring moves at up to {units.velocity(shut.velocity_m_s)} and "
        f"the tool at {shut.outlet} gets {units.pressure(shut.tool_pressure_pa)} at cut-in{needed}"
    )


def _ring_valves(piping: Piping) -> Iterator[tuple[str, int]]:
    layout = piping.sections.layout
    for index, section in enumerate(piping.sections.sections):
        if section.ring:
            for run in section.runs[:-1]:
                node = layout.nodes[run.end]
                if node.kind is NodeKind.VALVE:
                    yield node.tag, index


def _arm_shut(piping: Piping, sizes: Sequence[TubeSize], valve: str, index: int) -> ArmShut:
    opened = replace(piping, shut=(index,), _solved={})
    site, sections = piping.sections.layout.site, piping.sections.sections
    results = case_results(opened, sizes)
    atmosphere_pa = atmospheric_pressure_pa(site.altitude_m)
    needed_pa = {each.tag: each.needed_pa for each in piping.demand.outlets}
    left_pa = {}
    for outlet in site.outlets:
        solved = results.worst[outlet.tag]
        before = opened.at_coupling_pa(solved, outlet.tag)
        end = tool_end(outlet, before, solved.case.flows_m3_s[outlet.tag], piping.temperature_k)
        left_pa[outlet.tag] = max(0.0, end.at_tool_pa - atmosphere_pa)
    tag = min([tag for tag in left_pa if needed_pa[tag]] or left_pa, key=lambda tag: left_pa[tag] - needed_pa[tag])
    fastest = max(
        velocity_m_s(piping, float(results.peak_m3_s[n]), sizes[n]) for n, each in enumerate(sections) if each.ring
    )
    starved = [Starved(each, left_pa[each], needed_pa[each]) for each in left_pa if left_pa[each] < needed_pa[each]]
    starved.sort(key=lambda each: each.tool_pressure_pa - each.needed_pa)
    return ArmShut(valve, fastest, tag, left_pa[tag], needed_pa[tag], tuple(starved))
