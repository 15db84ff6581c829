"""A row of the parts schedule."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Row:
    """A row of the parts schedule.

    Attributes:
        quantity: as counted from the drawing.
        order: with spares; tube in whole stock lengths, in metres.
        tags: of those that have one.
    """

    group: str
    item: str
    size: str
    quantity: float
    unit: str
    order: float
    tags: tuple[str, ...]
