"""A blow gun can be dead-ended at 30 psi or more.

Why: a nozzle pressed against skin drives air through it, and chips are thrown into eyes.
Passes: outlets for blow guns alone behind a regulator of their own, to be set below 30 psi (2.07 bar); or any outlet
behind a regulator of the treatment set below it; or a nozzle that holds below it when dead-ended, by holes at its side
or a valve, where the site file gives what builds up before it as `dead end`. The law says less than 30 psi: 30 psi
itself is too much.
Fails: a note naming the outlets whose blow guns get as much, and those whose regulator must leave as much for another
tool.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, Rule, Threshold
from drafter.site.model import Outlet, Site, ToolUse
from drafter.sizing.demand import tool_figures
from drafter.standards.rule_sets import rule_set
from drafter.standards.tools import FOR_CLEANING, find_tool
from drafter.supports.design import Design

CLEANING_PA = rule_set("us").blow_gun_pa

RULE = Rule(
    "BLOW001",
    "blow gun at line pressure",
    CLEANING_PA.source,
    (NOTE,),
    Threshold(CLEANING_PA, Kind.PRESSURE, "and less than that", lambda chosen: chosen.blow_gun_pa),
    guards=True,
)

_ROUNDING = 1e-9

_BE_CAREFUL = "wear eye protection and never point one at anybody"


def check(design: Design) -> Iterator[Finding]:
    site = design.network.layout.site
    too_much_pa = RULE.limit(site).value * (1.0 - _ROUNDING)
    line_pa = site.line_pa
    if line_pa < too_much_pa:
        return
    blowing = [outlet for outlet in site.outlets if any(_blows(use, too_much_pa) for use in outlet.tools)]
    for outlet in blowing:
        told_pa = [use.dead_end_pa for use in outlet.tools if _blows(use, too_much_pa)]
        if built_up_pa := [pressure_pa for pressure_pa in told_pa if pressure_pa is not None]:
            builds = f"{site.units.pressure(max(built_up_pa))} gauge"
            said, fix = f"the nozzle at {outlet.tag} builds up {builds}", "take one that holds below it"
            yield _finding(site, outlet, said, builds, fix)
    blowing = [outlet for outlet in blowing if any(_cleans(use) and use.dead_end_pa is None for use in outlet.tools)]
    if open_line := [outlet for outlet in blowing if "regulator" not in outlet.units]:
        gets = f"{site.units.pressure(line_pa)} gauge"
        said = f"blow guns at {_tags(open_line)} get up to {gets}"
        fix = "take nozzles that hold below it when dead-ended, or give the outlet a regulator of its own, set below it"
        yield _finding(site, open_line[0], said, gets, fix, f"service: [regulator], or tools: [{_vented(site)}]")
    for outlet in blowing:
        left_pa, tool = _left_by_regulator(site, outlet)
        if "regulator" in outlet.units and left_pa >= too_much_pa:
            gets = f"{site.units.pressure(min(left_pa, line_pa))} gauge"
            said = f"the regulator at {outlet.tag} must leave {gets} for the {tool}, so the blow gun gets as much"
            fix = f"take a nozzle that holds below {_bound(site)} dead-ended, or give the blow gun an outlet of its own"
            yield _finding(site, outlet, said, gets, fix, f"tools: [{_vented(site)}]")


def _finding(site: Site, outlet: Outlet, said: str, gets: str, fix: str, write: str = "") -> Finding:
    return RULE.finding(
        NOTE,
        outlet.where("tools"),
        f"{said}: for cleaning it must be less than {_bound(site)} when dead-ended",
        measured=gets,
        limit=f"less than {_bound(site)}",
        fix=f"{fix}; {_BE_CAREFUL}",
        write=write,
        subject=outlet.tag,
        source=RULE.limit(site).source,
    )


def _bound(site: Site) -> str:
    most_pa = RULE.limit(site).value
    return "30 psi (2.07 bar)" if most_pa == CLEANING_PA.value else site.units.pressure(most_pa)


def _tags(outlets: list[Outlet]) -> str:
    return ", ".join(outlet.tag for outlet in outlets)


def _left_by_regulator(site: Site, outlet: Outlet) -> tuple[float, str]:
    """The gauge pressure [Pa] that a regulator at an outlet must leave, and for what; a blow gun needs what is said."""
    if outlet.pressure_pa is not None:
        return outlet.pressure_pa, "outlet as the site file says"
    needs = [(_needed_pa(site, use), use.tool) for use in outlet.tools]
    return max(needs, default=(0.0, ""))


def _needed_pa(site: Site, use: ToolUse) -> float:
    return (use.pressure_pa or 0.0) if _cleans(use) else tool_figures(site, use).needed_pa


def _vented(site: Site) -> str:
    """How a site file says that a nozzle holds the pressure down."""
    return f"{{tool: blow gun, dead end: {'25 psi' if site.imperial else '1.7 bar'}}}"


def _blows(use: ToolUse, too_much_pa: float) -> bool:
    """Whether a tool is for cleaning and its nozzle does not hold the pressure down by itself."""
    return _cleans(use) and (use.dead_end_pa is None or use.dead_end_pa >= too_much_pa)


def _cleans(use: ToolUse) -> bool:
    tool = find_tool(use.tool)
    return tool is not None and tool.name in FOR_CLEANING
