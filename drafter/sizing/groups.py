"""Stretches of pipe that get one size together, and the sizes each may have."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from drafter.sizing.cases import Piping
from drafter.sizing.sections import Section
from drafter.standards import limits
from drafter.standards.air import line_velocity_m_s
from drafter.standards.materials import TubeSize


@dataclass(frozen=True)
class Group:
    """Sections that get one size.

    Attributes:
        where: what the reports call it.
        is_drop: whether it belongs to the drops.
        sections: their indices.
        sizes: that it may have, the smallest first; one where the site file fixes it.
        fed_by: index of the group that feeds it, None at the tank.
        peak_m3_s: most free air that flows in it; on a ring not known before it is solved, and 0.
        velocity_limit_m_s: at that flow.
        fixed: whether the site file gives the size.
        fits: whether any size keeps the velocity.
    """

    where: str
    is_drop: bool
    sections: tuple[int, ...]
    sizes: tuple[TubeSize, ...]
    fed_by: int | None
    peak_m3_s: float
    velocity_limit_m_s: float
    fixed: bool
    fits: bool = True


def velocity_m_s(piping: Piping, free_air_m3_s: float, size: TubeSize) -> float:
    """Return the speed of the air at the pressure that enters the piping [m/s].

    Source:
        `drafter.standards.air.line_velocity_m_s`.
    """
    return line_velocity_m_s(free_air_m3_s, piping.supply_absolute_pa, piping.temperature_k, size.bore_m)


def groups_of(piping: Piping) -> tuple[Group, ...]:
    """Return the groups of a site's piping: main and drops, or where it is stepped each stretch its own.

    Sizes that break the velocity limit at the peak behind them are left out already; where all do, the
    largest is left. A ring has one size all round, for its air may flow either way.

    Source:
        velocity limits of `drafter.standards.limits`; a ring of one size is common practice.
    """
    sections = piping.sections.sections
    stepped = piping.sections.layout.site.main.sizing == "stepped"
    members: dict[str, list[int]] = {}
    for index, section in enumerate(sections):
        members.setdefault(_called(piping, section, stepped), []).append(index)
    group_of = {index: number for number, indices in enumerate(members.values()) for index in indices}
    found = []
    for number, (where, indices) in enumerate(members.items()):
        before = piping.sections.fed_by[indices[0]]
        fed_by = None if before is None else group_of[before]
        found.append(_group(piping, where, tuple(indices), None if fed_by == number else fed_by))
    return tuple(found)


def _called(piping: Piping, section: Section, stepped: bool) -> str:
    if not stepped:
        return "drops" if section.part == "drop" else "main"
    if section.part == "drop":
        return f"drop of {section.outlets[0]}"
    if section.part != "main":
        return "riser"
    if section.ring:
        return "ring"
    layout = piping.sections.layout
    towards = layout.outlet_at(layout.nodes[section.end])
    return f"main {section.runs[0].id}" + (f", to {towards}" if towards else "")


def _group(piping: Piping, where: str, indices: tuple[int, ...], fed_by: int | None) -> Group:
    sections = [piping.sections.sections[index] for index in indices]
    main = piping.sections.layout.site.main
    is_drop = sections[0].part == "drop"
    given = piping.sections.material.find_size(main.drop_size if is_drop else main.size)
    limit = limits.BRANCH_VELOCITY_PREFERRED_M_S if is_drop else limits.MAIN_VELOCITY_PREFERRED_M_S
    peak = max((piping.demand.peak_m3_s(each.outlets) for each in sections if not each.ring), default=0.0)
    group = Group(where, is_drop, indices, (), fed_by, peak, limit.value, given is not None)
    if given is not None:
        return replace(group, sizes=(given,))
    on_sale = _for_drops(piping) if is_drop else sizes_on_sale(piping)
    fitting = tuple(size for size in on_sale if velocity_m_s(piping, peak, size) <= limit.value)
    return replace(group, sizes=fitting or (on_sale[-1],), fits=bool(fitting))


def _for_drops(piping: Piping) -> tuple[TubeSize, ...]:
    """The sizes on sale from the least that a drop has in its family; all where that is not among its sizes."""
    family, on_sale = piping.sections.material, sizes_on_sale(piping)
    least = family.find_size(family.least_drop)
    wide = tuple(size for size in on_sale if least is None or size.outside_m >= least.outside_m - 1e-9)
    return wide or on_sale[-1:]


def sizes_on_sale(piping: Piping) -> tuple[TubeSize, ...]:
    """Return the sizes to choose from, the smallest first: those with a price, each dearer than the one before.

    A size that costs no less than a larger one is left out, for the larger one serves as well everywhere.

    Source:
        the site file, else the family's own sizes.
    """
    family, prices = piping.sections.material, piping.sections.layout.site.main.prices
    named = [size for size in family.sizes if not prices or size.name in prices]
    kept: list[TubeSize] = []
    for size in reversed(named):
        if not kept or cost_of_size(piping, size) < cost_of_size(piping, kept[-1]):
            kept.append(size)
    return tuple(reversed(kept))


def cost_of_size(piping: Piping, size: TubeSize) -> float:
    """Return what a metre of a size costs: its price, or where none are given the volume of its wall [m3/m].

    Source:
        the site file; geometry.
    """
    prices = piping.sections.layout.site.main.prices
    if prices:
        return prices.get(size.name, 0.0)
    return math.pi / 4.0 * (size.outside_m**2 - size.bore_m**2)


def sizes_of_sections(piping: Piping, groups: Sequence[Group], chosen: Sequence[TubeSize]) -> tuple[TubeSize, ...]:
    """Return one size a section from one size a group.

    Source:
        none; it only sorts.
    """
    of_section = {index: size for group, size in zip(groups, chosen, strict=True) for index in group.sections}
    return tuple(of_section[index] for index in range(len(piping.sections.sections)))


def total_cost(piping: Piping, groups: Sequence[Group], chosen: Sequence[TubeSize]) -> float:
    """Return what the tube of all groups costs, in the unit of `cost_of_size` times metres.

    Source:
        arithmetic.
    """
    bought = piping.sections.bought_m
    return sum(
        cost_of_size(piping, size) * float(sum(bought[index] for index in group.sections))
        for group, size in zip(groups, chosen, strict=True)
    )


def never_smaller_than_what_it_feeds(
    groups: Sequence[Group], chosen: Sequence[TubeSize]
) -> tuple[TubeSize, ...] | None:
    """Raise each group to at least the bore of the largest it feeds; None where a given size is in the way.

    Source:
        common practice: a line never widens in the direction of flow.
    """
    raised = list(chosen)
    for number in range(len(groups) - 1, -1, -1):
        before = groups[number].fed_by
        if before is None or raised[before].bore_m >= raised[number].bore_m:
            continue
        if groups[before].fixed or groups[number].fixed:
            continue
        larger = [size for size in groups[before].sizes if size.bore_m >= raised[number].bore_m]
        if not larger:
            return None
        raised[before] = larger[0]
    return tuple(raised)
