"""The sign of a drain in an elevation: its data at the drain's own level, the picture below it and above the floor."""

from __future__ import annotations

from dataclasses import replace

from drafter.drawing import Insert
from drafter.geometry import Point
from drafter.layout.graph import Node
from drafter.sheets.scene import Scene

SIZE, OFF_FLOOR_MM = 0.5, 0.8


def drain_sign(scene: Scene, node: Node, at: Point, scale: float) -> Insert:
    """Return the sign of the drain at a node, which hangs from the point ``at``; near the floor it reaches past it."""
    symbol = scene.used_symbol(node)
    half_mm = scene.symbols[symbol].size[1] / 2
    above_floor_mm = at.y / scale - OFF_FLOOR_MM - half_mm * SIZE
    shift = Point(0.0, -round(min(half_mm, above_floor_mm / SIZE), 1))
    return replace(scene.insert(scene.layers.drain, symbol, at, 0.0, SIZE, node=node), shift=shift)
