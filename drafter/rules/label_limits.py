"""What a part's label says, held against the relief valve's setting and the warmest air that comes to it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from drafter.finding import Finding, Place, Severity
from drafter.rules.rule import Rule
from drafter.site.model import Site

_SLACK_PA, _SLACK_K = 1.0, 0.05


class Label(Protocol):
    """An entry of the site file that says what a label says."""

    @property
    def rated_pa(self) -> float | None: ...

    @property
    def rated_to_k(self) -> float | None: ...

    def where(self, attribute: str, /) -> Place: ...


def held_against_label(
    rule: Rule,
    severity: Severity,
    site: Site,
    label: Label,
    *,
    what: str,
    instead: str,
    air_k: float | None,
    subject: str,
) -> Iterator[Finding]:
    """Yield what a label says less of than its part must bear.

    Args:
        what: the part with its verb, such as `the hose at A1 is`.
        instead: what to take, such as `a hose`.
        air_k: the warmest air that comes to it; None where that is not known.
    """
    relief_pa, units = site.compressor.relief_pa, site.units
    if label.rated_pa is not None and label.rated_pa < relief_pa - _SLACK_PA:
        rated, relief = (f"{text} gauge" for text in units.pressures_apart(label.rated_pa, relief_pa))
        yield rule.finding(
            severity,
            label.where("rated_pa"),
            f"{what} rated {rated}, below the relief valve's {relief}",
            measured=rated,
            limit=relief,
            fix=f"take {instead} rated for the relief valve's setting",
            subject=subject,
        )
    if label.rated_to_k is not None and air_k is not None and air_k > label.rated_to_k + _SLACK_K:
        warmest, air = units.temperature(label.rated_to_k), units.temperature(air_k)
        yield rule.finding(
            severity,
            label.where("rated_to_k"),
            f"{what} made for air of at most {warmest}; on the warmest day it is about {air}",
            measured=air,
            limit=warmest,
            fix=f"take {instead} made for warmer air, or cool the air with an aftercooler or more pipe",
            subject=subject,
        )
