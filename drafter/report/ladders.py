"""Where the pressure goes: for each outlet the steps from the compressor at cut-in to its tool."""

from __future__ import annotations

from drafter.report.blocks import columns
from drafter.sizing.network import Network, OutletFlow

MOST_NAMED = 3


def ladder_lines(network: Network) -> list[str]:
    """Return one row an outlet with what each step takes, and a sentence on the tool with the least to spare."""
    units = network.layout.site.units
    names = step_names(network)
    rows = [("tag", "cut-in", *names, "at the tool", "needed")]
    for flow in network.outlets:
        taken = {step.what: units.pressure_drop(step.drop_pa).split(" ")[0] for step in flow.ladder}
        needed = units.pressure(flow.needed_pa) if flow.needed_pa else "not known"
        cut_in = units.pressure(network.layout.site.compressor.cut_in_pa)
        drops = (taken.get(name, "") for name in names)
        rows.append((flow.tag, cut_in, *drops, units.pressure(flow.tool_pressure_pa), needed))
    return [*columns(rows), _largest(network)]


def step_names(network: Network) -> tuple[str, ...]:
    """Names of all steps that some outlet has, in the order of flow."""
    longest = sorted(network.outlets, key=lambda flow: -len(flow.ladder))
    order = [step.what for step in longest[0].ladder]
    for flow in longest[1:]:
        for before, step in zip([None, *flow.ladder], flow.ladder, strict=False):
            if step.what not in order:
                order.insert(order.index(before.what) + 1 if before else 0, step.what)
    return tuple(order)


def least_to_spare(network: Network) -> OutletFlow:
    """The outlet whose tool has the least pressure above what it needs; where no need is known, the least pressure."""
    known = [flow for flow in network.outlets if flow.needed_pa]
    return min(known or network.outlets, key=lambda flow: flow.tool_pressure_pa - flow.needed_pa)


def _largest(network: Network) -> str:
    units, flow = network.layout.site.units, least_to_spare(network)
    steps = sorted(flow.ladder, key=lambda step: -step.drop_pa)[:MOST_NAMED]
    named = ", ".join(f"{step.what} {units.pressure_drop(step.drop_pa)}" for step in steps)
    return f"{flow.tag} has the least to spare; on its way most is lost in: {named}."
