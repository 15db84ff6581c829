"""Lays the pieces into the lengths sold: first fit, longest first, saw cuts deducted."""

from __future__ import annotations

from dataclasses import dataclass

from drafter.standards.materials import Material
from drafter.takeoff.assembling import Piece

RECUT_M = 0.05
"""Lost of a coil for each piece, to a fresh square end (from memory)."""

SQUARING_M = 0.003
"""Lost of a straight length for each piece, to the cut and a squared end (common practice)."""


@dataclass(frozen=True, slots=True)
class Bar:
    """One stock length, straight or coiled, with the numbers of the pieces cut from it."""

    size: str
    stock_m: float
    pieces: tuple[int, ...]
    offcut_m: float


def cut_allowance_m(family: Material) -> float:
    """Return what each piece takes from its stock length besides its own [m]."""
    return RECUT_M if family.coil else max(SQUARING_M, family.kerf_m)


def cutting_plan(pieces: tuple[Piece, ...], family: Material) -> tuple[Bar, ...]:
    """Return the stock lengths needed and what is cut from each."""
    bars: list[Bar] = []
    for size in dict.fromkeys(piece.size for piece in pieces):
        mine = sorted((p for p in pieces if p.size == size), key=lambda p: (-p.cut_m, p.number))
        lost = cut_allowance_m(family)
        for stock, filled in _filled([(p.number, p.cut_m) for p in mine], family.stock_lengths_m, lost):
            used = sum(length + lost for _, length in filled)
            bars.append(Bar(size, stock, tuple(number for number, _ in filled), max(0.0, stock - used)))
    return tuple(bars)


def _filled(
    pieces: list[tuple[int, float]], stocks: tuple[float, ...], lost_m: float
) -> list[tuple[float, list[tuple[int, float]]]]:
    longest = max(stocks)
    rows: list[list[tuple[int, float]]] = []
    for piece in pieces:
        row = next((r for r in rows if sum(n + lost_m for _, n in (*r, piece)) <= longest + 1e-9), None)
        if row is None:
            rows.append([piece])
        else:
            row.append(piece)
    done = []
    for row in rows:
        used = sum(length + lost_m for _, length in row)
        done.append((min((stock for stock in stocks if stock >= used - 1e-9), default=longest), row))
    return done
