"""Where the pressure goes on the way to one tool: treatment, each part of the line, units, coupling, hose."""

from __future__ import annotations

from dataclasses import dataclass

from drafter.site.model import Outlet, Site
from drafter.sizing.cases import Piping, SolvedCase
from drafter.sizing.tool_end import tool_end
from drafter.standards.air import atmospheric_pressure_pa
from drafter.standards.components import component

NAMES = {
    "connection": "flexible connection",
    "hose": "flexible connection",
    "riser": "riser",
    "main": "main",
    "drop": "drop",
}
"""What the ladder calls each part of the line."""

HELD = "held by the regulator"
"""What it calls the pressure that a regulator of the treatment keeps back."""


@dataclass(frozen=True, slots=True)
class Step:
    """One step of an outlet's pressure ladder: what takes pressure, how much, and the gauge pressure behind it."""

    what: str
    drop_pa: float
    gauge_pressure_pa: float


def treatment_drop_pa(site: Site) -> float:
    """Return the pressure lost in the treatment train at full flow [Pa].

    Source:
        the site file, else `drafter/standards/components.yaml`.
    """
    return sum(
        unit.drop_pa if unit.drop_pa is not None else component(unit.kind).pressure_drop_pa for unit in site.treatment
    )


def supply_gauge_pa(site: Site) -> float:
    """Return the lowest gauge pressure that enters the piping: cut-in less treatment, or what a regulator holds.

    Source:
        a regulator holds its setting only while more than that comes in.
    """
    settings = [unit.set_pa for unit in site.treatment if unit.set_pa is not None]
    return min([site.compressor.cut_in_pa - treatment_drop_pa(site), *settings])


def ladder(piping: Piping, outlet: Outlet, solved: SolvedCase) -> tuple[Step, ...]:
    """Return the steps from the compressor at cut-in to the tool of an outlet, in one solved case.

    Where the air cannot pass, the steps go down to nothing.

    Source:
        differences of the solved pressures where the parts of the line meet; `tool_end` behind them.
    """
    site = piping.sections.layout.site
    atmosphere = atmospheric_pressure_pa(site.altitude_m)
    taken, entering = treatment_drop_pa(site), supply_gauge_pa(site)
    levels = [("treatment", site.compressor.cut_in_pa - taken)] if site.treatment else []
    if entering < site.compressor.cut_in_pa - taken:
        levels.append((HELD, entering))
    for what, absolute_pa in _along_the_line(piping, outlet.tag, solved):
        levels.append((what, max(0.0, absolute_pa - atmosphere)))
    end = tool_end(
        outlet, piping.at_coupling_pa(solved, outlet.tag), solved.case.flows_m3_s[outlet.tag], piping.temperature_k
    )
    if outlet.service:
        levels.append(("units at the outlet", max(0.0, end.before_coupling_pa - atmosphere)))
    levels.append(("coupling", max(0.0, end.before_hose_pa - atmosphere)))
    if outlet.hose.length_m:
        levels.append(("hose", max(0.0, end.at_tool_pa - atmosphere)))
    steps, before = [], site.compressor.cut_in_pa
    for what, gauge_pa in levels:
        steps.append(Step(what, before - gauge_pa, gauge_pa))
        before = gauge_pa
    return tuple(steps)


def _along_the_line(piping: Piping, tag: str, solved: SolvedCase) -> list[tuple[str, float]]:
    """Absolute pressure at the end of each part of the line on the way to an outlet."""
    sections = piping.sections
    number = sections.coupling_nodes[tag]
    _, end = sections.ends
    index: int | None = next(i for i in range(len(sections.sections)) if end[i] == number)
    levels: dict[str, float] = {}
    while index is not None:
        name = NAMES[sections.sections[index].part]
        levels.setdefault(name, float(solved.absolute_pa[end[index]]))
        index = sections.fed_by[index]
    return list(reversed(levels.items()))
