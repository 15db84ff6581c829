"""How much pipe grows when it warms, and the free leg beyond a bend that gives way to it."""

from __future__ import annotations

import math

from drafter.standards.materials import Material

TAKEN_UP_M = 0.001
"""A movement that clips and joints take up (common practice)."""


def growth_m(family: Material, length_m: float, coldest_k: float, warmest_k: float) -> float:
    """Growth of a length of pipe from the coldest to the warmest, free to move [m].

    Source:
        linear expansion, any handbook; the coefficient with each material.
    """
    return family.expansion_1_k * length_m * (warmest_k - coldest_k)


def free_leg_m(family: Material, outside_m: float, moved_m: float) -> float | None:
    """Length of pipe across a bend, without a bracket that holds it sideways, that gives way to a movement [m].

    Brackets on it must be loose sideways; the fixed point, which does hold, ends it.

    ``C sqrt(D dL)`` of a cantilever guided at its end, with C from stiffness and allowed bending stress. None where no
    published C of the family is known.

    Source:
        Copper Tube Handbook of the Copper Development Association, expansion loops and offsets, from memory:
        L = sqrt(3 E / P) sqrt(D dL) with E = 17 000 000 psi and P = 6000 psi. Steel and stainless steel: ASME B31.9
        equation (8), D Y / (L - U)^2 <= 208.3 with D and Y in mm and L - U in m, from memory; for one leg square to a
        long line L - U is nearly the leg, so C = 1000 / sqrt(208.3).
    """
    return family.free_leg_factor * math.sqrt(outside_m * moved_m) if family.free_leg_factor else None


LONGEST_METAL_M, LONGEST_POLYMER_M = 30.0, 8.0
"""Longest straight line without a bend or an offset.

Source:
    common practice: about every 30 m of metal, every 6 to 10 m of plastic.
"""


def longest_straight_m(family: Material) -> float:
    """Longest straight line of a family without a bend or an offset [m].

    Source:
        common practice: about every 30 m of metal, every 6 to 10 m of plastic.
    """
    return LONGEST_POLYMER_M if family.polymer else LONGEST_METAL_M
