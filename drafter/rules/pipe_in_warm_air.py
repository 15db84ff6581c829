"""A pipe is too weak for the warm air that comes from the compressor.

Why: the air leaves the tank warmer than the room, and polymer loses strength with every degree; the first metres
are the hottest of the whole line.
Passes: a rating at or above the relief setting where the air comes in at its warmest, hard running on a warm day. It
leaves the tank 25 K above its room, or as the site file says, and cools along the pipe and in an aftercooler.
Fails: an error for polyamide tube whose rating there is below the cut-out, as it bursts in everyday running; a warning
where it stands the cut-out, but not the relief valve's setting that it sees when the switch fails. A size that is too
weak in the room's own air is left to RATE001.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.layout.run_words import run_words
from drafter.rules.rule import ERROR, WARNING, Rule
from drafter.sizing.ratings import PipeRating, hot_ratings, room_ratings
from drafter.standards.materials import Material
from drafter.supports.design import Design

RULE = Rule(
    "HEAT001",
    "pipe too weak for the compressor's warm air",
    "the derating table of the material; the air leaves a tank on the compressor 25 K above its room (common practice, "
    "from memory)",
    (ERROR, WARNING),
    firm=True,
)

_SLACK_PA = 1.0


def check(design: Design) -> Iterator[Finding]:
    network = design.network
    relief_pa = network.layout.site.compressor.relief_pa
    sound = {pipe.size for pipe in room_ratings(network) if pipe.gauge_pa >= relief_pa - _SLACK_PA}
    weak = [pipe for pipe in hot_ratings(network) if pipe.size in sound and pipe.gauge_pa < relief_pa - _SLACK_PA]
    if weak:
        yield _finding(design, min(weak, key=lambda pipe: pipe.gauge_pa), len(weak) - 1)


def _finding(design: Design, pipe: PipeRating, others: int) -> Finding:
    network = design.network
    site, units = network.layout.site, network.layout.site.units
    plant, where = site.compressor, run_words(network.layout, network.layout.run_by_id[pipe.run])
    bursts = pipe.gauge_pa < plant.cut_out_pa - _SLACK_PA
    least_pa, what = (plant.cut_out_pa, "cut-out at") if bursts else (plant.relief_pa, "relief valve's")
    rated, least = (f"{text} gauge" for text in units.pressures_apart(pipe.gauge_pa, least_pa))
    if not pipe.gauge_pa:
        rated = "no rating"
    more = f"; {others} other size{'s' * (others > 1)} too" if others else ""
    return RULE.finding(
        ERROR if bursts else WARNING,
        site.main.where("material"),
        f"{network.material.name} {pipe.size.name} gets air of about {units.temperature(pipe.temperature_k)} "
        f"in {where}: {rated} there against the {what} {least}{more}",
        measured=rated,
        limit=least,
        fix=f"{_stronger(network.material)}, a size or tube of a higher rating, a cut-out and relief valve set lower, "
        "or an aftercooler before it; or measure how much warmer than the room the air leaves the tank",
        write="compressor: {air warmer by: ...}",
        subject="main",
    )


def _stronger(family: Material) -> str:
    if family.polymer:
        return "take metal"
    return f"take stronger joints than those counted with ({family.joint}), as its maker's table rates them"
