"""The motor starts often.

Why: every start heats the motor, and a pressure switch and its contacts wear with each.
Passes: up to 10 starts in an hour, in the busiest hour of the work pattern where one is given, with the average
demand drawn steadily where not; of a set that unloads and lets its motor run on, up to 60 times loaded.
Fails: a warning where the work pattern starts it more often; a note where only the average demand does, or where it
only loads, because
work with pauses and long runs starts it less often than a steady draw.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, WARNING, Rule, Threshold
from drafter.sizing.tank_words import starts_words
from drafter.standards.limits import LOADS_MAX_PER_S, STARTS_MAX_PER_S
from drafter.supports.design import Design

RULE = Rule(
    "TANK003",
    "frequent starts",
    STARTS_MAX_PER_S.source,
    (WARNING, NOTE),
    Threshold(STARTS_MAX_PER_S, Kind.RATE, "60 loads an hour where the motor runs on"),
)

_SLACK = 1e-6


def check(design: Design) -> Iterator[Finding]:
    site, tank = design.network.layout.site, design.network.tank
    starts, unloads = tank.motor.busiest_hour_starts, site.compressor.unloads
    most = RULE.limit(site, LOADS_MAX_PER_S if unloads else STARTS_MAX_PER_S)
    an_hour = most.value * 3600.0
    if starts <= an_hour + _SLACK:
        return
    when = "in the busiest hour of the work pattern" if tank.work else "an hour with the average demand drawn steadily"
    enough = site.units.volume(tank.tank.volume_for_starts_m3(an_hour))
    larger = f"take a wider pressure band or a larger tank, with {enough} it is no more whatever is drawn"
    starting = f"ask the motor's data plate; {larger}; or say so where the set runs on without load"
    yield RULE.finding(
        WARNING if tank.work and not unloads else NOTE,
        site.compressor.where("tank_m3"),
        f"the {'compressor is loaded' if unloads else 'motor starts'} {starts_words(starts)} times {when}",
        measured=f"{starts_words(starts)} per hour",
        limit=f"{an_hour:.0f} per hour",
        fix=larger if unloads else starting,
        write="" if unloads else "compressor: {control: load-unload}",
        subject="compressor",
        source=most.source,
    )
