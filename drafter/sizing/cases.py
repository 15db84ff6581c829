"""Demand cases: for each outlet the one that leaves it the least pressure, solved on the whole network."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from drafter.sizing.demand import Case, SiteDemand
from drafter.sizing.sections import Sections
from drafter.sizing.solving import Solution, sensitivity, solve_cases
from drafter.standards.air import FREE_AIR_DENSITY_KG_M3, mass_flow_kg_s
from drafter.standards.materials import TubeSize

Floats = NDArray[np.float64]
Sizes = Sequence[TubeSize]
"""One size a section."""

_MOST_RANKINGS = 4
_RANKED_AGAIN = 40
"""Up to so many outlets the others are ranked again at the case found; beyond it costs more than it finds."""


MOST_TOGETHER = 64
"""Cases that are solved side by side: more would only take memory."""


@dataclass(frozen=True)
class SolvedCase:
    """A case solved.

    Attributes:
        absolute_pa: over the nodes of the sections [Pa]; 0 where the air cannot pass.
        flow_m3_s: free air over the sections, below zero against the direction of filling [m3/s].
        choked: (section, flow asked, most it can carry), both free air [m3/s].
        solution: of the solver, for its sensitivities.
    """

    case: Case
    absolute_pa: Floats
    flow_m3_s: Floats
    choked: tuple[tuple[int, float, float], ...]
    solution: Solution


@dataclass(frozen=True)
class Piping:
    """The piping with the air that enters it: what a case needs to be solved.

    Attributes:
        supply_absolute_pa: lowest pressure that enters.
        temperature_k: of the air in the pipes.
        shut: the sections that a closed valve stands in.
    """

    sections: Sections
    demand: SiteDemand
    supply_absolute_pa: float
    temperature_k: float
    shut: tuple[int, ...] = ()
    _solved: dict[tuple[tuple[str, ...], tuple[tuple[str, float], ...]], SolvedCase] = field(default_factory=dict)

    def solve(self, sizes: Sizes, case: Case) -> SolvedCase:
        """Solve one case for given sizes; each pair of them once.

        Source:
            `drafter.sizing.solving.solve`.
        """
        return self.solve_all(sizes, [case])[0]

    def solve_all(self, sizes: Sizes, cases: Sequence[Case]) -> list[SolvedCase]:
        """Solve some cases for given sizes side by side; each pair of them once.

        Source:
            `drafter.sizing.solving.solve_cases`.
        """
        names = tuple(size.name for size in sizes)
        keys = [(names, tuple(case.flows_m3_s.items())) for case in cases]
        new = {key: case for key, case in zip(keys, cases, strict=True) if key not in self._solved}
        if new:
            self._solved.update(zip(new, self._newly_solved(sizes, list(new.values())), strict=True))
        return [self._solved[key] for key in keys]

    def _newly_solved(self, sizes: Sizes, cases: Sequence[Case]) -> list[SolvedCase]:
        sections = self.sections
        outflows = np.zeros((len(cases), len(sections.node_numbers)))
        for row, case in zip(outflows, cases, strict=True):
            for tag, flow in case.flows_m3_s.items():
                row[sections.draw_nodes[tag]] += mass_flow_kg_s(flow)
        arrays, closed = sections.arrays(sizes), np.isin(np.arange(len(sections.sections)), self.shut)
        states = [
            state
            for first in range(0, len(cases), MOST_TOGETHER)
            for state in solve_cases(
                *sections.ends, *arrays, outflows.shape[1], outflows[first : first + MOST_TOGETHER], [0],
                [self.supply_absolute_pa], self.temperature_k, closed=closed,
            )
        ]  # fmt: skip
        return [_solved_case(case, state) for case, state in zip(cases, states, strict=True)]

    def at_coupling_pa(self, solved: SolvedCase, tag: str) -> float:
        return float(solved.absolute_pa[self.sections.coupling_nodes[tag]])

    def worst_cases(self, sizes: Sizes, tags: Iterable[str] | None = None) -> dict[str, Case]:
        """Return for each outlet the case of it and the others at once, or of the site file, that costs it most.

        The others are ranked by what a little more flow of theirs takes from the outlet, first near the
        average flow of all, then, as long as that finds a worse case, at the case found. That is exact where
        the pressure lost goes in proportion to the flow, and close elsewhere; an outlet's own written cases
        are tried as they stand.

        Source:
            first-order sensitivity of the network's laws.
        """
        peaks, names = self.demand.peaks_m3_s, list(self.demand.peaks_m3_s)
        share = min(1.0, self.demand.at_once / len(names))
        usual = self.solve(sizes, Case("all", {tag: flow * share for tag, flow in peaks.items()}))
        wanted = list(tags) if tags is not None else names
        taken = self._taken_by(usual, wanted)
        best = {tag: self._ranked(row, tag) for tag, row in zip(wanted, taken, strict=True)}
        self.solve_all(sizes, list(best.values()))
        for tag in wanted if len(names) <= _RANKED_AGAIN else ():
            for _ in range(_MOST_RANKINGS):
                (row,) = self._taken_by(self.solve(sizes, best[tag]), [tag])
                tried = self._ranked(row, tag)
                if self._left_pa(sizes, tried, tag) >= self._left_pa(sizes, best[tag], tag):
                    break
                best[tag] = tried
        found = {}
        for tag in wanted:
            written = [case for case in self.demand.written if case.flows_m3_s.get(tag)]
            found[tag] = min((best[tag], *written), key=lambda case: self._left_pa(sizes, case, tag))
        return found

    def _left_pa(self, sizes: Sizes, case: Case, tag: str) -> float:
        return self.at_coupling_pa(self.solve(sizes, case), tag)

    def _ranked(self, taken: Floats, tag: str) -> Case:
        """The case of an outlet and the others, at once, that take most from it."""
        peaks = self.demand.peaks_m3_s
        names = list(peaks)
        others = sorted((n for n in range(len(names)) if names[n] != tag), key=lambda n: (-taken[n], n))
        chosen = [names[n] for n in others[: self.demand.at_once - 1]]
        return Case(f"worst for {tag}", {each: peaks[each] for each in (tag, *chosen)})

    def _taken_by(self, solved: SolvedCase, tags: Sequence[str]) -> Floats:
        """What each outlet (column) at its peak takes from some (row): squared pressure, to first order [Pa2]."""
        nodes = [self.sections.coupling_nodes[tag] for tag in tags]
        others = [self.sections.coupling_nodes[tag] for tag in self.demand.peaks_m3_s]
        peaks_m3_s = np.array(list(self.demand.peaks_m3_s.values()))
        taken: Floats = -sensitivity(solved.solution, nodes)[:, others] * peaks_m3_s
        return taken


def _solved_case(case: Case, state: Solution) -> SolvedCase:
    choked = tuple(
        (pipe.pipe, abs(pipe.mass_flow_kg_s) / FREE_AIR_DENSITY_KG_M3, pipe.limit_kg_s / FREE_AIR_DENSITY_KG_M3)
        for pipe in (() if state.feasible else state.choked)
    )
    pressure = np.nan_to_num(state.absolute_pressure_pa, nan=0.0)
    return SolvedCase(case, pressure, state.mass_flow_kg_s / FREE_AIR_DENSITY_KG_M3, choked, state)


@dataclass(frozen=True)
class CaseResults:
    """What the worst cases leave, for one set of sizes.

    Attributes:
        worst: by tag, the outlet's worst case solved.
        lowest_absolute_pa: of each node over all cases, by node id.
        peak_m3_s: most free air through each section over all cases.
    """

    worst: Mapping[str, SolvedCase]
    lowest_absolute_pa: Mapping[str, float]
    peak_m3_s: Floats


def case_results(piping: Piping, sizes: Sizes) -> CaseResults:
    """Find and solve the worst case of each outlet, and the cases of the site file.

    Source:
        `Piping.worst_cases`.
    """
    cases = piping.worst_cases(sizes)
    worst = {tag: piping.solve(sizes, case) for tag, case in cases.items()}
    solved = [*worst.values(), *piping.solve_all(sizes, piping.demand.written)]
    lowest = np.min([each.absolute_pa for each in solved], axis=0)
    numbers = piping.sections.node_numbers
    return CaseResults(
        worst,
        {name: float(lowest[number]) for name, number in numbers.items()},
        np.max([np.abs(each.flow_m3_s) for each in solved], axis=0),
    )
