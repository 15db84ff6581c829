"""A straight line of the main grows with warmth and finds no room to move.

Why: held at both ends, a pipe that warms bows, works its joints loose or pulls its brackets out.
Passes: a line to 30 m of metal or 8 m of plastic, with a free leg across the bend at either end, and across each tee
between that is no take-off, as long as its movement needs, where a constant for the material is published; movements
under 1 mm are taken up by the clips. The leg ends at the next bend or fixed point; other brackets on it are listed as
loose, and let the pipe move sideways.
Fails: a warning for a longer line, and for a leg that is too short.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Units
from drafter.rules.rule import WARNING, Rule
from drafter.site.wall import with_article
from drafter.standards.expansion import TAKEN_UP_M, longest_straight_m
from drafter.supports.design import Design
from drafter.supports.straights import End, Movement, movements

RULE = Rule(
    "MOVE001", "pipe without room to move", "common practice; free leg: Copper Tube Handbook, from memory", (WARNING,)
)


def check(design: Design) -> Iterator[Finding]:
    units = design.network.layout.site.units
    for movement in movements(design):
        if movement.growth_m < TAKEN_UP_M:
            continue
        longest_m = longest_straight_m(design.network.material)
        if movement.straight.length_m > longest_m + 1e-6:
            yield _too_long(design, movement, longest_m)
        for end in movement.pulls:
            if end.moves_m >= TAKEN_UP_M and end.leg_m is not None and end.leg_m < (end.needed_m or 0.0) - 1e-6:
                yield _stiff_end(design, movement, end, end.leg_m, end.needed_m or 0.0, units)


def _too_long(design: Design, movement: Movement, longest_m: float) -> Finding:
    site = design.network.layout.site
    wall = design.network.layout.run_by_id[movement.straight.runs[-1]].wall
    length, limit = site.units.long_length(movement.straight.length_m), site.units.long_length(longest_m)
    return RULE.finding(
        WARNING,
        site.main.where("material"),
        f"the main runs {length} straight along {with_article(wall)} "
        f"and grows {site.units.movement(movement.growth_m)}",
        measured=length,
        limit=limit,
        fix="put an offset or an expansion loop near its middle, with a fixed point on either side of it",
        subject="main",
    )


def _stiff_end(design: Design, movement: Movement, end: End, leg_m: float, needed_m: float, units: Units) -> Finding:
    layout = design.network.layout
    node = layout.nodes[end.node]
    place = units.length_with_unit(units.snapped_m(layout.from_left_m(node)))
    leg, needed = units.length_with_unit(leg_m), units.length_with_unit(needed_m)
    at = "tee" if end in movement.tees else "end"
    return RULE.finding(
        WARNING,
        layout.site.main.where("material"),
        f"the main moves {units.movement(end.moves_m)} at its {at} on {with_article(node.wall)}, {place} from the "
        f"left: the leg across is too short to give way",
        measured=leg,
        limit=needed,
        fix="put an offset into the line, a flexible connection there, or the fixed point nearer this end",
        subject="main",
    )
