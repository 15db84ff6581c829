"""The spare tees: a block of the report for people, a list of the JSON for programs."""

from __future__ import annotations

from typing import Any

from drafter.report.blocks import block, columns
from drafter.report.rounded import bar, litres_per_s
from drafter.sizing.network import Network


def spare_text(network: Network) -> str:
    """Return what a later drop would find at each spare tee; nothing without any."""
    units = network.layout.site.units
    rows: list[tuple[str, ...]] = [("tag", "takes", "then left in the main", "now", "worst with")]
    for spare in network.spare_tees:
        left, now = units.pressure(spare.gauge_pressure_pa), units.pressure(spare.now_pa)
        rows.append((spare.tag, units.free_air(spare.free_air_m3_s), left, now, ", ".join(spare.together_with)))
    return block("SPARE TEES (gauge pressure, compressor at cut-in)", columns(rows)) if network.spare_tees else ""


def spare_data(network: Network) -> list[dict[str, Any]]:
    """Return the same as plain data."""
    return [
        {"id": spare.tag, "free_air_l_s": litres_per_s(spare.free_air_m3_s),
         "gauge_pressure_bar": bar(spare.gauge_pressure_pa),
         "gauge_pressure_now_bar": bar(spare.now_pa), "together_with": list(spare.together_with)}
        for spare in network.spare_tees
    ]  # fmt: skip
