"""Says of each stretch which limit decided its size, and what one size smaller and larger would do."""

from __future__ import annotations

from drafter.quantity import Units
from drafter.sizing.bores import Choice
from drafter.sizing.cases import Piping
from drafter.sizing.groups import Group, sizes_of_sections, sizes_on_sale, velocity_m_s
from drafter.sizing.network import Neighbour, Network, SizeChoice
from drafter.standards.air import atmospheric_pressure_pa
from drafter.standards.limits import TOTAL_DROP_WARNING_PA
from drafter.standards.materials import TubeSize

GIVEN = "size given in the site file"


def explained(piping: Piping, choice: Choice) -> tuple[SizeChoice, ...]:
    """Return the sizes of all stretches with their reasons.

    Source:
        the limits of `drafter.sizing.bores.choose_bores`, tried with the sizes next to the chosen.
    """
    return tuple(_explained(piping, choice, number) for number in range(len(choice.groups)))


def _explained(piping: Piping, choice: Choice, number: int) -> SizeChoice:
    group, size = choice.groups[number], choice.chosen[number]
    sections = piping.sections
    runs = tuple(run for run, index in sections.section_of_run.items() if index in group.sections)
    velocity = velocity_m_s(piping, group.peak_m3_s, size)
    on_sale = sizes_on_sale(piping)
    if group.fixed and size not in on_sale:
        return SizeChoice(group.where, runs, size.name, velocity, GIVEN, None, None)
    at = on_sale.index(size)
    smaller = _neighbour(piping, choice, number, on_sale[at - 1]) if at else None
    larger = _neighbour(piping, choice, number, on_sale[at + 1]) if at + 1 < len(on_sale) else None
    why = GIVEN if group.fixed else _why(piping, choice, number, smaller)
    return SizeChoice(group.where, runs, size.name, velocity, why, smaller, larger)


def _neighbour(piping: Piping, choice: Choice, number: int, size: TubeSize) -> Neighbour:
    group = choice.groups[number]
    tag = _tightest(piping, choice, group)
    chosen = [size if n == number else each for n, each in enumerate(choice.chosen)]
    solved = piping.solve(sizes_of_sections(piping, choice.groups, chosen), choice.results.worst[tag].case)
    left = piping.at_coupling_pa(solved, tag)
    velocity = velocity_m_s(piping, group.peak_m3_s, size)
    atmosphere = atmospheric_pressure_pa(piping.sections.layout.site.altitude_m)
    keeps = (
        velocity <= group.velocity_limit_m_s
        and left >= choice.least_pa[tag] - 1.0
        and not _narrows(choice, number, size)
    )
    return Neighbour(size.name, velocity, tag, max(0.0, left - atmosphere), keeps)


def _tightest(piping: Piping, choice: Choice, group: Group) -> str:
    """The outlet behind a group that has the least pressure to spare."""
    behind = dict.fromkeys(tag for index in group.sections for tag in piping.sections.sections[index].outlets)

    def spare(tag: str) -> float:
        return piping.at_coupling_pa(choice.results.worst[tag], tag) - choice.least_pa[tag]

    return min(behind, key=spare)


def _narrows(choice: Choice, number: int, size: TubeSize) -> bool:
    """Whether a size is smaller than that of a stretch it feeds."""
    fed = (n for n, group in enumerate(choice.groups) if group.fed_by == number and not group.fixed)
    return any(choice.chosen[n].bore_m > size.bore_m for n in fed)


def _why(piping: Piping, choice: Choice, number: int, smaller: Neighbour | None) -> str:
    group, units = choice.groups[number], piping.sections.layout.site.units
    limit = units.velocity(group.velocity_limit_m_s)
    if not group.fits:
        return f"the largest there is; the velocity limit is {limit}"
    if smaller is None:
        return "the smallest there is"
    if smaller.velocity_m_s > group.velocity_limit_m_s:
        return f"velocity, at most {limit}"
    if not smaller.keeps:
        return _by_pressure(choice, smaller, units)
    if group.is_drop and choice.chosen[number].name == piping.sections.material.least_drop:
        return "the smallest that is usual for drops"
    return "least tube in all, together with the other sizes"


def _by_pressure(choice: Choice, smaller: Neighbour, units: Units) -> str:
    if choice.bound_by[smaller.outlet] == "tool":
        return f"the pressure that the tool at {smaller.outlet} needs"
    return (
        f"the pressure lost on the way to {smaller.outlet}, at most {units.pressure_drop(TOTAL_DROP_WARNING_PA.value)}"
    )


def price_words(network: Network, choice: SizeChoice, neighbour: Neighbour) -> str:
    """Return what the tube of a stretch costs more or less in the size next to its own; empty without prices.

    Source:
        the prices of the site file.
    """
    prices, layout = network.layout.site.main.prices or {}, network.layout
    if choice.size not in prices or neighbour.size not in prices:
        return ""
    length_m = sum(layout.length_m(layout.run_by_id[run]) for run in choice.runs)
    more = length_m * (prices[neighbour.size] - prices[choice.size])
    return f"; tube {abs(more):.2f} {'dearer' if more >= 0.0 else 'cheaper'}"


def neighbour_words(network: Network, choice: SizeChoice, neighbour: Neighbour | None) -> str:
    """Return what the size next to that of a stretch would do there; empty where there is none.

    Source:
        words only.
    """
    if neighbour is None:
        return ""
    units, more = network.layout.site.units, price_words(network, choice, neighbour)
    left = units.pressure(neighbour.gauge_pressure_pa)
    return f"{neighbour.size}: {units.velocity(neighbour.velocity_m_s)}, {left} at {neighbour.outlet}{more}"
