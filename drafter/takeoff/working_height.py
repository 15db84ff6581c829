"""What one works from, and with how many, by the height of the work and the weight of what is lifted there."""

from __future__ import annotations

from collections.abc import Iterable

from drafter.sizing.network import Network
from drafter.takeoff.pieces import Piece

IN_REACH_M = 2.0
"""Above this a ladder is needed (common practice)."""

LADDER_TO_M = 3.0
"""Above this one works from a platform or tower, with two (common practice)."""

ONE_LIFTS_KG = 5.0
"""Heavier than this above the shoulder, at arm's length, it takes two (lifting filter of HSE INDG143, from memory)."""

LADDER = "Safe ladder, one holds it."
PLATFORM = "Working platform or tower, two people."


def heaviest(network: Network, pieces: Iterable[Piece]) -> tuple[int, float]:
    """Return number and weight of the heaviest piece [kg]; 0 where there is none."""
    size = {each.name: each for each in network.sizes.values()}
    weights = [(network.material.weight_kg_m(size[piece.size]) * piece.cut_m, piece.number) for piece in pieces]
    weight_kg, number = max(weights, default=(0.0, 0))
    return number, weight_kg


def height_care(network: Network, high_m: float, pieces: Iterable[Piece] = ()) -> list[str]:
    """Return what to work from, and who has to be there.

    Args:
        high_m: of the work above the floor.
        pieces: of tube that are lifted there.
    """
    if high_m <= IN_REACH_M:
        return []
    number, weight_kg = heaviest(network, pieces)
    if weight_kg > ONE_LIFTS_KG:
        return [f"{PLATFORM} Piece {number} weighs {network.layout.site.units.weight(weight_kg)}."]
    return [PLATFORM if high_m > LADDER_TO_M else LADDER]
