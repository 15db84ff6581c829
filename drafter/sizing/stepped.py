"""Stepped sizes: each stretch its own, put to an integer program and proved on the solved network."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from drafter.sizing.cases import Floats, Piping, SolvedCase
from drafter.sizing.groups import (
    Group,
    cost_of_size,
    never_smaller_than_what_it_feeds,
    sizes_of_sections,
    total_cost,
)
from drafter.sizing.least_cost import Row, least_cost
from drafter.sizing.ring_legs import lowered, ring_bound, split
from drafter.sizing.solving import pipe_law
from drafter.standards.air import FREE_AIR_DENSITY_KG_M3, GAS_CONSTANT_J_KG_K, viscosity_pa_s
from drafter.standards.materials import TubeSize

MOST_ROUNDS = 40
_TIGHTER = 1.0 + 1e-9


Keeps = Callable[[tuple[TubeSize, ...]], bool]


@dataclass(frozen=True)
class Steps:
    """Sizes of least cost: the groups, one size for each, and the gap to the bound as a share of it."""

    groups: tuple[Group, ...]
    chosen: tuple[TubeSize, ...]
    gap: float


def step_down(
    piping: Piping,
    groups: Sequence[Group],
    least_pa: Mapping[str, float],
    keeps_for: Callable[[Sequence[Group]], Keeps],
) -> Steps | None:
    """Return sizes of least cost; None where none is found.

    Each round solves the program with the rows known, takes the worst cases at its sizes and adds a row for
    every outlet that falls short, with the drops as the solved network has them. On a tree the flows of a
    case do not hang on the sizes and the rows are the law itself, but for the kinetic term, which each round
    takes from its own solution: there the last program's bound holds. A ring counts as one stretch whose
    drop is solved for each of its sizes; then its legs are lowered one by one, and the cost is held against
    a bound for rings of any sizes.

    Args:
        least_pa: absolute pressure to be left at each outlet, by tag.
        keeps_for: makes, for some groups, the function that tells whether sizes keep all limits.

    Source:
        row generation over the demand cases; `drafter.sizing.least_cost`, `drafter.sizing.ring_legs`.
    """
    ring = next((number for number, group in enumerate(groups) if _on_ring(piping, group)), None)
    costs, widths = _costs(piping, groups), [_bores(group) for group in groups]
    fed_by = [_feeding(groups, group) for group in groups]
    rows: list[Row] = []
    too_fast: list[Row] = []
    keeps = keeps_for(groups)
    chosen = tuple(group.sizes[0] for group in groups)
    bound = total_cost(piping, groups, chosen)
    for _ in range(MOST_ROUNDS):
        if keeps(chosen):
            break
        short = _rows_of_short_outlets(piping, groups, ring, chosen, least_pa)
        if not short and ring is not None:
            too_fast.append(_larger_ring(groups, ring, chosen))
        rows += short
        found = least_cost(costs, widths, fed_by, [*rows, *too_fast])
        if found is None:
            return None
        chosen = tuple(group.sizes[index] for group, index in zip(groups, found.chosen, strict=True))
        bound = found.bound
    else:
        raised = _raised(groups, keeps)
        if raised is None:
            return None
        chosen = raised
    if ring is None:
        return Steps(tuple(groups), chosen, _gap(piping, groups, chosen, bound))
    legs, sizes = split(piping, groups, chosen, ring)
    sizes = lowered(piping, legs, sizes, range(ring, ring + len(groups[ring].sections)), keeps_for(legs))
    return Steps(legs, sizes, _gap(piping, legs, sizes, ring_bound(piping, groups, ring, rows)))


def _larger_ring(groups: Sequence[Group], ring: int, chosen: Sequence[TubeSize]) -> Row:
    """Asks for a larger size of the ring: at this one no outlet is short, so its air is too fast."""
    parts: list[Floats | None] = [None] * len(groups)
    sizes = groups[ring].sizes
    parts[ring] = (np.arange(len(sizes)) <= sizes.index(chosen[ring])).astype(float)
    return Row(tuple(parts), 0.0)


def _raised(groups: Sequence[Group], keeps: Keeps) -> tuple[TubeSize, ...] | None:
    """All groups so many sizes above their smallest that the limits are kept."""
    for step in range(1, max(len(group.sizes) for group in groups)):
        wider = tuple(group.sizes[min(step, len(group.sizes) - 1)] for group in groups)
        raised = never_smaller_than_what_it_feeds(groups, wider)
        if raised is not None and keeps(raised):
            return raised
    return None


def _feeding(groups: Sequence[Group], group: Group) -> int | None:
    """The group that feeds another, where neither has a given size."""
    if group.fed_by is None or group.fixed or groups[group.fed_by].fixed:
        return None
    return group.fed_by


def _gap(piping: Piping, groups: Sequence[Group], chosen: Sequence[TubeSize], bound: float) -> float:
    return max(0.0, total_cost(piping, groups, chosen) / bound - 1.0) if bound > 0.0 else 0.0


def _on_ring(piping: Piping, group: Group) -> bool:
    return any(piping.sections.sections[index].ring for index in group.sections)


def _costs(piping: Piping, groups: Sequence[Group]) -> list[Floats]:
    bought = piping.sections.bought_m
    lengths = [sum(float(bought[index]) for index in group.sections) for group in groups]
    return [
        np.array([cost_of_size(piping, size) * length for size in group.sizes])
        for group, length in zip(groups, lengths, strict=True)
    ]


def _bores(group: Group) -> Floats:
    return np.array([size.bore_m for size in group.sizes])


def _rows_of_short_outlets(
    piping: Piping,
    groups: Sequence[Group],
    ring: int | None,
    chosen: Sequence[TubeSize],
    least_pa: Mapping[str, float],
) -> list[Row]:
    sizes = sizes_of_sections(piping, groups, chosen)
    rows = []
    for tag, case in piping.worst_cases(sizes).items():
        solved = piping.solve(sizes, case)
        if piping.at_coupling_pa(solved, tag) < least_pa[tag]:
            rows.append(_row(piping, groups, ring, chosen, solved, tag, least_pa[tag]))
    return rows


def _row(
    piping: Piping,
    groups: Sequence[Group],
    ring: int | None,
    chosen: Sequence[TubeSize],
    solved: SolvedCase,
    tag: str,
    least_pa: float,
) -> Row:
    """What each size of each group on an outlet's way costs it in squared pressure in a case, and what it may cost."""
    way = {i for i, section in enumerate(piping.sections.sections) if tag in section.outlets and not section.ring}
    parts: list[Floats | None] = []
    for group in groups:
        own = sorted(way.intersection(group.sections))
        parts.append(np.array([_drop_pa2(piping, solved, own, size) for size in group.sizes]) if own else None)
    lost = piping.supply_absolute_pa**2 - piping.at_coupling_pa(solved, tag) ** 2
    counted = sum(
        float(part[group.sizes.index(size)])
        for part, group, size in zip(parts, groups, chosen, strict=True)
        if part is not None
    )
    rest = lost - counted
    if ring is not None:
        sizes = groups[ring].sizes
        around = np.array([_ring_drop_pa2(piping, groups, ring, chosen, solved, tag, size) for size in sizes])
        own_size = sizes.index(chosen[ring])
        parts[ring] = around if parts[ring] is None else parts[ring] + around
        rest -= float(around[own_size])
    return Row(tuple(parts), piping.supply_absolute_pa**2 - (least_pa * _TIGHTER) ** 2 - max(0.0, rest))


