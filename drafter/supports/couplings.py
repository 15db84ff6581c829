"""Where a long piece of pipe is made of several stock lengths, and the couplings between them."""

from __future__ import annotations

from itertools import accumulate

from drafter.standards.materials import Material, TubeSize

LEAST_REST_M = 0.4
"""A rest shorter than this is not left: the last two lengths are cut alike."""


def stock_lengths(cut_m: float, family: Material, size: TubeSize) -> list[float]:
    """Split a length into full stock lengths and a rest, with a coupling between (the coupling adds its own gap)."""
    longest = max(family.stock_lengths_m)
    step = longest + size.coupling_length_m - 2 * size.insertion_m
    lengths: list[float] = []
    while cut_m > longest + 1e-9:
        first = longest if cut_m - step > LEAST_REST_M else cut_m / 2
        lengths.append(first)
        cut_m -= first + size.coupling_length_m - 2 * size.insertion_m
    return [*lengths, cut_m]


def couplings_m(between_faces_m: float, family: Material, size: TubeSize) -> list[float]:
    """Return the middle of each coupling of a piece of pipe, from the face of the fitting it begins in."""
    lengths = stock_lengths(between_faces_m + 2 * size.insertion_m, family, size)
    gap_m = size.coupling_length_m - 2 * size.insertion_m
    ends = accumulate(lengths[:-1], lambda end, length: end + gap_m + length, initial=-size.insertion_m - gap_m)
    return [end + gap_m / 2 for end in list(ends)[1:]]
