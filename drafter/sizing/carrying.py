"""Which runs carry air, and which of them lie on a ring."""

from __future__ import annotations

from drafter.layout.graph import Layout, NodeKind, Run


def carrying_runs(layout: Layout) -> frozenset[str]:
    """Return the ids of the runs on a way from the tank to an outlet.

    Source:
        mass balance: nothing flows into a dead end.
    """
    left = {run.id: run for run in layout.runs}
    ends = [node.id for node in layout.nodes.values() if node.kind not in (NodeKind.TANK, NodeKind.COUPLING)]
    while ends:
        node = ends.pop()
        meeting = [run for run in layout.runs_at[node] if run.id in left]
        if len(meeting) == 1:
            del left[meeting[0].id]
            other = meeting[0].start if meeting[0].end == node else meeting[0].end
            if layout.nodes[other].kind not in (NodeKind.TANK, NodeKind.COUPLING):
                ends.append(other)
    return frozenset(left)


def runs_on_rings(layout: Layout) -> frozenset[str]:
    """Return the ids of the runs on a ring: each run that closes one, and the ways from its ends to where they meet.

    Source:
        none; graph theory: a run that ends at a node already reached closes a cycle.
    """
    brought: dict[str, Run] = {}
    found: set[str] = set()
    reached = {layout.runs[0].start}
    for run in layout.runs:
        if run.end in reached:
            found |= {run.id} | {each.id for each in _way(brought, run.start) ^ _way(brought, run.end)}
        else:
            brought[run.end] = run
            reached.add(run.end)
    return frozenset(found)


def _way(brought: dict[str, Run], node: str) -> set[Run]:
    way = set()
    while node in brought:
        way.add(brought[node])
        node = brought[node].start
    return way
