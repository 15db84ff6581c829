"""Where a long piece of pipe is made of several stock lengths, and the couplings between them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate

from drafter.sizing.bends import TubeLine
from drafter.standards.materials import Material, TubeSize

LEAST_REST_M = 0.4
"""A rest shorter than this is not left: the last two lengths are cut alike."""

Range = tuple[float, float]


def is_slipped(line: TubeLine, family: Material) -> bool:
    """Whether the last coupling of a tube is slipped over its end, then back, to close a ring.

    Threaded pipe has a union for that, and soft tube is sprung in (common practice).
    """
    return line.closes and family.joins_by != "thread" and not family.polymer


def stock_lengths(
    cut_m: float, family: Material, size: TubeSize, bent_m: Sequence[Range] = (), slipped: bool = False
) -> list[float]:
    """Split a length into full stock lengths and a rest, with a coupling between (the coupling adds its own gap).

    A coupling that would come on a bend, or nearer to one than goes into it, stands before it instead. Where no
    straight is left before it, it stays on the bend; `coupling_on_bend` says so.

    Args:
        bent_m: from where to where from its first end the tube is bent.
        slipped: the last coupling closes a ring; so there is one in any case where there is room.
    """
    longest, gap_m = family.longest_piece_m, size.coupling_length_m - 2 * size.insertion_m
    step = longest + gap_m
    lengths: list[float] = []
    begun_m = 0.0
    while cut_m > longest + 1e-9:
        first = longest if cut_m - step > LEAST_REST_M else cut_m / 2
        first = _before_bends(begun_m + first, bent_m, size, begun_m) - begun_m
        lengths.append(first)
        cut_m -= first + gap_m
        begun_m += first + gap_m
    least_m = 2 * (size.coupling_length_m + size.insertion_m)
    if slipped and not lengths and cut_m - gap_m >= 2 * least_m:
        first = _before_bends((cut_m - gap_m) / 2, bent_m, size, 0.0)
        return [first, cut_m - gap_m - first]
    return [*lengths, cut_m]


def _before_bends(end_m: float, bent_m: Sequence[Range], size: TubeSize, begun_m: float) -> float:
    """Where a length ends, so that the coupling after it stands on straight tube."""
    moved_m = end_m
    for bend in reversed(bent_m):
        if coupling_on_bend(moved_m, bend, size):
            moved_m = bend[0] - size.coupling_length_m
    return moved_m if moved_m >= begun_m + 2 * size.insertion_m else end_m


def coupling_on_bend(end_m: float, bend: Range, size: TubeSize) -> bool:
    """Whether the coupling after a length that ends here stands on a bend, or too near to one."""
    begins_m, ends_m = end_m - size.insertion_m, end_m + size.coupling_length_m - size.insertion_m
    return begins_m < bend[1] + size.insertion_m - 1e-9 and ends_m > bend[0] - size.insertion_m + 1e-9


def couplings_m(line: TubeLine, faces_m: Range, family: Material, size: TubeSize) -> Iterator[tuple[str, float]]:
    """Yield each coupling of a tube: the run it is on, and how far its middle is from the first node of that [m].

    Args:
        faces_m: what the fittings at its two ends take.
    """
    first_m = faces_m[0] - size.insertion_m
    cut_m = line.axis_m - sum(faces_m) + 2 * size.insertion_m
    bent_m = [(low - first_m, high - first_m) for low, high in line.bent_m]
    lengths = stock_lengths(cut_m, family, size, bent_m, is_slipped(line, family))
    gap_m = size.coupling_length_m - 2 * size.insertion_m
    ends = accumulate(lengths[:-1], lambda end, length: end + gap_m + length, initial=first_m - gap_m)
    for end in list(ends)[1:]:
        middle = end + gap_m / 2
        number = sum(bend[0] < middle for bend in line.bent_m)
        yield line.runs[number].id, middle - line.run_starts_m[number]
