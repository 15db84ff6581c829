"""The cutting plan in words, as the sheets and the report say it."""

from __future__ import annotations

from drafter.quantity import Units
from drafter.standards.materials import Material
from drafter.takeoff.cutting import SizeCutting


def purchase_words(plan: SizeCutting, units: Units) -> str:
    """Return what to buy, such as ``2 x 6.00 m + 1 x 3.00 m``."""
    return " + ".join(f"{count} x {units.long_length(length)}" for count, length in plan.purchase)


def bound_words(plan: SizeCutting, units: Units) -> str:
    """Return whether less could do."""
    if plan.proved:
        return "no less will do"
    bars = f"{plan.least_bars} length{'' if plan.least_bars == 1 else 's'}"
    return f"at least {units.long_length(plan.least_m)} in {bars}; not settled whether that will do"


def cutting_order(family: Material) -> str:
    """Return how to go about it."""
    if family.coil:
        return "Cut long pieces first, as the cutting plan says; its metre marks count from the free end of the coil."
    return "Cut long pieces first, as the cutting plan says."
