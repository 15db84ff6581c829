"""Leak tests as text for people."""

from __future__ import annotations

from collections.abc import Sequence

from drafter.report.blocks import block, columns
from drafter.sheets.leak_result import DEFER, in_order, result_rows, title_of
from drafter.sheets.leak_test import cautions_at_test
from drafter.sheets.leak_verdict import verdict_words
from drafter.sheets.stamp import stamp_of
from drafter.sizing.leak_result import LeakResult, Verdict
from drafter.sizing.network import Network


def leak_result_text(network: Network, results: Sequence[LeakResult], errors: int = 0) -> str:
    """Return what each reading says, with the cautions before, so that each verdict ends its block.

    A design with errors, and a pressure above what it may be, are said before everything.

    Args:
        errors: how many the design has.
    """
    units = network.layout.site.units
    over = [f"{title_of(each)}: {verdict_words(each, units)}" for each in results if each.verdict is Verdict.OVER]
    cautions = block("CAUTIONS", (*DEFER, *cautions_at_test(units)))
    blocks = [block(title_of(result), columns(result_rows(network, result))) for result in in_order(results)]
    stamp = [f"{stamp_of(errors)}: 'drafter check' lists what to correct first"] if errors else []
    return "\n\n".join([*stamp, *over, network.layout.site.name, cautions, *blocks]) + "\n"
