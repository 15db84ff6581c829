"""The relief valve passes less than the compressor delivers.

Why: with the switch stuck, the pressure rises past its setting until the tank gives way.
Passes: a relief flow, where the site file gives it, at or above what is delivered.
Fails: an error for a valve stamped 6 l/s on a compressor of 8 l/s.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.rules.rule import ERROR, Rule
from drafter.supports.design import Design

RULE = Rule(
    "RATE002",
    "relief valve too small",
    "29 CFR 1910.169(b)(3): the pressure never more than 10 % above the tank's rating",
    (ERROR,),
    firm=True,
)

_SLACK = 1e-6


def check(design: Design) -> Iterator[Finding]:
    site, delivered_m3_s = design.network.layout.site, design.network.supply.delivered_m3_s
    flow = site.compressor.relief_flow
    if flow is None or flow.value >= delivered_m3_s * (1.0 - _SLACK):
        return
    passes, delivered = site.units.free_air(flow.value), site.units.free_air(delivered_m3_s)
    yield RULE.finding(
        ERROR,
        site.compressor.where("relief_flow"),
        f"the relief valve passes {passes} free air, less than the {delivered} that the compressor delivers",
        measured=passes,
        limit=delivered,
        fix="have a valve fitted that passes all of it at its setting",
        subject="compressor",
    )
