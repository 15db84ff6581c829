"""Quantities at the edges: text with a unit to SI floats, and SI floats to text for people."""

from drafter.quantity.kinds import Kind
from drafter.quantity.parsing import Quantity, QuantityError, parse
from drafter.quantity.writing import Units, duration, feet_inches

__all__ = ["Kind", "Quantity", "QuantityError", "Units", "duration", "feet_inches", "parse"]
