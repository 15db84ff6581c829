"""What the walls of a room are built of: what a bracket can be screwed to."""

from __future__ import annotations

import math
from dataclasses import dataclass

from drafter.quantity import Kind
from drafter.reader import Entry, EntryForm, QuantityForm, WordForm, key
from drafter.site.model.forms import WALL


@dataclass(frozen=True, kw_only=True)
class Studs(Entry):
    """The studs of a wall, or joists: brackets are screwed to them, elsewhere a backing board is needed."""

    spacing_m: float = key("spacing", QuantityForm(Kind.LENGTH, "0.2 m", "1.5 m"), meaning="centre to centre")
    first_m: float = key(
        "first",
        QuantityForm(Kind.LENGTH, "20 mm", "1.5 m"),
        meaning="centre of the first from the left-hand corner of each wall, or the left-hand end of the crossing",
    )

    def places_m(self, reach_m: float) -> list[float]:
        """Return the centres of all that stand within a reach of the left-hand corner [m]."""
        count = math.floor((reach_m - self.first_m) / self.spacing_m + 1e-9) + 1
        return [self.first_m + number * self.spacing_m for number in range(max(0, count))]


@dataclass(frozen=True, kw_only=True)
class WallBuild(Entry):
    """How one wall is built, where it differs from the others of its room."""

    wall: str = key("wall", WALL)
    built: str = key("built", WordForm(("masonry", "studs")), "", "masonry takes a bracket anywhere")
    studs: Studs | None = key("studs", EntryForm(Studs), None, "of this wall, for those of the room")
