"""What the labels of the parts bought say that they bear."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from drafter.reader import Entry, EntryForm, key
from drafter.site.model.forms import LABEL_TEMPERATURE, PRESSURE


@dataclass(frozen=True, kw_only=True)
class Rated(Entry):
    """The label of a kind of part."""

    ALONE: ClassVar[str] = "rated"
    rated_pa: float = key("rated", PRESSURE, meaning="highest pressure on the label")
    rated_to_k: float | None = key("rated to", LABEL_TEMPERATURE, None, "warmest air that it holds for")


@dataclass(frozen=True, kw_only=True)
class PartRatings(Entry):
    """The weakest label of each kind of part, where it has been read."""

    valves: Rated | None = key("valves", EntryForm(Rated), None, "isolating valves")
    drains: Rated | None = key("drains", EntryForm(Rated), None, "drain valves, traps")
    couplings: Rated | None = key("couplings", EntryForm(Rated), None, "quick couplings and their plugs")
    fittings: Rated | None = key("fittings", EntryForm(Rated), None, "fittings and adapters")
    flexible: Rated | None = key("flexible connection", EntryForm(Rated), None, "the hose at the tank")

    @property
    def told(self) -> Iterator[tuple[str, Rated]]:
        """What is told, by the attribute's name."""
        for name in ("valves", "drains", "couplings", "fittings", "flexible"):
            rated: Rated | None = getattr(self, name)
            if rated is not None:
                yield name, rated
