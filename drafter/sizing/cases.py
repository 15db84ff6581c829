"""Demand cases: for each outlet the one that leaves it the least pressure, solved on the whole network."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from drafter.sizing.sections import Sections
from drafter.sizing.solving import solve
from drafter.standards.air import mass_flow_kg_s
from drafter.standards.materials import TubeSize


@dataclass(frozen=True)
class Pressures:
    """What the cases leave.

    Attributes:
        outlet_absolute_pa: at each outlet's coupling in its own worst case, by tag; 0 where the air cannot pass.
        node_absolute_pa: lowest pressure of each node over all cases, by node id.
        together: by tag, the outlets that run in its worst case.
        supply_absolute_pa: what enters the piping.
    """

    outlet_absolute_pa: Mapping[str, float]
    node_absolute_pa: Mapping[str, float]
    together: Mapping[str, tuple[str, ...]]
    supply_absolute_pa: float

    @property
    def worst_drop_pa(self) -> float:
        return self.supply_absolute_pa - min(self.outlet_absolute_pa.values())


def worst_cases(
    sections: Sections,
    sizes: Mapping[str, TubeSize],
    peaks_m3_s: Mapping[str, float],
    at_once: int,
    supply_absolute_pa: float,
    temperature_k: float,
) -> Pressures:
    """Solve, for each outlet, the case of it and those ``at_once - 1`` others that cost it most.

    The others are ranked by the loss they add on the way they share, taken as length over bore to the
    fifth power; that is exact where all friction factors are equal.

    Source:
        Darcy's law for the ranking; the pressures are those of `drafter.sizing.solving.solver`.
    """
    length, bore, roughness, loss = sections.arrays(sizes)
    numbers = sections.node_numbers
    start = [numbers[section.start] for section in sections.sections]
    end = [numbers[section.end] for section in sections.sections]
    weight = length / bore**5
    outlets, together = {}, {}
    lowest = np.full(len(numbers), supply_absolute_pa)
    for tag in peaks_m3_s:
        case = _case(sections, tag, peaks_m3_s, at_once, weight)
        outflow = np.zeros(len(numbers))
        for other in case:
            outflow[sections.coupling_nodes[other]] = mass_flow_kg_s(peaks_m3_s[other])
        solution = solve(
            start, end, length, bore, roughness, loss, len(numbers), outflow, [0], [supply_absolute_pa],
            temperature_k,
        )  # fmt: skip
        pressure = np.nan_to_num(solution.absolute_pressure_pa, nan=0.0)
        outlets[tag] = float(pressure[sections.coupling_nodes[tag]])
        together[tag] = tuple(other for other in case if other != tag)
        lowest = np.minimum(lowest, pressure)
    nodes = {name: float(lowest[number]) for name, number in numbers.items()}
    return Pressures(outlets, nodes, together, supply_absolute_pa)


def _case(
    sections: Sections, tag: str, peaks_m3_s: Mapping[str, float], at_once: int, weight: np.ndarray
) -> tuple[str, ...]:
    own = set(sections.feeding[tag])
    flow = peaks_m3_s[tag]

    def added(other: str) -> float:
        shared = sum(float(weight[index]) for index in own.intersection(sections.feeding[other]))
        return shared * ((flow + peaks_m3_s[other]) ** 2 - flow**2)

    others = sorted((other for other in peaks_m3_s if other != tag), key=lambda other: (-added(other), other))
    return (tag, *others[: at_once - 1])
