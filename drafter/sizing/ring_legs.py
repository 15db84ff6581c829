"""A ring whose legs may differ in size: lowered leg by leg, and a bound below which no ring can cost."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import combinations

import numpy as np

from drafter.sizing.cases import Piping
from drafter.sizing.groups import Group, cost_of_size, sizes_on_sale, total_cost
from drafter.sizing.least_cost import Row, least_cost
from drafter.standards.air import FREE_AIR_DENSITY_KG_M3, density_kg_m3
from drafter.standards.materials import TubeSize

Chosen = tuple[TubeSize, ...]

_BOUND_WITHIN = 0.02
_SHORT_RING = 24


def around(piping: Piping, ring: Group) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Return the sections of a ring in their order round it, and the nodes: where it is fed, then each leg's far end.

    Source:
        none; graph theory.
    """
    start, end = piping.sections.ends
    nodes = [int(start[ring.sections[0]])]
    left, legs = list(ring.sections), list[int]()
    while left:
        index = next(i for i in left if nodes[-1] in (int(start[i]), int(end[i])))
        left.remove(index)
        legs.append(index)
        nodes.append(int(end[index]) if int(start[index]) == nodes[-1] else int(start[index]))
    return tuple(legs), tuple(nodes)


def split(piping: Piping, groups: Sequence[Group], chosen: Chosen, ring: int) -> tuple[tuple[Group, ...], Chosen]:
    """Return groups in which each leg of the ring has its own, with the sizes chosen so far.

    Source:
        none; it only sorts.
    """
    on_sale = sizes_on_sale(piping)
    most = on_sale.index(chosen[ring])
    legs, _ = around(piping, groups[ring])
    alone = [
        replace(groups[ring], where=f"ring, {_called(piping, index)}", sections=(index,), sizes=on_sale[: most + 1])
        for index in legs
    ]
    wider = len(legs) - 1

    def moved(fed_by: int | None) -> int | None:
        return fed_by if fed_by is None or fed_by <= ring else fed_by + wider

    before, after = list(groups[:ring]), [replace(group, fed_by=moved(group.fed_by)) for group in groups[ring + 1 :]]
    sizes = (*chosen[:ring], *(chosen[ring] for _ in legs), *chosen[ring + 1 :])
    return (*before, *alone, *_fed_by_their_legs(piping, after, legs, ring)), sizes


def _called(piping: Piping, index: int) -> str:
    section = piping.sections.sections[index]
    towards = piping.sections.layout.outlet_at(piping.sections.layout.nodes[section.end])
    return section.runs[0].id + (f", to {towards}" if towards else "")


def _fed_by_their_legs(piping: Piping, groups: Sequence[Group], legs: Sequence[int], ring: int) -> list[Group]:
    """Let each group that leaves the ring be fed by the leg that ends where it starts."""
    start, end = piping.sections.ends
    found = []
    for group in groups:
        if group.fed_by == ring:
            at = start[group.sections[0]]
            leg = next(n for n, index in enumerate(legs) if at in (start[index], end[index]))
            group = replace(group, fed_by=ring + leg)
        found.append(group)
    return found


def lowered(
    piping: Piping, groups: Sequence[Group], chosen: Chosen, legs: range, keeps: Callable[[Chosen], bool]
) -> Chosen:
    """Lower arcs of the ring by one size, the largest saving first, as long as all limits are kept.

    What fails once is tried again only when all others have failed too.

    Source:
        greedy descent; near the optimum on single rings (measured in tests against every choice).
    """
    arcs = _arcs(legs)
    before: Chosen | None = None
    failed: set[range] = set()
    while chosen != before:
        before = chosen
        failed.clear()
        while True:
            better = _largest_saving(piping, groups, chosen, [arc for arc in arcs if arc not in failed], keeps, failed)
            if better is None:
                break
            chosen = better
    return chosen


