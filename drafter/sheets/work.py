"""The schedules for the day of the work: its order, and the tools and consumables to bring."""

from __future__ import annotations

from drafter.quantity import Units
from drafter.sheets.scene import Scene
from drafter.sheets.tables import Column, Table
from drafter.takeoff.job_tools import TOOL, job_tools
from drafter.takeoff.order_of_work import order_of_work


def order_table(scene: Scene) -> Table:
    """The steps of the work from the compressor outwards."""
    steps = order_of_work(scene.design, scene.takeoff)
    rows = tuple((str(step.number), step.what, step.which, step.care) for step in steps)
    return Table("ORDER OF WORK", (Column("no.", True), Column("do"), Column("with"), Column("mind")), rows)


def tools_table(scene: Scene) -> Table:
    """Tools by the kind of joint, and what the joints use up."""
    rows = tuple(
        (row.item, "" if row.kind == TOOL else amount_used(row.amount, row.unit, scene.units), row.use)
        for row in job_tools(scene.design, scene.takeoff)
    )
    return Table("TOOLS AND CONSUMABLES", (Column("item"), Column("about", True), Column("for")), rows)


def amount_used(amount: float, unit: str, units: Units) -> str:
    """An amount with its unit, metres as the drawing writes lengths."""
    return units.rough_length(amount) if unit == "m" else f"{amount:.0f} {unit}"
