"""What valves, drains and units are for, in words."""

from __future__ import annotations

from drafter.layout.graph import Layout, NodeKind, RunKind


def purpose(layout: Layout, node_id: str) -> str:
    """Return what a valve, a drain or a unit is for."""
    node, run = layout.nodes[node_id], layout.runs_at[node_id][0]
    if node.what:
        return node.what
    if node.tag == "V-01":
        return "isolating valve at the tank, lockable"
    if node.kind is NodeKind.VALVE:
        return f"valve of {run.outlet}"
    if run.outlet:
        return f"drain of {run.outlet}"
    top = layout.nodes[run.start]
    if not layout.is_low_point(top):
        return "drain at the riser's foot"
    if any(each.kind is RunKind.RISE for each in layout.runs_at[top.id]):
        return "drain where the main rises"
    return "drain at the low point of the ring" if top.kind is NodeKind.TEE else "drain at a low end of the main"
