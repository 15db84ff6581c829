"""Match lines of a view that one sheet does not hold."""

from __future__ import annotations

from dataclasses import dataclass

from drafter.geometry import Box


@dataclass(frozen=True, slots=True)
class Cuts:
    """Match lines of a view: upright ones at some x, level ones at some y, within a box [mm in the view]."""

    upright: tuple[float, ...] = ()
    level: tuple[float, ...] = ()
    within: Box = Box(0.0, 0.0, 0.0, 0.0)


UNCUT = Cuts()
