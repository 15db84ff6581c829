"""Sizes as text: each stretch with its length, what decided its size, and what the sizes next to it would do."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.quantity import Units
from drafter.report.blocks import columns, percent
from drafter.sizing.arm_shut import arm_shut_words
from drafter.sizing.explaining import neighbour_words
from drafter.sizing.network import Network, SizeChoice


def size_lines(network: Network) -> list[str]:
    """Return a row for each stretch; what a ring gives with an arm shut; what the tube costs above the least."""
    units = network.layout.site.units
    rows: list[tuple[str, ...]] = [("", "size", "length", "air", "decided by", "one size smaller", "one size larger")]
    rows += [_row(network, choice, units) for choice in network.choices]
    shut = (f"With {each.valve} shut {arm_shut_words(each, units)}." for each in network.arms_shut)
    return [*columns(rows), *shut, *_gap(network)]


def _row(network: Network, choice: SizeChoice, units: Units) -> tuple[str, ...]:
    length = sum(network.layout.length_m(network.layout.run_by_id[run]) for run in choice.runs)
    return (
        choice.where, choice.size, units.long_length(length), units.velocity(choice.velocity_m_s), choice.decided_by,
        neighbour_words(network, choice, choice.smaller) or "-", neighbour_words(network, choice, choice.larger) or "-",
    )  # fmt: skip


def _gap(network: Network) -> Iterator[str]:
    if network.material_gap > 5e-4:
        yield f"The tube costs at most {percent(network.material_gap)} more than the least that keeps all limits."
