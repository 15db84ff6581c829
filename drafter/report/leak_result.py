"""Leak tests as text for people."""

from __future__ import annotations

from collections.abc import Sequence

from drafter.report.blocks import block, columns
from drafter.sheets.leak_result import DEFER, result_rows, title_of
from drafter.sheets.leak_test import TEST_CAUTIONS
from drafter.sizing.leak_result import LeakResult
from drafter.sizing.network import Network


def leak_result_text(network: Network, results: Sequence[LeakResult]) -> str:
    """Return what each reading says, with the cautions before, so that each verdict ends its block."""
    cautions = block("CAUTIONS", (*DEFER, *TEST_CAUTIONS))
    blocks = [block(title_of(result), columns(result_rows(network, result))) for result in results]
    return "\n\n".join([network.layout.site.name, cautions, *blocks]) + "\n"
