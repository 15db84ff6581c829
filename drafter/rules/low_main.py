"""The main hangs low where somebody may walk.

Why: a pipe at head height is walked into, and ladders and long stock knock against it.
Passes: the underside of the main at 2.1 m (about 6 ft 11 in) or more over the floor, along its whole fall.
Fails: a main at 1.9 m along a wall people pass; over benches and racks that is good practice, hence a note only.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.graph import RunKind
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, Rule, Threshold
from drafter.site.decks import deck_below
from drafter.site.model import Deck
from drafter.standards.limits import HEADROOM_M
from drafter.supports.design import Design

RULE = Rule("HEAD001", "low main", HEADROOM_M.source, (NOTE,), Threshold(HEADROOM_M, Kind.LENGTH))

_SLACK_M = 0.0005


def _over_decks(design: Design) -> Iterator[Finding]:
    """Where the main runs over a deck that people walk on."""
    network = design.network
    layout, units = network.layout, network.layout.site.units
    headroom = RULE.limit(layout.site)
    found: dict[str, tuple[float, Deck]] = {}
    for run in layout.runs:
        for id in (run.start, run.end) if run.kind is RunKind.MAIN else ():
            at = layout.nodes[id].at
            deck = deck_below(layout.site, run.room, at)
            if deck is not None:
                underside_m = at.z - network.sizes[run.id].outside_m / 2 - deck.top_m
                if deck.name not in found or underside_m < found[deck.name][0]:
                    found[deck.name] = underside_m, deck
    for name, (underside_m, deck) in found.items():
        if underside_m < headroom.value - _SLACK_M:
            measured, limit = units.length_with_unit(underside_m), units.length_with_unit(headroom.value)
            yield RULE.finding(
                NOTE,
                deck.place,
                f"the main runs {measured} over the floor of the {name}, below a headroom of {limit}",
                measured=measured,
                limit=limit,
                fix="keep the way along it free of the main, or lead the main below the deck",
                subject="main",
                source=headroom.source,
            )


def check(design: Design) -> Iterator[Finding]:
    network = design.network
    site, units = network.layout.site, network.layout.site.units
    headroom = RULE.limit(site)
    lowest_m: dict[str, float] = {}
    for run in network.layout.runs:
        if run.kind in (RunKind.MAIN, RunKind.SLEEVE):
            level_m = min(network.layout.nodes[node].at.z for node in (run.start, run.end))
            underside_m = level_m - network.sizes[run.id].outside_m / 2
            lowest_m[run.room] = min(lowest_m.get(run.room, underside_m), underside_m)
    yield from _over_decks(design)
    for room, underside_m in lowest_m.items():
        if underside_m < headroom.value - _SLACK_M:
            measured, limit = units.length_with_unit(underside_m), units.length_with_unit(headroom.value)
            yield RULE.finding(
                NOTE,
                site.main.where("height_m"),
                f"in {room} the underside of the main comes down to {measured}, below a headroom of {limit}",
                measured=measured,
                limit=limit,
                fix="raise the main, or make sure that nobody walks under its low part",
                subject="main",
                source=headroom.source,
            )
