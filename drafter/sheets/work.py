"""The schedules for the day of the work: its order, and the tools and consumables to bring."""

from __future__ import annotations

from drafter.quantity import Units
from drafter.sheets.scene import Scene
from drafter.sheets.tables import Column, Table
from drafter.takeoff.job_tools import TOOL, job_tools
from drafter.takeoff.order_of_work import order_of_work

COLUMN_MM = 55.0
"""Where the words of a step wrap: two such tables stand side by side on A3."""


def order_table(scene: Scene) -> Table:
    """The steps of the work from the compressor outwards."""
    steps = order_of_work(scene.design, scene.takeoff)
    rows = tuple((str(step.number), step.what, step.which, step.care) for step in steps)
    counts = ((scene.errors, "error"), (scene.warnings, "warning"))
    if left_open := ", ".join(f"{count} {what}{'s' * (count > 1)}" for count, what in counts if count):
        rows = (("", "HOLD: settle CHECK BEFORE BUILDING", left_open, "Buy and build nothing before."), *rows)
    words = (Column(head, widest_mm=COLUMN_MM) for head in ("do", "with", "mind"))
    return Table("ORDER OF WORK", (Column("no.", True), *words), rows)


def tools_table(scene: Scene) -> Table:
    """Tools by the kind of joint, and what the joints use up."""
    rows = tuple(
        (row.item, "" if row.kind == TOOL else amount_used(row.amount, row.unit, scene.units), row.use)
        for row in job_tools(scene.design, scene.takeoff)
    )
    return Table("TOOLS AND CONSUMABLES", (Column("item"), Column("about", True), Column("for")), rows)


def amount_used(amount: float, unit: str, units: Units) -> str:
    """An amount with its unit: lengths, weights and liquids as the drawing writes them."""
    match unit:
        case "m":
            return units.rough_length(amount)
        case "g":
            return units.small_weight(amount / 1000.0)
        case "ml":
            return units.water(amount / 1000.0)
    return f"{amount:.0f} {unit}"
