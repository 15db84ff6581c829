"""The compressor delivers little for the average demand.

Why: a compressor that never rests runs hot and wears; one below the demand lets the pressure fall until tools stop.
Passes: an average demand of up to 80 % of what is delivered, 60 % where the motor stops at the cut-out, as the sets
that do are mostly piston sets cooled by air: of the work pattern with leakage where one is given,
else of all tools with leakage and growth.
Fails: a note above that, a warning above 100 %, an error where the tools take more than 100 % before any growth: it
cannot keep up on its first day. A site where people wait for the pressure sets a limit of its own.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import ERROR, NOTE, WARNING, Rule, Threshold
from drafter.standards.limits import COMPRESSOR_DUTY_MAX, PISTON_COMPRESSOR_DUTY_MAX
from drafter.supports.design import Design

RULE = Rule(
    "PLANT001",
    "small compressor",
    COMPRESSOR_DUTY_MAX.source,
    (ERROR, WARNING, NOTE),
    Threshold(
        COMPRESSOR_DUTY_MAX,
        Kind.SHARE,
        "60 % where the motor stops at the cut-out; warning above 100 %, error where growth is not needed for that",
    ),
)

_SLACK = 1e-9


def check(design: Design) -> Iterator[Finding]:
    site, supply, tank = design.network.layout.site, design.network.supply, design.network.tank
    demand_m3_s = tank.motor.demand_m3_s
    duty = demand_m3_s / supply.delivered_m3_s
    most = RULE.limit(site, COMPRESSOR_DUTY_MAX if site.compressor.unloads else PISTON_COMPRESSOR_DUTY_MAX)
    if duty <= most.value + _SLACK:
        return
    today = duty if tank.work else duty / (1.0 + site.demand.growth)
    severity, limit = (WARNING, max(1.0, most.value)) if duty > 1.0 + _SLACK else (NOTE, most.value)
    if today > 1.0 + _SLACK:
        severity = ERROR
    average, delivered = site.units.free_air(demand_m3_s), site.units.free_air(supply.delivered_m3_s)
    whose = "the work pattern's" if tank.work else "the"
    yield RULE.finding(
        severity,
        site.compressor.where("free_air"),
        f"{whose} average demand of {average} free air is {duty * 100:.0f} % of the {delivered} delivered"
        + (", and more than it even without growth: it cannot keep up" if severity is ERROR and not tank.work else ""),
        measured=f"{duty * 100:.0f} %",
        limit=f"{limit * 100:.0f} %",
        fix="take a larger compressor, or check what the tools take and how long they run; or, where people wait for "
        "the pressure, set a limit with that reason",
        subject="compressor",
        source=most.source,
    )
