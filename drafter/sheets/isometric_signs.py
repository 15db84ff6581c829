"""How many signs of an isometric are seen on lines that they have nothing to do with."""

from __future__ import annotations

import numpy as np

from drafter.geometry import Point
from drafter.layout.graph import Layout, NodeKind
from drafter.sheets.isometric_parts import Part
from drafter.sheets.isometric_space import DRAIN_SIGN_MM, IsometricSpace

NEAR_MM = 4.0
"""A sign nearer than this to a line seems to stand on it."""

_SIGNS = (NodeKind.COUPLING, NodeKind.SERVICE, NodeKind.DRAIN, NodeKind.TREATMENT, NodeKind.VALVE)


class SignsAmongLines:
    """The signs of a part, and for each the runs that it may be seen on: those joined to it, and of its outlet."""

    def __init__(self, layout: Layout, part: Part) -> None:
        held = {node.id for node in part.nodes}
        self._nodes = part.nodes
        self._runs = [run for run in part.runs if run.start in held and run.end in held]
        self._signs = [node for node in part.nodes if node.kind in _SIGNS]
        by_node: dict[str, set[int]] = {}
        by_outlet: dict[str, set[int]] = {}
        for index, run in enumerate(self._runs):
            for id in (run.start, run.end):
                by_node.setdefault(id, set()).add(index)
                for each in layout.runs_at[id]:
                    by_outlet.setdefault(each.outlet, set()).add(index)
        self._hanging = [node for node in self._signs if node.kind is NodeKind.DRAIN]
        for index, node in enumerate(self._hanging, len(self._runs)):
            by_node[node.id].add(index)
            by_outlet.setdefault(layout.outlet_at(node), set()).add(index)
        self._other = np.ones((len(self._signs), len(self._runs) + len(self._hanging)), dtype=bool)
        for number, sign in enumerate(self._signs):
            joined = layout.runs_at[sign.id]
            own = {index for run in joined for id in (run.start, run.end) for index in by_node.get(id, ())}
            own |= {index for run in joined if run.outlet for index in by_outlet[run.outlet]}
            self._other[number, list(own)] = False

    def mistaken(self, space: IsometricSpace) -> int:
        """Return how many pairs there are of a sign and a run of another line that it is seen on or beside."""
        if not self._signs or not self._runs:
            return 0
        spots = {node.id: space.at_node(node) for node in self._nodes}
        down = Point(0.0, -DRAIN_SIGN_MM * space.scale)
        hanging = [(spots[node.id], spots[node.id].plus(down)) for node in self._hanging]
        lines = [*((spots[run.start], spots[run.end]) for run in self._runs), *hanging]
        start = np.array([start for start, _ in lines])
        along = np.array([end for _, end in lines]) - start
        length = np.maximum((along**2).sum(axis=1), 1e-9)
        off = np.array([spots[node.id] for node in self._signs])[:, None] - start[None]
        share = np.clip((off * along[None]).sum(axis=2) / length[None], 0.0, 1.0)
        near = np.hypot(*(off - share[:, :, None] * along[None]).transpose(2, 0, 1)) < NEAR_MM * space.scale
        return int((near & self._other).sum())
