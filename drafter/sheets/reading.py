"""Which thing a label is read with: without a leader the one nearest to its middle."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from drafter.geometry import Box, Point

SAME_MM = 0.5
"""Things nearer to each other are at one place."""

OFF_OTHERS_MM, LOOKED_MM = 3.0, 90.0
"""How far a label with a leader stands off things of others, if there is room; those farther off are not looked at."""


def read_with(own: Iterable[Point], others: Iterable[Point]) -> Callable[[Box, bool], bool]:
    """Return what tells whether a label in a box, with a leader or without, is read with its own thing.

    Args:
        own: points of what it names [mm on paper].
        others: those of all things, its own too.
    """
    mine = tuple(own)
    rest = [at for at in others if SAME_MM < min(at.minus(each).length for each in mine) < LOOKED_MM]

    def is_told(box: Box, is_led: bool) -> bool:
        if is_led:
            return all(box.distance(at) >= OFF_OTHERS_MM for at in rest)
        middle = box.centre
        nearest_mm = min(middle.minus(at).length for at in mine)
        return all(middle.minus(at).length >= nearest_mm for at in rest)

    return is_told
