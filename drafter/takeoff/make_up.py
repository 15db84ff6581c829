"""Make-up pieces: the one of each straight line that is cut on site, to take up what all the others are off."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations

from drafter.layout.graph import IN_LINE, Layout, NodeKind, Run, RunKind
from drafter.sizing.bends import TubeLine

FREE_ENDS = (NodeKind.DRAIN, NodeKind.HOSE_END, NodeKind.TANK)
"""What ends here can be a little long or short."""


def make_up_runs(layout: Layout, lines: Iterable[TubeLine]) -> dict[str, bool]:
    """Return the last run of each straight line between fixed ends, and whether it is the line's only one.

    Fittings are each off by a millimetre or two, and a line between two fixed ends must come out right: its last
    piece is measured when the others are in. A line of one piece is measured anyway; of one run that is made of
    several pieces the last one is left. A tube with several bends between two fixed ends is one too, whatever is said
    of its runs: its bends must come where the corners are. A leg that ends in a drain is free to be off, with the tube
    that is bent down into it.

    Args:
        lines: the runs that each tube goes through.

    Source:
        common practice.
    """
    tubes = [line for line in lines if _between_fixed_ends(layout, line)]
    fixed = {run.id for line in tubes for run in line.runs}
    runs = [run for run in layout.runs if run.id in fixed]
    line = {run.id: run.id for run in runs}
    for node in layout.nodes:
        for one, other in combinations([run for run in layout.runs_at[node] if run.id in line], 2):
            if _in_line(layout, node, one, other):
                joined = {line[one.id], line[other.id]}
                line |= {id: line[one.id] for id, name in line.items() if name in joined}
    members: dict[str, list[str]] = {}
    for run in runs:
        members.setdefault(line[run.id], []).append(run.id)
    return {ids[-1]: len(ids) == 1 for ids in members.values()}


def _between_fixed_ends(layout: Layout, tube: TubeLine) -> bool:
    first, last = tube.runs[0], tube.runs[-1]
    ends = {layout.nodes[first.start].kind, layout.nodes[last.end].kind}
    return first.kind not in (RunKind.CONNECTION, RunKind.FLEXIBLE) and not ends.intersection(FREE_ENDS)


def _in_line(layout: Layout, node: str, one: Run, other: Run) -> bool:
    ways = []
    for run in (one, other):
        far = layout.nodes[run.start if run.end == node else run.end].at
        way = far.minus(layout.nodes[node].at)
        ways.append((way, way.length))
    (first, length), (second, other_length) = ways
    return first.dot(second) <= -IN_LINE * length * other_length
