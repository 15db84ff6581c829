"""Consoles of outlets and treatment units: where each is fixed, and on which stud where it meets one."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.layout.graph import Layout, NodeKind
from drafter.supports.design import Console
from drafter.supports.framing import posts_at, stud_at

CARRIED = (NodeKind.COUPLING, NodeKind.TREATMENT)


def consoles_of(layout: Layout) -> Iterator[Console]:
    """Yield a console for each outlet and treatment unit, wall by wall from the left."""
    order = {(face.room, face.name): number for number, face in enumerate(layout.site.faces)}
    nodes = [node for node in layout.nodes.values() if node.kind in CARRIED]
    for node in sorted(nodes, key=lambda each: (order[each.room, each.wall], layout.from_left_m(each), -each.at.z)):
        wall, from_left_m = layout.site.wall(node.room, node.wall), layout.from_left_m(node)
        framed = layout.site.rooms[node.room].studs_of(node.wall) is not None
        stud = stud_at(posts_at(layout.site, wall, node.at.z), from_left_m) if framed else 0
        yield Console(node.id, node.tag, node.at, node.room, node.wall, from_left_m, stud)
