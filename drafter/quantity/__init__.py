"""Quantities at the edges: text with a unit to SI floats, and SI floats to text for people."""

from drafter.quantity.kinds import Kind
from drafter.quantity.parsing import Quantity, QuantityError, parse
from drafter.quantity.writing import Units, feet_inches

__all__ = ["Kind", "Quantity", "QuantityError", "Units", "feet_inches", "parse"]
