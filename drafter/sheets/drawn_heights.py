"""How high things are drawn where the main is shown without its fall."""

from __future__ import annotations

from drafter.layout.graph import Layout, RunKind

LEAST_STEP_UP_M = 0.05


def drawn_heights_m(layout: Layout) -> dict[str, float]:
    """Return how high each node is drawn: level pieces of the main at their mean height, what rises above it."""
    level = _level_pieces(layout)
    heights = {id: node.at.z for id, node in layout.nodes.items()}
    for piece in sorted(set(level.values())):
        ids = [id for id in level if level[id] == piece]
        mean = sum(heights[id] for id in ids) / len(ids)
        heights |= dict.fromkeys(ids, mean)
    for _ in layout.nodes:
        moved = False
        for run in (run for run in layout.runs if run.kind is RunKind.RISE):
            low, high = sorted((run.start, run.end), key=lambda id: layout.nodes[id].at.z)
            if level.get(low) != level.get(high) and heights[high] < heights[low] + LEAST_STEP_UP_M:
                ids = [id for id in level if level[id] == level.get(high)] or [high]
                heights |= dict.fromkeys(ids, heights[low] + LEAST_STEP_UP_M)
                moved = True
        if not moved:
            break
    for run in layout.runs:
        if run.kind is RunKind.SWAN_NECK:
            start, end = layout.nodes[run.start], layout.nodes[run.end]
            heights[run.end] = heights[run.start] + end.at.z - start.at.z
    return heights


def _level_pieces(layout: Layout) -> dict[str, int]:
    """Number the pieces of the main that hang together without an upright, by their nodes."""
    piece: dict[str, int] = {}
    for run in layout.runs:
        if run.kind in (RunKind.MAIN, RunKind.SLEEVE):
            ends = (run.start, run.end)
            known = sorted({piece[id] for id in ends if id in piece})
            number = known[0] if known else len(piece) + len(layout.nodes) + int(run.id[1:])
            if len(known) == 2:
                piece |= {id: number for id, old in piece.items() if old == known[1]}
            piece |= dict.fromkeys(ends, number)
    return piece
