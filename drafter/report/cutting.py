"""The cutting plan: as text what to buy, what is left and whether less would do; for programs bar by bar."""

from __future__ import annotations

from typing import Any

from drafter.report.blocks import block, columns, percent
from drafter.sizing.network import Network
from drafter.takeoff import Takeoff
from drafter.takeoff.bend_words import bends_words
from drafter.takeoff.cutting import SizeCutting
from drafter.takeoff.cutting_words import bound_words, cutting_order, purchase_words, short_words, without_spare
from drafter.takeoff.pipe_threads import short_pieces


def cutting_text(takeoff: Takeoff, network: Network) -> str:
    """Return what to buy of each size and why no less, how to cut, which wait for the site, where they are bent."""
    family, units = network.material, network.layout.site.units
    rows = [
        (plan.size, f"{sum(len(bar.pieces) for bar in plan.bars)} pieces, {units.long_length(plan.cut_m)}",
         purchase_words(plan, units), bound_words(plan, units),
         units.long_length(plan.reusable_m),
         f"{units.long_length(plan.waste_m)}, {percent(plan.waste_m / plan.bought_m)}")
        for plan in takeoff.cutting
    ]  # fmt: skip
    if not rows:
        return ""
    lines = [*columns([("size", "to cut", "buy", "bound", "offcuts to keep", "lost"), *rows]), cutting_order(family)]
    waiting = ", ".join(str(piece.number) for piece in takeoff.pieces if piece.make_up)
    if waiting:
        lines.append(f"Cut on site, each when the rest of its line is in: piece {waiting}.")
    short = short_words(short_pieces(network, takeoff.pieces), units)
    lines += [words for words in (short, without_spare(takeoff.cutting)) if words]
    lines += [
        f"Bent, marked from its first end: piece {piece.number}: {bends_words(piece, units)}."
        for piece in takeoff.pieces
        if piece.bends
    ]
    return block("TUBE TO BUY AND CUT", lines)


def cutting_data(takeoff: Takeoff) -> list[dict[str, Any]]:
    """Return the cutting plan of each size."""
    return [_size_data(plan) for plan in takeoff.cutting]


def _size_data(plan: SizeCutting) -> dict[str, Any]:
    return {
        "size": plan.size,
        "cut_m": round(plan.cut_m, 4),
        "bought_m": round(plan.bought_m, 4),
        "least_m": round(plan.least_m, 4),
        "least_bars": plan.least_bars,
        "proved": plan.proved,
        "offcuts_to_keep_m": round(plan.reusable_m, 4),
        "waste_m": round(plan.waste_m, 4),
        "bars": [
            {"number": bar.number, "stock_m": round(bar.stock_m, 4), "pieces": list(bar.pieces),
             "begin_at_m": [round(start, 4) for start in bar.starts_m], "offcut_m": round(bar.offcut_m, 4)}
            for bar in plan.bars
        ],
    }  # fmt: skip
