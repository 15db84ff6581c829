"""Tools to bring and what the joints use up, counted from the joints of the job."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from drafter.standards.joint_tools import JobTool, joint_tools
from drafter.supports.design import Design
from drafter.takeoff.job_conditions import job_conditions
from drafter.takeoff.part import TUBE
from drafter.takeoff.pipe_threads import thread_form
from drafter.takeoff.schedules import Takeoff

TOOL, USED_UP = "tool", "used up"


@dataclass(frozen=True, slots=True)
class JobRow:
    """A tool, or something used up.

    Attributes:
        kind: `TOOL` or `USED_UP`.
        amount: in ``unit``; 1 of a tool.
        use: what for.
    """

    kind: str
    item: str
    amount: float
    unit: str
    use: str


def job_tools(design: Design, takeoff: Takeoff) -> tuple[JobRow, ...]:
    """Return the tools of the family and of every job, then what is used up."""
    needed = joint_tools(design.network.material.name)
    outside = {size.name: size.outside_m for size in design.network.material.sizes}
    pieces = [part for part in takeoff.instances if part.group == TUBE]
    counts = {
        "joint": float(len(takeoff.joints)),
        "end": 2.0 * len(pieces),
        "thread": float(sum(port.kind == "male" for part in takeoff.instances for port in part.ports)),
        "outside": 2.0 * sum(outside[part.size] for part in pieces),
    }
    sizes = sorted({part.size for part in pieces}, key=lambda name: outside[name])
    inch = " in" if design.network.material.inch_sized else ""
    of_sizes = ", ".join(f"{size}{inch}" for size in sizes)
    bent = {part.size for part in pieces if part.bends}
    of_bent = ", ".join(size for size in sizes if size in bent)
    job, form = job_conditions(design, takeoff), thread_form(design.network, ["male"])
    tools = [
        JobRow(TOOL, tool.tool, 1.0, "pcs", _use(tool, job, of_sizes, form))
        for tool in needed.tools
        if not tool.when or tool.when in job
    ]
    tools += [JobRow(TOOL, tool.tool, 1.0, "pcs", f"{tool.use}: {of_bent}") for tool in needed.bending_tools if bent]
    used = [
        JobRow(USED_UP, item.item, _rounded_up(counts[item.per] * item.amount, item.unit), item.unit, item.use)
        for item in needed.consumables
    ]
    return (*tools, *used)


def _rounded_up(amount: float, unit: str) -> float:
    """Round up to what is counted out: whole pieces and metres, tens of grams and millilitres."""
    step = 1.0 if unit in ("pcs", "m") else 10.0
    return math.ceil(amount / step - 1e-9) * step


def _use(tool: JobTool, job: Mapping[str, str], sizes: str, form: str) -> str:
    """What a tool is for, with what the job says of that, or the sizes of tube and thread where it comes in sizes."""
    if tool.when:
        return f"{tool.use}: {job[tool.when]}" if job[tool.when] else tool.use
    if "size" not in tool.tool or "thread's" in tool.tool:
        return tool.use
    return f"{tool.use}: {sizes}{f', thread {form}' if 'die head' in tool.tool else ''}"
