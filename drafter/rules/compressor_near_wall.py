"""The compressor stands close to its wall.

Why: the fan draws its cooling air through the belt guard, and a hand must get behind.
Passes: 0.3 m (about 12 in) or more between set and wall.
Fails: a note below that. The maker's drawing governs.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import NOTE, Rule, Threshold
from drafter.standards.limits import Limit
from drafter.supports.design import Design

LEAST_GAP_M = Limit(0.3, "common practice, 0.3 to 0.5 m for cooling air; the maker's drawing governs")

RULE = Rule("VENT003", "compressor close to its wall", LEAST_GAP_M.source, (NOTE,), Threshold(LEAST_GAP_M, Kind.LENGTH))

_SLACK_M = 0.0005


def check(design: Design) -> Iterator[Finding]:
    site = design.network.layout.site
    plant, least = site.compressor, RULE.limit(site)
    if plant.off_wall_m < least.value - _SLACK_M:
        measured, limit = site.units.length_with_unit(plant.off_wall_m), site.units.length_with_unit(least.value)
        units = site.units
        enough = units.length_with_unit(units.set_out_m(least.value + 0.499 * units.set_out_step_m))
        yield RULE.finding(
            NOTE,
            plant.where("off_wall_m"),
            f"the compressor stands {measured} off its wall",
            measured=measured,
            limit=limit,
            fix=f"move it {enough} off, or as the maker's drawing says",
            subject="compressor",
            source=least.source,
        )
