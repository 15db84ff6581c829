"""Spare tees: their sign on the views, and the schedule that says what a later drop would find there."""

from __future__ import annotations

from drafter.drawing import Item
from drafter.geometry import Point
from drafter.layout.graph import NodeKind
from drafter.sheets.scene import Scene
from drafter.sheets.tables import Column, Table

PLUG_SCALE, TEE_SCALE = 0.35, 0.4
OFF_MM = 1.6
"""From the main to the sign of the plug on paper, towards where the drop would leave."""


def spare_tee_signs(scene: Scene, at: Point, angle_deg: float, scale: int) -> list[Item]:
    """Draw a connection dot and a plug off it, at an angle in the view."""
    plug = at.plus(Point(1.0, 0.0).turned(angle_deg), OFF_MM * scale)
    return [
        scene.insert(scene.layers.main, "tee_joint", at, scale=TEE_SCALE),
        scene.insert(scene.layers.drop, "plug", plug, angle_deg, PLUG_SCALE),
    ]


def spare_tee_rows(scene: Scene) -> tuple[tuple[str, ...], ...]:
    """Return for each spare tee where it is, what a later drop is taken to draw, and what is left then and now."""
    units, layout = scene.units, scene.layout
    nodes = {node.tag: node for node in layout.nodes.values() if node.kind is NodeKind.SPARE_TEE}
    rows = []
    for spare in scene.design.network.spare_tees:
        node = nodes[spare.tag]
        place = f"{node.room}, {node.wall}" if len(scene.site.rooms) > 1 else node.wall
        left, height = units.length(layout.from_left_m(node)), units.length(node.at.z)
        pressures = units.pressure(spare.gauge_pressure_pa), units.pressure(spare.now_pa)
        flow, others = units.free_air(spare.free_air_m3_s), ", ".join(spare.together_with)
        rows.append((spare.tag, place, left, height, flow, *pressures, others))
    return tuple(rows)


SPARE_HEADS = ("tag", "wall", "from left", "height", "later drop takes", "then left in the main", "now", "worst with")


def spare_table(scene: Scene) -> Table:
    """The schedule of the spare tees."""
    columns = (Column(head, head in SPARE_HEADS[2:7]) for head in SPARE_HEADS)
    return Table("SPARE TEES, compressor at cut-in", tuple(columns), spare_tee_rows(scene))
