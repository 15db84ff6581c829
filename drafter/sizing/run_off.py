"""Where water runs inside the pipes: downhill to the first drain or unit that keeps it."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from drafter.layout.graph import Layout, Run, RunKind

LEVEL_M = 0.001
"""Rise or fall of a run below which water goes with the air."""


def first_runs(layout: Layout) -> dict[str, Run]:
    """Return the run that brings each node its air; a ring is taken as open where its last run closes it.

    Source:
        the order of `Layout.runs`.
    """
    tank = layout.runs[0].start
    brings: dict[str, Run] = {}
    for run in layout.runs:
        if run.end != tank:
            brings.setdefault(run.end, run)
    return brings


def lower_end(layout: Layout, run: Run) -> str:
    """Return the node that water in a run goes to: the lower one, or the far one where the run is level.

    Source:
        gravity; the air pushes water along a level pipe.
    """
    start, end = layout.nodes[run.start].at.z, layout.nodes[run.end].at.z
    return run.start if start < end - LEVEL_M else run.end


def run_off(layout: Layout, poured: Mapping[str, float], keeps: Collection[str]) -> dict[str, float]:
    """Return how much water comes to rest at which node.

    At a branching downhill it takes all ways alike, a drip leg before all others. Water that finds no way down
    stands until it is pushed back to the drain or unit before it.

    Args:
        poured: water that falls out, by node.
        keeps: nodes that keep water: drains, bowls, couplings.

    Source:
        gravity; that no water passes a drain is an assumption that drip legs and low velocity serve.
    """
    order = sorted(layout.nodes, key=lambda id: -round(layout.nodes[id].at.z / LEVEL_M))
    here = dict.fromkeys(layout.nodes, 0.0) | dict(poured)
    rest: dict[str, float] = {}
    brings = first_runs(layout)
    rank = {node: number for number, node in enumerate(order)}
    for node in order:
        amount = here[node]
        if not amount:
            continue
        ways = [] if node in keeps else _ways(layout, node, rank)
        for way in ways:
            here[way] += amount / len(ways)
        if not ways:
            at = node if node in keeps else _keeper_before(layout, node, keeps, brings)
            rest[at] = rest.get(at, 0.0) + amount
    return rest


def _ways(layout: Layout, node: str, rank: Mapping[str, int]) -> list[str]:
    """The nodes that water at a node runs to; ``rank`` counts nodes from the highest, where level with the flow."""
    height = layout.nodes[node].at.z
    ends = [(run, run.end if run.start == node else run.start) for run in layout.runs_at[node]]
    after = [(run, end) for run, end in ends if rank[end] > rank[node]]
    down = [(run, end) for run, end in after if layout.nodes[end].at.z < height - LEVEL_M]
    legs = [end for run, end in down if run.kind is RunKind.DRIP_LEG]
    return legs or [end for _, end in down] or [end for run, end in after if run.start == node]


def _keeper_before(layout: Layout, node: str, keeps: Collection[str], brings: Mapping[str, Run]) -> str:
    """The nearest drain or keeping unit on the way back to the tank; the tank where there is none."""
    while node not in keeps and node in brings:
        legs = [run.end for run in layout.runs_at[node] if run.kind is RunKind.DRIP_LEG and run.start == node]
        if legs:
            return legs[0]
        node = brings[node].start
    return node
