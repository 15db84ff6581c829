"""Where a run of pipe is, in words that drawings and people share."""

from __future__ import annotations

from collections.abc import Iterable

from drafter.layout.graph import Layout, Run, RunKind
from drafter.site.wall import with_article

_OF_MAIN = (RunKind.MAIN, RunKind.RISE, RunKind.SLEEVE)


def run_words(layout: Layout, run: Run) -> str:
    """Return a run as part of a drop, of the main on a wall, as a drain's leg, or of the line at the compressor."""
    if run.outlet:
        return f"the drop of {run.outlet}"
    if run.kind is RunKind.DRIP_LEG:
        return f"the leg of {layout.nodes[run.end].tag}"
    at = layout.site.wall_words(run.room, run.wall, with_article)
    return f"the main on {at}" if run.kind in _OF_MAIN else f"the line at the compressor on {at}"


def all_run_words(layout: Layout, runs: Iterable[Run]) -> list[str]:
    """Return the same for several runs, each once."""
    return list(dict.fromkeys(run_words(layout, run) for run in runs))
