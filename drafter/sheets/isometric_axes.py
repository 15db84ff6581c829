"""The axes of an isometric, turned by quarters and seen from the lower corner of the plan: of one place or of many."""

from __future__ import annotations

import math
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

AnyNumber = TypeVar("AnyNumber", float, NDArray[np.float64])

ACROSS, RISE = math.cos(math.radians(30.0)), math.sin(math.radians(30.0))
TURNS = (0, 1, 2, 3)
"""Quarter turns of the plan before it is seen from its lower corner: from the south-west, south-east and so on."""


def turned(east: AnyNumber, north: AnyNumber, turn: int) -> tuple[AnyNumber, AnyNumber]:
    """Return how far to the right and away, and to the left and away, a place lies after some quarter turns."""
    return ((east, north), (north, -east), (-east, -north), (-north, east))[turn]


def on_paper(right: AnyNumber, left: AnyNumber, up: AnyNumber) -> tuple[AnyNumber, AnyNumber]:
    """Return how far across and up the paper a place is seen."""
    return (right - left) * ACROSS, (right + left) * RISE + up
