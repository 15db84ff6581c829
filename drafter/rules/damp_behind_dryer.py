"""The dryer's dew point is not below the coldest pipe.

Why: behind a dryer people leave out falls and drains; where a pipe is colder than the dew point, water falls out all
the same.
Passes: a dew point 2 K or more below the coldest air of every room behind the dryer. Air for instruments asks for
10 K.
Fails: a note for a smaller margin, a warning where a room is colder than the dew point.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, WARNING, Rule, Threshold
from drafter.standards.components import component
from drafter.standards.limits import Limit
from drafter.supports.design import Design

MARGIN_K = Limit(2.0, "common practice for shop air; 10 K for instruments, ISA-7.0.01, from memory")

RULE = Rule(
    "WATER005",
    "dew point above the coldest pipe",
    MARGIN_K.source,
    (WARNING, NOTE),
    Threshold(MARGIN_K, Kind.TEMPERATURE_DIFFERENCE, "warning where a room is colder than the dew point"),
)

_SLACK_K = 0.01


def check(design: Design) -> Iterator[Finding]:
    layout = design.network.layout
    site, units, least = layout.site, layout.site.units, RULE.limit(layout.site)
    points = [
        component(unit.kind).dew_point_k if unit.dew_point_k is None else unit.dew_point_k for unit in site.treatment
    ]
    dried_k = min((point for point in points if point is not None), default=None)
    if dried_k is None:
        return
    rooms = {run.room for run in layout.runs}
    name = min(rooms, key=lambda room: site.rooms[room].coldest_k)
    coldest_k = site.rooms[name].coldest_k
    if coldest_k - dried_k >= least.value - _SLACK_K:
        return
    yield RULE.finding(
        WARNING if coldest_k < dried_k - _SLACK_K else NOTE,
        site.rooms[name].where("coldest_k"),
        f"the dryer's dew point is {units.temperature(dried_k)}, and {name} falls to {units.temperature(coldest_k)}",
        measured=units.temperature_difference(coldest_k - dried_k),
        limit=units.temperature_difference(least.value),
        fix="set a lower dew point, take a desiccant dryer, or keep falls and drains as for air that is not dried",
        subject=name,
        source=least.source,
    )
