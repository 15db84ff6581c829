"""What runs together: the outlets and tools of a case are there, and each is named once."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.reader import is_read, nearest_hint
from drafter.site.model import DemandCase, InUse, Site
from drafter.site.work import find_outlet, find_use, uses_at


def check_at_once(site: Site) -> Iterator[Finding]:
    """Yield a warning DEM001 where more outlets are used at once than there are."""
    demand = site.demand
    if demand.at_once is not None and demand.at_once > len(site.outlets):
        there_are = str(len(site.outlets))
        message = f"{demand.at_once} outlets are in use at once, and there are {there_are}"
        place = demand.where("at_once")
        fix = f"write {there_are} or fewer"
        yield Finding("DEM001", Severity.WARNING, place, message, "", str(demand.at_once), there_are, fix)


def check_case_size(site: Site, case: DemandCase) -> Iterator[Finding]:
    """Yield a warning DEM004 for a case of more outlets than are said to be in use at once."""
    at_once = site.demand.at_once
    if at_once is not None and len(case.running) > at_once:
        message = (
            f"the case '{case.name}' runs {len(case.running)} outlets, and {at_once} are said to be in use at once"
        )
        fix = f"write {{at once: {len(case.running)}}}, or fewer outlets in the case"
        count = str(len(case.running))
        yield Finding("DEM004", Severity.WARNING, case.where("running"), message, "", count, str(at_once), fix)


def check_case_name(case: DemandCase, earlier: list[DemandCase]) -> Iterator[Finding]:
    """Yield DEM002 for a case named like an earlier one."""
    if is_read(case.name) and any(is_read(other.name) and other.name == case.name for other in earlier):
        message = f"a case is called '{case.name}' already"
        yield Finding("DEM002", Severity.ERROR, case.where("name"), message, fix="give each case a name of its own")


def check_in_use(site: Site, use: InUse, earlier: list[InUse]) -> Iterator[Finding]:
    """Yield REF006 for an outlet that is not there, REF007 for a tool it does not have, DEM003 for one named twice."""
    outlet = find_outlet(site.outlets, use.outlet)
    if outlet is None:
        tags = [each.tag for each in site.outlets if is_read(each) and is_read(each.tag)]
        fix = f"{nearest_hint(use.outlet, tags)}there are {', '.join(tags)}"
        message = f"no outlet has the tag {use.outlet}"
        yield Finding("REF006", Severity.ERROR, use.where("outlet"), message, use.outlet, fix=fix)
        return
    if any(is_read(other.outlet) and find_outlet(site.outlets, other.outlet) is outlet for other in earlier):
        message = f"{outlet.tag} runs twice in this case"
        fix = "name it once; one tool hangs on a coupling at a time"
        yield Finding("DEM003", Severity.ERROR, use.where("outlet"), message, outlet.tag, fix=fix)
    if use.tool and find_use(outlet, use.tool) is None:
        tools = [tool.tool for tool in uses_at(outlet) if is_read(tool) and is_read(tool.tool)]
        fix = f"{nearest_hint(use.tool, tools)}it has {', '.join(tools)}"
        message = f"the tool '{use.tool}' is not among those of {outlet.tag}"
        yield Finding("REF007", Severity.ERROR, use.where("tool"), message, outlet.tag, fix=fix)
