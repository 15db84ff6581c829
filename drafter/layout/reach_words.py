"""What the hoses get to, in words."""

from __future__ import annotations

import math

from drafter.layout.reach import PlaceReach
from drafter.quantity import Units

MOST_NAMED = 3


def place_title(place: PlaceReach) -> str:
    """Return what a place is called, and that it is all round a thing where it is."""
    entry = place.entry
    if not entry.around:
        return entry.title
    return f"all round {entry.around}" + (f" ({entry.name})" if entry.name else "")


def place_words(place: PlaceReach, units: Units) -> str:
    """Return which hoses reach a place and what is left of them, or what is lacking."""
    alone = [f"{tag}, {_down(left_m, units)} to spare" for tag, left_m in place.alone]
    if alone:
        more = len(alone) - MOST_NAMED
        return "; ".join(alone[:MOST_NAMED]) + (f"; {more} more" if more > 0 else "")
    if place.is_reached:
        return f"{', '.join(place.in_part)} between them, {_down(place.left_m, units)} to spare"
    if place.remedy is None:
        return "NOT REACHED: no way leads there"
    part = f"; in part {', '.join(place.in_part)}" if place.in_part else ""
    return f"NOT REACHED: {up_length(-place.left_m, units)} short{part}"


def up_length(length_m: float, units: Units) -> str:
    """Return a length in whole tenths of a metre or foot, never less than it is."""
    return units.long_length(math.ceil(round(length_m / units.rough_step_m, 6)) * units.rough_step_m)


def _down(length_m: float, units: Units) -> str:
    steps = math.floor(round(length_m / units.rough_step_m, 6))
    return units.long_length(max(0, steps) * units.rough_step_m)