def _arcs(legs: range) -> list[range]:
    """Arcs of 1, 2, 4... legs from every leg on; on long rings the longer ones overlap by half."""
    found = []
    for length in (2**n for n in range(len(legs).bit_length())):
        step = 1 if len(legs) <= _SHORT_RING else max(1, length // 2)
        found += [legs[first : first + length] for first in range(0, len(legs), step)]
    return list(dict.fromkeys(found))


def _largest_saving(
    piping: Piping,
    groups: Sequence[Group],
    chosen: Chosen,
    arcs: Sequence[range],
    keeps: Callable[[Chosen], bool],
    failed: set[range],
) -> Chosen | None:
    """The choice with that arc one size lower that saves most and keeps all limits; the others tried have failed."""
    tried = []
    for arc in arcs:
        at = [groups[leg].sizes.index(chosen[leg]) for leg in arc]
        if all(at):
            smaller = {leg: groups[leg].sizes[index - 1] for leg, index in zip(arc, at, strict=True)}
            lower = tuple(smaller.get(number, size) for number, size in enumerate(chosen))
            tried.append((total_cost(piping, groups, lower), arc, lower))
    for _, arc, lower in sorted(tried, key=lambda step: (step[0], step[1].start, step[1].stop)):
        if keeps(lower):
            return lower
        failed.add(arc)
    return None


def ring_bound(piping: Piping, groups: Sequence[Group], ring: int, rows: Sequence[Row]) -> float:
    """Return a cost that no choice goes below, whatever the size of each leg of the ring.

    The ring's drop of pressure is left out; of its legs it is asked only that each pair that cuts outlets off
    from where the ring is fed carries what these take at once below the velocity limit.

    Args:
        rows: of the integer program for a ring of one size.

    Source:
        relaxation of the integer program; mass balance over each cut.
    """
    legs, nodes = around(piping, groups[ring])
    on_sale = sizes_on_sale(piping)
    others = [group for number, group in enumerate(groups) if number != ring]
    bought = piping.sections.bought_m
    lengths = [sum(float(bought[index]) for index in group.sections) for group in others]
    costs = [
        np.array([cost_of_size(piping, size) * length for size in group.sizes])
        for group, length in zip(others, lengths, strict=True)
    ]
    costs += [np.array([cost_of_size(piping, size) * float(bought[leg]) for size in on_sale]) for leg in legs]
    widths = [np.array([size.bore_m for size in group.sizes]) for group in others]
    widths += [np.array([size.bore_m for size in on_sale]) for _ in legs]
    none = (None,) * len(legs)
    relaxed = [
        Row((*(part for number, part in enumerate(row.contributions) if number != ring), *none), row.budget)
        for row in rows
    ]
    carried = -np.array([_most_carried_m3_s(piping, groups[ring], size) for size in on_sale])
    for one, other in combinations(range(len(legs)), 2):
        parts = [carried if number in (one, other) else None for number in range(len(legs))]
        asked = piping.demand.peak_m3_s(_leaving(piping, nodes[one + 1 : other + 1]))
        relaxed.append(Row((*(None for _ in others), *parts), -asked))
    found = least_cost(costs, widths, [None] * len(costs), relaxed, _BOUND_WITHIN)
    return found.bound if found else 0.0


def _most_carried_m3_s(piping: Piping, ring: Group, size: TubeSize) -> float:
    """Free air that a leg of a size carries at the velocity limit."""
    area = math.pi / 4.0 * size.bore_m**2
    density = density_kg_m3(piping.supply_absolute_pa, piping.temperature_k)
    return ring.velocity_limit_m_s * area * density / FREE_AIR_DENSITY_KG_M3


def _leaving(piping: Piping, nodes: Sequence[int]) -> list[str]:
    """Tags of the outlets that leave the ring at some of its nodes."""
    start, _ = piping.sections.ends
    tags: dict[str, None] = {}
    for index, section in enumerate(piping.sections.sections):
        if not section.ring and int(start[index]) in nodes:
            tags |= dict.fromkeys(section.outlets)
    return list(tags)
