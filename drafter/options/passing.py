"""Which doors and openings the main passes over, and which it stays clear of because it hangs too low."""

from __future__ import annotations

from dataclasses import dataclass

from drafter.layout import Layout
from drafter.layout.doorways import doorways

OVER, ROUND = "over", "round"


@dataclass(frozen=True, slots=True)
class Passing:
    """How the main goes by a doorway: ``over`` it, or ``round`` the other way since it hangs too low."""

    doorway: str
    how: str


def passings(layout: Layout) -> tuple[Passing, ...]:
    """Return how the main goes by the doorways; those that are not on its way are left out."""
    found = []
    for doorway in doorways(layout.site):
        if any(doorway.over_it(layout)):
            found.append(Passing(doorway.name, OVER))
        elif doorway.place in layout.closed:
            found.append(Passing(doorway.name, ROUND))
    return tuple(found)
