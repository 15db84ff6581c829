"""The cutting plan as text: what is bought of each size, what is not used, and whether less would do."""

from __future__ import annotations

from drafter.report.blocks import block, columns, percent
from drafter.supports.design import Design
from drafter.takeoff import Takeoff
from drafter.takeoff.cutting import cut_allowance_m


def cutting_text(design: Design, takeoff: Takeoff) -> str:
    """Return a row for each size of tube."""
    site, units = design.network.layout.site, design.network.layout.site.units
    rows: list[tuple[str, ...]] = [("size", "pieces", "cut", "bought", "not used", "proof", "offcuts to keep")]
    for plan in takeoff.cutting:
        bought = ", ".join(f"{count} x {units.long_length(stock)}" for stock, count in plan.stocks.items())
        proof = "no plan buys less" if plan.proved else f"no plan buys less than {units.long_length(plan.least_m)}"
        pieces = sum(len(bar.pieces) for bar in plan.bars)
        keep = ", ".join(units.length_with_unit(offcut) for offcut in plan.worth_keeping_m)
        unused = percent(1.0 - plan.cut_m / plan.bought_m)
        rows.append((plan.size, f"{pieces}", units.long_length(plan.cut_m), bought, unused, proof, keep))
    allowed = units.length_with_unit(cut_allowance_m(site))
    return block(f"STOCK LENGTHS ({allowed} allowed for each piece's cut)", columns(rows))
