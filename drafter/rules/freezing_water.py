"""Pipes run through a room where their water can freeze.

Why: air above its dew point in a cold pipe drops water there; frozen, it blocks the line and bursts drains and
filter bowls.
Passes: on the coldest day, with the room's air below 5 °C, no pipe in it holds air with a dew point above the
room's temperature, nor water that fell out before. 5 °C and not 0 °C, since pipes on outside walls are colder than
the room's air.
Fails: undried air along the wall of an unheated shed; air from a refrigeration dryer in a room below its dew point.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.graph import Layout, Run
from drafter.layout.run_words import all_run_words
from drafter.quantity import Kind
from drafter.rules.rule import WARNING, Rule, Threshold
from drafter.site.model import Site
from drafter.sizing.network import Network
from drafter.standards.limits import FREEZING_K, WET_FROST_K
from drafter.supports.design import Design

RULE = Rule("FROST001", "water can freeze", WET_FROST_K.source, (WARNING,), Threshold(WET_FROST_K, Kind.TEMPERATURE))

_SLACK_K = 0.05
_NAMED = 4


def check(design: Design) -> Iterator[Finding]:
    network = design.network
    site, layout, units = network.layout.site, network.layout, network.layout.site.units
    frost = RULE.limit(site)
    for name, room in site.rooms.items():
        if room.coldest_k >= frost.value - _SLACK_K:
            continue
        piped = [run for run in layout.runs if run.room == name]
        wet = [run for run in piped if _is_wet(network, run, room.coldest_k)]
        if not wet:
            continue
        wettest_k = max(_dew_point_k(network, run) for run in wet)
        coldest, dew_point = units.temperature(room.coldest_k), units.temperature(wettest_k)
        length = units.long_length(sum(map(layout.length_m, wet)))
        freezes = "water falls out in them and freezes" if room.coldest_k < FREEZING_K.value else "water can freeze"
        yield RULE.finding(
            WARNING,
            room.where("coldest_k"),
            f"{name} falls to {coldest}, and the air in {_named(layout, wet)}, {length} of pipe, has its dew point at "
            f"{dew_point}: {freezes}",
            measured=coldest,
            limit=f"dew point {dew_point}, or {units.temperature(frost.value)}",
            fix=f"{_dryer(site, room.coldest_k)}, keep the room warmer, or drain the lines before frost",
            subject=name,
            source=frost.source,
        )


def _is_wet(network: Network, run: Run, coldest_k: float) -> bool:
    """Whether water falls out in a run, or comes along from runs before it."""
    air = network.water.cold.behind[run.start]
    return air.dew_point_k > coldest_k + _SLACK_K or air.liquid_ratio > 0.0


def _dew_point_k(network: Network, run: Run) -> float:
    """Of the air that enters a run on the cold day."""
    return network.water.cold.behind[run.start].dew_point_k


def _named(layout: Layout, runs: list[Run]) -> str:
    words = all_run_words(layout, runs)
    names = ", ".join(words[:_NAMED])
    return f"{names} and {len(words) - _NAMED} more places" if len(words) > _NAMED else names


def _dryer(site: Site, coldest_k: float) -> str:
    """The dryer whose dew point lies below the room's temperature: 3 °C is as low as refrigeration goes."""
    if any(unit.kind == "desiccant dryer" for unit in site.treatment):
        return "set the dew point of the dryer below that, with no wet pipe before it in the cold"
    return "add a refrigeration dryer" if coldest_k >= 276.15 - _SLACK_K else "add a desiccant dryer"
