"""The motor starts often.

Why: every start heats the motor, and a pressure switch and its contacts wear with each.
Passes: a set that unloads and lets its motor run on; else up to 10 starts in an hour, in the busiest hour of the
work pattern where one is given, with the average demand drawn steadily where not.
Fails: a warning where the work pattern starts it more often; a note where only the average demand does, because
work with pauses and long runs starts it less often than a steady draw.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.rules.rule import Rule
from drafter.sizing.tank_words import starts_words
from drafter.standards.limits import STARTS_PER_HOUR_MAX
from drafter.supports.design import Design

RULE = Rule("TANK003", "frequent starts", STARTS_PER_HOUR_MAX.source)

_SLACK = 1e-6


def check(design: Design) -> Iterator[Finding]:
    site, tank = design.network.layout.site, design.network.tank
    starts = tank.motor.busiest_hour_starts
    if site.compressor.unloads or starts <= STARTS_PER_HOUR_MAX.value + _SLACK:
        return
    enough = site.units.volume(tank.tank.volume_for_starts_m3(STARTS_PER_HOUR_MAX.value))
    when = "in the busiest hour of the work pattern" if tank.work else "an hour with the average demand drawn steadily"
    yield RULE.finding(
        Severity.WARNING if tank.work else Severity.NOTE,
        site.compressor.where("tank_m3"),
        f"the motor starts {starts_words(starts)} times {when}",
        measured=f"{starts_words(starts)} per hour",
        limit=f"{STARTS_PER_HOUR_MAX.value:.0f} per hour",
        fix=f"ask the motor's data plate; take a wider pressure band or a larger tank, with {enough} it is no more "
        "whatever is drawn; or write {control: load-unload} if the set runs on without load",
        subject="compressor",
    )
