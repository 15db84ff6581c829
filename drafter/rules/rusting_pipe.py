"""Steel pipe carries air that is not dried to outlets without a filter.

Why: wet air rusts black and galvanised steel from inside; the flakes jam tools and regulators and spoil paint.
Passes: another material; a dryer in the treatment; a filter at each outlet.
Fails: a note naming the outlets without one.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.rules.rule import NOTE, Rule
from drafter.supports.design import Design

RULE = Rule("WATER004", "rust from steel pipe", "common practice: a filter where the air is used", (NOTE,))


def check(design: Design) -> Iterator[Finding]:
    site = design.network.layout.site
    dried = site.is_dried
    if dried or not design.network.material.name.startswith("steel"):
        return
    bare = [outlet for outlet in site.outlets if not any("filter" in unit for unit in outlet.units)]
    if bare:
        yield RULE.finding(
            NOTE,
            site.main.where("material"),
            f"air that is not dried rusts the {design.network.material.name}; nothing keeps the flakes from "
            f"{', '.join(outlet.tag for outlet in bare)}",
            measured=f"{len(bare)} without a filter",
            limit="a filter at each, or dry air",
            fix="give these outlets a filter each, or dry the air, or take another material",
            write="service: [filter]",
            subject="main",
        )
