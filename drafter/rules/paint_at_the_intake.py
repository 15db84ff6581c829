"""Paint is sprayed in the room where the compressor draws its air.

Why: it draws in mist and solvent: its filter clogs, vapour comes back with the air, and switch and motor spark.
Passes: outlets for paint in another room than the compressor.
Fails: a note naming those in its room: draw the intake from outside, and have the spray place looked at as such.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.rules.rule import NOTE, Rule
from drafter.sizing.air_quality import use_of
from drafter.supports.design import Design

RULE = Rule(
    "AIR004", "paint at the compressor's intake", "common practice: intake away from exhaust, paint and damp", (NOTE,)
)


def check(design: Design) -> Iterator[Finding]:
    site = design.network.layout.site
    room = site.compressor.room
    painting = [outlet for outlet in site.outlets if use_of(outlet) == "paint" and outlet.room == room]
    if painting:
        tags = ", ".join(outlet.tag for outlet in painting)
        yield RULE.finding(
            NOTE,
            painting[0].where("tools"),
            f"{tags} sprays paint in {room}, where the compressor draws its air",
            measured="the same room",
            limit="another room, or an intake from outside",
            fix="lead the intake outside with a filter, spray with an exhaust, and ask the local code about sparks",
            subject=painting[0].tag,
        )
