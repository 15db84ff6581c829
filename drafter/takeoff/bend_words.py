"""Bent tube in words: where the bends of a piece are marked, and which turns are bent."""

from __future__ import annotations

import math

from drafter.layout.graph import NodeKind
from drafter.quantity import Units
from drafter.sizing.network import Network
from drafter.takeoff.part import TubeBend
from drafter.takeoff.pieces import Piece

USUAL_DEG, WITHIN_DEG = (90, 45), 3.0
"""Turns that are called by these although the fall of the main makes them a little more or less."""


def turn_deg(bend: TubeBend) -> int:
    """Return how far a bend turns, as one says it [deg]."""
    turn = math.degrees(bend.turn_rad)
    return next((usual for usual in USUAL_DEG if abs(usual - turn) <= WITHIN_DEG), round(turn))


def bends_words(piece: Piece, units: Units) -> str:
    """Return the bends of a piece from its first end on; empty where it is straight.

    One reads ``90° R 176, 1809 to 2087``: turn, radius, and where the bend begins and ends, in the lengths of the
    cutting list.
    """
    length = units.length
    return "; ".join(
        f"{turn_deg(bend)}° R {length(bend.radius_m)}, {length(bend.from_m)} to {length(bend.to_m)}"
        for bend in piece.bends
    )


def turns_words(network: Network) -> str:
    """Return how many turns are bent and how many keep their elbows."""
    layout, bent = network.layout, len(network.bends)
    turns = [id for id, node in layout.nodes.items() if node.kind is NodeKind.BEND and len(layout.runs_at[id]) == 2]
    factor = network.material.bend_radius_factor
    elbows = len(turns) - bent
    return (
        f"{bent} bent on a radius of {factor:g} outside diameters; "
        f"{elbows} {'keeps its elbow, which has' if elbows == 1 else 'keep their elbows, which have'} no room for that"
    )
