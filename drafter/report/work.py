"""The order of work with its tools: blocks of the report for people, lists of the JSON for programs."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import Any

from drafter.report.blocks import block, columns
from drafter.sheets.work import amount_used
from drafter.supports.design import Design
from drafter.takeoff import Takeoff
from drafter.takeoff.job_tools import TOOL, job_tools
from drafter.takeoff.order_of_work import Step, order_of_work

WIDTH = 112


def work_text(design: Design, takeoff: Takeoff) -> str:
    """Return the numbered steps, and the tools and consumables to bring."""
    units = design.network.layout.site.units
    steps = [line for step in order_of_work(design, takeoff) for line in _lines(step)]
    rows = [
        (row.item, "" if row.kind == TOOL else amount_used(row.amount, row.unit, units), row.use)
        for row in job_tools(design, takeoff)
    ]
    return f"{block('ORDER OF WORK', steps)}\n\n{block('TOOLS AND CONSUMABLES', columns(rows))}"


def cost_text(takeoff: Takeoff) -> str:
    """Return what the parts cost, and which have no price; nothing where the site file has no prices."""
    bill = takeoff.bill
    if bill is None:
        return ""
    without = f"without a price: {'; '.join(bill.without)}" if bill.without else "every part has a price"
    lines = [f"total {bill.total:.2f}, as ordered, in the currency of the prices", *textwrap.wrap(without, WIDTH)]
    return block("COST OF PARTS", lines)


def _lines(step: Step) -> Iterator[str]:
    head = f"{step.number:>2}  "
    told = f"{step.what}: {step.which}" if step.which else step.what
    yield from textwrap.wrap(told, WIDTH, initial_indent=head, subsequent_indent=" " * len(head))
    if step.care:
        indent = " " * len(head)
        yield from textwrap.wrap(f"Mind: {step.care}", WIDTH, initial_indent=indent, subsequent_indent=indent)


def work_data(design: Design, takeoff: Takeoff) -> dict[str, Any]:
    """Return the same as plain data, with the unions and where they stand."""
    return {
        "unions": [
            {"pipe": union.run, "size": union.size, "x_m": round(union.at.x, 4), "y_m": round(union.at.y, 4),
             "height_m": round(union.at.z, 4), "for": union.why}
            for union in takeoff.unions
        ],
        "order_of_work": [
            {"number": step.number, "do": step.what, "with": step.which, "mind": step.care}
            for step in order_of_work(design, takeoff)
        ],
        "tools": [
            {"kind": row.kind, "item": row.item, "amount": row.amount, "unit": row.unit, "use": row.use}
            for row in job_tools(design, takeoff)
        ],
    }  # fmt: skip
