"""The compressor's room is too hot or too cold for it.

Why: hot, the oil thins and the motor trips; cold, oil is stiff and water freezes in drains and switch lines.
Passes: air from 40 °F (4.4 °C) to 40 °C (104 °F) all the year.
Fails: a note outside of that, a warning above 46 °C (115 °F). The machine's label governs.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, WARNING, Rule, Threshold
from drafter.standards.limits import Limit
from drafter.supports.design import Design

_SOURCE = "trade practice 40 to 115 °F, the machine's label governs"

WARMEST_K = Limit(313.15, f"{_SOURCE}; 40 °C for most sets, common practice")
HOTTEST_K = Limit(319.26, _SOURCE)
COLDEST_K = Limit(277.59, _SOURCE)

RULE = Rule(
    "VENT002",
    "compressor too hot or too cold",
    _SOURCE,
    (WARNING, NOTE),
    Threshold(WARMEST_K, Kind.TEMPERATURE, "warning above 46 °C (115 °F); note below 4.4 °C (40 °F)"),
)

_SLACK_K = 0.01


def check(design: Design) -> Iterator[Finding]:
    site, units = design.network.layout.site, design.network.layout.site.units
    name = site.compressor.room
    room = site.rooms[name]
    broken = RULE.broken_step(site, room.warmest_k - _SLACK_K, ((HOTTEST_K, WARNING), (WARMEST_K, NOTE)))
    if broken is not None:
        most, severity = broken
        yield RULE.finding(
            severity,
            room.where("warmest_k"),
            f"the compressor's room, {name}, gets as warm as {units.temperature(room.warmest_k)}",
            measured=units.temperature(room.warmest_k),
            limit=units.temperature(most.value),
            fix="ventilate it, or place the compressor where it is cooler",
            subject="compressor",
            source=most.source,
        )
    if room.coldest_k < COLDEST_K.value - _SLACK_K:
        yield RULE.finding(
            NOTE,
            room.where("coldest_k"),
            f"the compressor's room, {name}, gets as cold as {units.temperature(room.coldest_k)}",
            measured=units.temperature(room.coldest_k),
            limit=units.temperature(COLDEST_K.value),
            fix="keep frost out, or have the maker's winter oil, and heat for drains and switch line",
            subject="compressor",
            source=COLDEST_K.source,
        )
