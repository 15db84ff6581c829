"""Sleeves that pipes pass walls and decks in: which bore for which pipe, and the core drill for it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from drafter.standards.data_file import read_data_file


@dataclass(frozen=True, slots=True)
class Sleeve:
    """A sleeve as it is sold.

    Attributes:
        name, core: its nominal bore and the core drill for it, as the trade writes them.
        bore_m, core_m: bore of the sleeve, diameter of the core drill [m].
    """

    name: str
    bore_m: float
    core: str
    core_m: float


def sleeve_for(outside_m: float, imperial: bool) -> Sleeve:
    """Return the smallest sleeve that leaves the clearance round a pipe.

    Args:
        outside_m: diameter of the pipe [m].
        imperial: whether sleeves are sold in inches.

    Raises:
        ValueError: none is wide enough.

    Source:
        `sleeves.yaml`: common practice, sizes from memory.
    """
    content: dict[str, Any] = read_data_file("sleeves.yaml")
    least_m = outside_m + content["clearance_m"]
    for row in content["imperial" if imperial else "metric"]:
        if row["bore_m"] >= least_m - 1e-9:
            return Sleeve(**row)
    raise ValueError(f"no sleeve is wide enough for a pipe of {outside_m * 1000:.0f} mm")
