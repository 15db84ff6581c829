"""The fixed bracket by the end of the compressor's hose: the hose carries no pipe, the pipe does not shake with it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drafter.layout.graph import Layout, NodeKind, Run, RunKind
from drafter.supports.design import Bracket


def pipe_at_hose(layout: Layout) -> Run:
    """The pipe that the flexible connection is screwed to, as far as the foot of the riser."""
    return next(run for run in layout.runs if layout.nodes[run.start].kind is NodeKind.HOSE_END)


def at_hose(layout: Layout, brackets: Sequence[Bracket]) -> Bracket | None:
    """The bracket on the pipe at the hose, or where that has no room, the nearest on the pipe that it leads into."""
    pipe = pipe_at_hose(layout)
    end = layout.nodes[pipe.start].at
    beyond = [run.id for run in layout.runs_at[pipe.end] if run.kind in (RunKind.RISER, RunKind.DRIP_LEG)]
    for ids in ([pipe.id], beyond):
        held = [bracket for bracket in brackets if bracket.run in ids]
        if held:
            return min(held, key=lambda bracket: bracket.at.minus(end).length)
    return None


def with_fixed_hose_end(layout: Layout, brackets: Sequence[Bracket]) -> list[Bracket]:
    """Return brackets of which the one by the hose is fixed (common practice)."""
    fixed = at_hose(layout, brackets)
    return [replace(bracket, fixed=True) if bracket is fixed else bracket for bracket in brackets]


def hose_end_words(layout: Layout, brackets: Sequence[Bracket]) -> str:
    """Say which bracket takes the hose's movement; empty where none finds room."""
    held = at_hose(layout, brackets)
    if held is None:
        return ""
    if held.run == pipe_at_hose(layout).id:
        return f"{held.tag} by the hose is fixed: the hose carries no pipe, the pipe does not shake with it"
    return f"{held.tag}, the nearest to the hose, is fixed: before it, between hose and riser, no bracket finds room"
