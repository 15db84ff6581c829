"""Where the pressure goes: for each outlet the steps from the compressor at cut-in to its tool."""

from __future__ import annotations

from drafter.report.blocks import columns
from drafter.sizing.ladder import HELD
from drafter.sizing.network import Network

MOST_NAMED = 3


def ladder_lines(network: Network) -> list[str]:
    """Return one row an outlet with what each step takes, and a sentence on the tool with the least to spare."""
    units = network.layout.site.units
    names = network.step_names
    rows = [("tag", "cut-in", *names, "at the tool", "needed")]
    for flow in network.outlets:
        taken = {step.what: units.pressure_drop(step.drop_pa).split(" ")[0] for step in flow.ladder}
        needed = units.pressure(flow.needed_pa) if flow.needed_pa else "not known"
        cut_in = units.pressure(network.layout.site.compressor.cut_in_pa)
        drops = (taken.get(name, "") for name in names)
        rows.append((flow.tag, cut_in, *drops, units.pressure(flow.tool_pressure_pa), needed))
    return [*columns(rows), _largest(network)]


def _largest(network: Network) -> str:
    units, flow = network.layout.site.units, network.least_to_spare
    steps = sorted((step for step in flow.ladder if step.what != HELD), key=lambda step: -step.drop_pa)[:MOST_NAMED]
    named = ", ".join(f"{step.what} {units.pressure_drop(step.drop_pa)}" for step in steps)
    return f"{flow.tag} has the least to spare; on its way most is lost in: {named}."