def _drop_pa2(piping: Piping, solved: SolvedCase, sections: Sequence[int], size: TubeSize) -> float:
    """Drop of squared pressure of some sections at the flows of a case, all of one size."""
    everywhere = [size] * len(piping.sections.sections)
    length, bore, roughness, loss = (array[list(sections)] for array in piping.sections.arrays(everywhere))
    law = pipe_law(
        length, bore, roughness, loss,
        piping.temperature_k, viscosity_pa_s(piping.temperature_k), GAS_CONSTANT_J_KG_K,
    )  # fmt: skip
    flow = np.abs(solved.flow_m3_s[list(sections)]) * FREE_AIR_DENSITY_KG_M3
    return float(law.drop_pa2(flow).sum())


def _ring_drop_pa2(
    piping: Piping,
    groups: Sequence[Group],
    ring: int,
    chosen: Sequence[TubeSize],
    solved: SolvedCase,
    tag: str,
    size: TubeSize,
) -> float:
    """Drop of squared pressure on the ring between where it is fed and where the way to an outlet leaves it."""
    sizes = sizes_of_sections(piping, groups, [size if n == ring else each for n, each in enumerate(chosen)])
    pressure = piping.solve(sizes, solved.case).absolute_pa
    start, end = piping.sections.ends
    entry = start[groups[ring].sections[0]]
    on_ring = {int(node) for index in groups[ring].sections for node in (start[index], end[index])}
    beyond = (
        start[index]
        for index, section in enumerate(piping.sections.sections)
        if tag in section.outlets and not section.ring and int(start[index]) in on_ring - {int(entry)}
    )
    leaving = next(beyond, entry)
    return float(pressure[entry] ** 2 - pressure[leaving] ** 2)
