"""Chooses the bores: one size for the main, one for the drops, the smallest that keep the limits."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from drafter.finding import Finding, Severity
from drafter.layout.graph import Run
from drafter.sizing.cases import Pressures
from drafter.sizing.demand import largest
from drafter.sizing.sections import Sections
from drafter.standards import limits
from drafter.standards.air import line_velocity_m_s
from drafter.standards.materials import TubeSize


@dataclass(frozen=True, slots=True)
class Choice:
    """The sizes of main and drops, and the reasons in words."""

    main: TubeSize
    drop: TubeSize
    main_reason: str
    drop_reason: str

    def reason(self, run: Run) -> str:
        return self.drop_reason if run.outlet else self.main_reason


def choose_bores(
    sections: Sections,
    peaks_m3_s: Mapping[str, float],
    at_once: int,
    supply_absolute_pa: float,
    temperature_k: float,
    pressures: Callable[[TubeSize, TubeSize], Pressures],
) -> tuple[Choice, list[Finding]]:
    """Return the smallest sizes that keep velocity and pressure limits; sizes given are taken as they are.

    Args:
        peaks_m3_s: free air of each outlet by its tag.
        supply_absolute_pa: lowest pressure that enters the piping.
        temperature_k: of the air in the pipes.
        pressures: solves the network for given sizes of main and drops.

    Source:
        velocity and pressure limits as in `drafter.standards.limits`; one size for the main is common practice.
    """
    main_data = sections.layout.site.main
    family = sections.material
    main_flow = largest(list(peaks_m3_s.values()), at_once)
    drop_flow = max(peaks_m3_s.values())
    findings: list[Finding] = []

    def velocity(flow: float, size: TubeSize) -> float:
        return line_velocity_m_s(flow, supply_absolute_pa, temperature_k, size.bore_m)

    def smallest(flow: float, limit: float, what: str) -> TubeSize:
        found = next((size for size in family.sizes if velocity(flow, size) <= limit), None)
        if found is None:
            findings.append(_none_fits(sections, what, flow, limit))
        return found or family.sizes[-1]

    main_limit = limits.MAIN_VELOCITY_PREFERRED_M_S.value
    drop_limit = limits.BRANCH_VELOCITY_PREFERRED_M_S.value
    fixed_main, fixed_drop = family.find_size(main_data.size), family.find_size(main_data.drop_size)
    main = fixed_main or smallest(main_flow, main_limit, "main")
    drop = fixed_drop or smallest(drop_flow, drop_limit, "drops")
    if fixed_drop is None and drop.bore_m > main.bore_m:
        drop = main
    by_pressure = False
    while fixed_main is None and main is not family.sizes[-1]:
        if pressures(main, drop).worst_drop_pa <= limits.TOTAL_DROP_WARNING_PA.value:
            break
        main = family.sizes[family.sizes.index(main) + 1]
        by_pressure = True
    units = sections.layout.site.units
    main_words = (
        f"pressure lost to the worst outlet at most {units.pressure_drop(limits.TOTAL_DROP_WARNING_PA.value)}"
        if by_pressure
        else _why(family.sizes, main, lambda size: velocity(main_flow, size), main_limit, units.velocity)
    )
    drop_words = _why(family.sizes, drop, lambda size: velocity(drop_flow, size), drop_limit, units.velocity)
    choice = Choice(
        main,
        drop,
        "size given in the site file" if fixed_main else main_words,
        "size given in the site file" if fixed_drop else drop_words,
    )
    return choice, findings


def _why(
    sizes: tuple[TubeSize, ...],
    chosen: TubeSize,
    velocity: Callable[[TubeSize], float],
    limit: float,
    words: Callable[[float], str],
) -> str:
    index = sizes.index(chosen)
    said = f"{words(velocity(chosen))} of at most {words(limit)}"
    if index:
        said += f"; {sizes[index - 1].name} would be {words(velocity(sizes[index - 1]))}"
    return said


def _none_fits(sections: Sections, what: str, flow_m3_s: float, limit: float) -> Finding:
    units, site = sections.layout.site.units, sections.layout.site
    return Finding(
        "SIZE001",
        Severity.WARNING,
        site.main.where("material"),
        f"no size of {sections.material.name} carries {units.free_air(flow_m3_s)} in the {what} "
        f"below {units.velocity(limit)}",
        what,
        fix="choose a material with larger sizes, or fewer outlets at once; the largest size is drawn",
    )
