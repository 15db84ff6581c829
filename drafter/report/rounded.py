"""Figures as they stand in plain data: rounded to less than can be measured, in the units of the keys."""

from __future__ import annotations


def metres(length_m: float) -> float:
    """Return a length [m], never a negative zero."""
    return round(length_m, 4) + 0.0


def bar(pressure_pa: float) -> float:
    """Return a pressure, or a difference of two [bar]."""
    return round(pressure_pa / 1e5, 5)


def litres_per_s(flow_m3_s: float) -> float:
    """Return a flow [l/s]."""
    return round(flow_m3_s * 1000, 4)
