"""What the main grows with warmth, straight line by straight line, as text and as data."""

from __future__ import annotations

from typing import Any

from drafter.supports.design import Design
from drafter.supports.straights import End, Movement, movements

LEAST_M = 1e-4
"""Smaller movements are not spoken of."""


def expansion_lines(design: Design) -> list[str]:
    """Say for each straight line of the main how much it grows, from where, the free leg that needs, what is loose."""
    units, moving = design.network.layout.site.units, movements(design)
    lines = [_line(design, movement) for movement in moving if movement.growth_m >= LEAST_M]
    if not lines:
        return []
    most_m = max(movement.take_off_m for movement in moving)
    closing = [f"take-offs move up to {units.movement(most_m)}: leave the first clip of each drop slack sideways"]
    loose = [f"{b.tag} {units.room_to_move(b.gives_m)}" for b in design.brackets if b.gives_m]
    if loose:
        closing.append(f"brackets on the free legs are loose, to let the pipe move sideways: {', '.join(loose)}")
    family = design.network.material
    if not family.free_leg_factor:
        closing.append(
            "free legs at the bends are not checked, and no bracket on them is loose: "
            f"no published constant for {family.name} is known"
        )
    return [*lines, *(closing if most_m >= LEAST_M else closing[1:])]


def _line(design: Design, movement: Movement) -> str:
    layout, units = design.network.layout, design.network.layout.site.units
    run = layout.run_by_id[movement.straight.runs[-1]]
    wall = layout.site.wall_words(run.room, run.wall)
    ways = " and ".join(units.movement(end.moves_m) for end in movement.ends)
    held = f", from {movement.fixed.tag} {ways}" if movement.fixed else ""
    temperatures = f"{units.temperature(movement.coldest_k)} to {units.temperature(movement.warmest_k)}"
    needed = max((end.needed_m or 0.0 for end in movement.pulls), default=0.0)
    leg = f"; free leg of {units.length_with_unit(needed)} across its bends and tees" if needed else ""
    length = units.long_length(movement.straight.length_m)
    return f"{wall}: {length}, {temperatures}: {units.movement(movement.growth_m)}{held}{leg}"


def expansion_data(design: Design) -> list[dict[str, Any]]:
    """Return the same as plain data."""
    return [
        {
            "pipes": list(movement.straight.runs),
            "length_m": round(movement.straight.length_m, 4),
            "growth_mm": round(movement.growth_m * 1000, 2),
            "fixed_point": movement.fixed.tag if movement.fixed else None,
            "ends": [_end_data(end) for end in movement.ends],
            "tees": [_end_data(end) for end in movement.tees],
        }
        for movement in movements(design)
    ]


def _end_data(end: End) -> dict[str, Any]:
    leg_m, needed_m = (None if each is None else round(each, 3) for each in (end.leg_m, end.needed_m))
    return {
        "node": end.node, "moves_mm": round(end.moves_m * 1000, 2), "free_leg_m": leg_m, "needed_leg_m": needed_m,
    }  # fmt: skip
