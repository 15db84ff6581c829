"""What holds treatment units and outlets: brackets and consoles of their own, so that no pipe carries them."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.layout.graph import Layout, Node, NodeKind
from drafter.standards.components import component
from drafter.supports.boards import BOARD_THICK_M
from drafter.supports.design import Design
from drafter.takeoff.part import SUPPORTS
from drafter.takeoff.rows import Row


def console_rows(design: Design) -> Iterator[Row]:
    """Yield what to buy to hold treatment units and outlets, each with the tags of those it is for."""
    layout, tags = design.network.layout, dict[str, list[str]]()
    on_boards = {console.node for console in design.consoles if console.board}
    for node in layout.nodes.values():
        if item := held_by(layout, node, node.id in on_boards):
            tags.setdefault(item, []).append(node.tag)
    for item, here in tags.items():
        yield Row(SUPPORTS, item, "", len(here), "pcs", len(here), tuple(here))


def held_by(layout: Layout, node: Node, on_board: bool = False) -> str:
    """What a treatment unit or an outlet is held by, on a wall or a board, as it is bought; empty for other nodes."""
    if node.kind is NodeKind.TREATMENT:
        heavy = component(node.what).heavy
        return "stand or console that carries the dryer or cooler" if heavy else "bracket of its own for a unit"
    if node.kind is NodeKind.COUPLING:
        _, off_m = layout.site.wall(node.room, node.wall).measure(node.at.plan)
        outlet = next(outlet for outlet in layout.site.outlets if outlet.tag == node.tag)
        what = "an outlet with its units" if outlet.service else "an outlet"
        reach = layout.site.units.length_with_unit(off_m - BOARD_THICK_M if on_board else off_m)
        return f"console for {what}, {reach} off the {'board' if on_board else 'wall'}"
    return ""


def on_console(layout: Layout, node: Node) -> str:
    """A treatment unit or an outlet as it is marked on the wall, with what it is held by; empty for other nodes."""
    held = held_by(layout, node)
    if not held:
        return ""
    name = "outlet" if node.kind is NodeKind.COUPLING else node.what
    return f"{name}, on {'a stand or console' if held.startswith('stand') else held.partition(' for ')[0]}"
