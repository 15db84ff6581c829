"""Chooses the bores: the least tube that keeps velocity and pressure in every demand case."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product

from drafter.sizing.cases import CaseResults, Piping, SolvedCase, case_results
from drafter.sizing.demand import Case
from drafter.sizing.groups import (
    Group,
    groups_of,
    never_smaller_than_what_it_feeds,
    sizes_of_sections,
    total_cost,
    velocity_m_s,
)
from drafter.standards import limits
from drafter.standards.materials import TubeSize

Chosen = tuple[TubeSize, ...]
"""One size a group."""

WorstFor = tuple[str, Case]
"""The tag of an outlet, empty for none, and a case that may be its worst."""

_SLACK_PA = 1.0


@dataclass(frozen=True)
class Choice:
    """The sizes chosen.

    Attributes:
        groups, chosen: the stretches and one size for each.
        least_pa: by tag, the absolute pressure the choice leaves each outlet at least.
        results: of the demand cases at these sizes.
        gap: by how much the cost may lie above the least possible, as a share of it; 0 where it is the least.
        bound_by: by tag, what sets `least_pa`: ``loss`` or ``tool``.
    """

    groups: tuple[Group, ...]
    chosen: Chosen
    least_pa: Mapping[str, float]
    results: CaseResults
    gap: float
    bound_by: Mapping[str, str]

    def group_of(self, section: int) -> int:
        return next(number for number, group in enumerate(self.groups) if section in group.sections)


def choose_bores(piping: Piping, needed_pa: Mapping[str, float]) -> Choice:
    """Return the sizes of least cost that keep all limits in all cases; sizes given are taken as they are.

    Limits: velocity at the peak behind each stretch; pressure lost to each outlet; what its tool needs, where
    the largest sizes can give it (where they cannot, the fault is not the piping's); no stretch smaller than
    one it feeds. Each limit alone asks for sizes large enough, so where the smallest sizes that keep the
    velocity keep the pressures too, they are the least. Else two groups are tried in the order of cost, and
    more are put to an integer program whose rows are the demand cases.

    Args:
        needed_pa: by outlet's tag, the absolute pressure wanted at the end of its drop.

    Source:
        limits as in `drafter.standards.limits`; least cost by enumeration or `drafter.sizing.least_cost`.
    """
    groups = groups_of(piping)
    lossy = piping.supply_absolute_pa - limits.TOTAL_DROP_WARNING_PA.value
    wanted = {tag: max(lossy, needed) for tag, needed in needed_pa.items()}
    bound_by = {tag: "tool" if needed > lossy else "loss" for tag, needed in needed_pa.items()}
    chosen = never_smaller_than_what_it_feeds(groups, [group.sizes[0] for group in groups])
    search = _Search(piping, groups, wanted)
    steps_round = piping.sections.has_ring and len(groups) > 2
    if not steps_round and chosen is not None and search.keeps(chosen):
        return search.choice(chosen, 0.0, bound_by)
    largest = tuple(group.sizes[-1] for group in groups)
    least, bound_by = _attainable(piping, groups, largest, wanted)
    search = _Search(piping, groups, least)
    if len(groups) <= 2:
        return search.choice(search.first_by_cost() or largest, 0.0, bound_by)
    from drafter.sizing.stepped import step_down

    steps = step_down(piping, groups, least, lambda split: _Search(piping, tuple(split), least).keeps)
    if steps is None:
        return search.choice(largest, 0.0, bound_by)
    return _Search(piping, steps.groups, least).choice(steps.chosen, steps.gap, bound_by)


def _attainable(
    piping: Piping, groups: Sequence[Group], largest: Chosen, wanted_pa: Mapping[str, float]
) -> tuple[dict[str, float], dict[str, str]]:
    """The least pressure that can be asked of the piping at each outlet, and what asks for it."""
    best = case_results(piping, sizes_of_sections(piping, groups, largest))
    lossy = piping.supply_absolute_pa - limits.TOTAL_DROP_WARNING_PA.value
    least, bound_by = {}, {}
    for tag, wanted in wanted_pa.items():
        attainable = piping.at_coupling_pa(best.worst[tag], tag)
        by_tool = lossy < wanted <= attainable
        least[tag] = wanted if by_tool else min(lossy, attainable)
        bound_by[tag] = "tool" if by_tool else "loss"
    return least, bound_by


@dataclass
class _Search:
    """Looks whether sizes keep all limits; what failed last is tried first, then the cases that were the worst."""

    piping: Piping
    groups: tuple[Group, ...]
    least_pa: Mapping[str, float]
    worst: Sequence[WorstFor] = ()
    failed: Sequence[WorstFor] = ()

    def keeps(self, chosen: Chosen) -> bool:
        sizes = sizes_of_sections(self.piping, self.groups, chosen)
        if not (self._stand(sizes, chosen, self.failed) and self._stand(sizes, chosen, self.worst)):
            return False
        written = [("", case) for case in self.piping.demand.written]
        self.worst = [*self.piping.worst_cases(sizes).items(), *written]
        return self._stand(sizes, chosen, self.worst)

    def _stand(self, sizes: Chosen, chosen: Chosen, cases: Sequence[WorstFor]) -> bool:
        """Whether some cases keep the pressure of the outlet they are worst for, and the speeds on rings."""
        solved = self.piping.solve_all(sizes, [case for _, case in cases])
        for (tag, case), each in zip(cases, solved, strict=True):
            short = tag and self.piping.at_coupling_pa(each, tag) < self.least_pa[tag] - _SLACK_PA
            if short or self._too_fast(each, chosen):
                self.failed = [(tag, case)]
                return False
        return True

    def _too_fast(self, solved: SolvedCase, chosen: Chosen) -> bool:
        return self.piping.sections.has_ring and any(
            velocity_m_s(self.piping, abs(float(solved.flow_m3_s[index])), size) > group.velocity_limit_m_s
            for group, size in zip(self.groups, chosen, strict=True)
            for index in group.sections
            if self.piping.sections.sections[index].ring and size is not group.sizes[-1]
        )

    def first_by_cost(self) -> Chosen | None:
        """The cheapest sizes that keep all limits, by trying them in the order of their cost."""
        tried = {
            raised
            for chosen in product(*(group.sizes for group in self.groups))
            if (raised := never_smaller_than_what_it_feeds(self.groups, chosen)) is not None
        }
        order = sorted(tried, key=lambda chosen: total_cost(self.piping, self.groups, chosen))
        return next((chosen for chosen in order if self.keeps(chosen)), None)

    def choice(self, chosen: Chosen, gap: float, bound_by: Mapping[str, str]) -> Choice:
        results = case_results(self.piping, sizes_of_sections(self.piping, self.groups, chosen))
        peaks = results.peak_m3_s
        groups = tuple(
            replace(group, peak_m3_s=max(group.peak_m3_s, *(float(peaks[index]) for index in group.sections)))
            for group in self.groups
        )
        return Choice(groups, chosen, self.least_pa, results, gap, bound_by)
