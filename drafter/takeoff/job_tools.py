"""Tools to bring and what the joints use up, counted from the joints of the job."""

from __future__ import annotations

import math
from dataclasses import dataclass

from drafter.standards.joint_tools import joint_tools
from drafter.supports.design import Design
from drafter.takeoff.part import TUBE
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
    tools = [JobRow(TOOL, tool.tool, 1.0, "pcs", _with_sizes(tool.tool, tool.use, of_sizes)) for tool in needed.tools]
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


def _with_sizes(tool: str, use: str, sizes: str) -> str:
    """What a tool is for, with the sizes it is needed in where it comes in sizes."""
    return f"{use}: {sizes}" if "size" in tool and "thread's" not in tool else use
