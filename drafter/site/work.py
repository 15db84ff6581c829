"""What a run of the work pattern means: its outlet, and the tool there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drafter.reader import is_read
from drafter.site.model import Outlet, Site, ToolUse, WorkRun
from drafter.standards.tools import find_tool

TOOL_WHERE_NONE_IS_GIVEN = "blow gun"


def find_outlet(outlets: Sequence[Outlet], tag: str) -> Outlet | None:
    """Return the outlet of that tag, whatever its capitals."""
    tagged = [outlet for outlet in outlets if is_read(outlet) and is_read(outlet.tag)]
    return next((outlet for outlet in tagged if outlet.tag.lower() == tag.lower()), None)


def uses_at(outlet: Outlet) -> tuple[ToolUse, ...]:
    """Return the tools of an outlet; one without is counted as one with a blow gun."""
    return outlet.tools or (ToolUse(tool=TOOL_WHERE_NONE_IS_GIVEN),)


def find_use(outlet: Outlet, tool: str) -> ToolUse | None:
    """Return the tool of that name at an outlet; its only one where no name is given."""
    uses = [use for use in uses_at(outlet) if is_read(use)]
    if not tool:
        return uses[0] if len(uses) == 1 else None
    return next((use for use in uses if _name(use.tool) == _name(tool)), None)


def runs_of(site: Site) -> Iterator[tuple[WorkRun, Outlet, ToolUse]]:
    """Yield each run of a checked site's work pattern, if it has one, with its outlet and the tool there."""
    for run in site.work.runs if site.work else ():
        outlet = find_outlet(site.outlets, run.outlet)
        assert outlet is not None
        use = find_use(outlet, run.tool)
        assert use is not None
        yield run, outlet, use


def _name(written: str) -> str:
    tool = find_tool(written) if is_read(written) else None
    return tool.name if tool else written.lower()
