"""What holds units and outlets: brackets, consoles and stands of their own, so that no pipe carries them."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.layout.graph import Layout, Node, NodeKind
from drafter.standards.components import component
from drafter.supports.boards import BOARD_THICK_M
from drafter.supports.consoles import is_at_wall
from drafter.supports.design import Console, Design
from drafter.takeoff.holding import console_held_by
from drafter.takeoff.part import SUPPORTS
from drafter.takeoff.rows import Row


def console_rows(design: Design) -> Iterator[Row]:
    """Yield what to buy to hold units and outlets, each with the tags of those it is for."""
    tags = dict[str, list[str]]()
    for console in design.consoles:
        tags.setdefault(console_item(design.network.layout, console), []).append(console.tag)
    for item, here in tags.items():
        yield Row(SUPPORTS, item, "", len(here), "pcs", len(here), tuple(dict.fromkeys(here)))


def console_item(layout: Layout, console: Console) -> str:
    """What a console, a bracket of a unit or a stand is bought as."""
    node = layout.nodes[console.node]
    face = "board" if console.board else "wall"
    reach = f"{layout.site.units.length_with_unit(_reach_m(layout, node, console))} off the {face}"
    if console.on_floor:
        return f"stand for a dryer or cooler, its ports {layout.site.units.length_with_unit(node.at.z)} above the floor"
    if _is_heavy(node):
        return f"console with two arms that carries the dryer or cooler, {reach}"
    if node.kind is not NodeKind.COUPLING:
        return f"bracket of its own for a unit, {reach}"
    return f"console for {'an outlet with its units' if _carries_units(layout, node) else 'an outlet'}, {reach}"


def on_console(layout: Layout, node: Node, console: Console | None) -> str:
    """A unit or an outlet as it is marked on the wall, with what it is held by; empty for other nodes."""
    name = "outlet" if node.kind is NodeKind.COUPLING else node.what
    units = layout.site.units
    if console is None:
        if node.kind is not NodeKind.SERVICE:
            return ""
        off_m = layout.site.wall(node.room, node.wall).measure(node.at.plan)[1]
        return f"{name}, on the console of its outlet, {units.length_with_unit(off_m)} off the wall"
    if console.on_floor:
        off = layout.site.units.length_with_unit(_reach_m(layout, node, console))
        return f"{name}, on a stand on the floor, {off} off the wall"
    held = "bracket of its own" if node.kind is not NodeKind.COUPLING and not _is_heavy(node) else "console"
    place, number = console_held_by(console)
    on = f" on {place} {number}" if number else ""
    return f"{name}, on {held}{on}, {units.length_with_unit(_reach_m(layout, node, console))} off"


def _reach_m(layout: Layout, node: Node, console: Console) -> float:
    """How far off its wall or board a console holds a node [m]."""
    off_m = layout.site.wall(node.room, node.wall).measure(node.at.plan)[1]
    return off_m - BOARD_THICK_M if console.board else off_m


def _is_heavy(node: Node) -> bool:
    return node.kind is NodeKind.TREATMENT and component(node.what).heavy


def _carries_units(layout: Layout, coupling: Node) -> bool:
    """Whether units stand out into the room before a coupling, and its console carries them too."""
    outlet = next(outlet for outlet in layout.site.outlets if outlet.tag == coupling.tag)
    return bool(outlet.service) and not is_at_wall(layout, coupling)
