"""What a treatment or service unit must do, for whoever sells it: flow, pressure, setting, how clean and dry."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.layout.graph import Node, NodeKind
from drafter.site.model import Treatment
from drafter.sizing.network import Network
from drafter.sizing.ratings import air_at
from drafter.standards.components import component
from drafter.standards.tools import FOR_CLEANING, find_tool


def duty(network: Network, node: Node) -> str:
    """Return what the unit at a node must do: the most free air through it, what it is rated for, its setting.

    It is rated for the relief valve's setting: a regulator before it may fail.
    """
    return ", ".join(_words(network, node))


def _words(network: Network, node: Node) -> Iterator[str]:
    layout, unit = network.layout, component(node.what)
    units, given = layout.site.units, _given(network, node)
    flow = units.free_air(network.pipe(layout.runs_at[node.id][0].id).free_air_m3_s)
    yield f"for {flow} free air ({units.free_air_state})"
    relief, air = units.pressure(layout.site.compressor.relief_pa), units.temperature(air_at(network, node))
    yield f"rated {relief} or more at {air}"
    if "regulator" in node.what:
        yield "with a gauge"
        yield setting(network, node)
    classes = [("particles", unit.particle_class), ("oil", unit.oil_class)]
    if told := [f"{what} class {number}" for what, number in classes if number is not None]:
        yield f"{' and '.join(told)} of ISO 8573-1"
    dew_point_k = given.dew_point_k if given and given.dew_point_k is not None else unit.dew_point_k
    if dew_point_k is not None:
        yield f"pressure dew point {units.temperature(dew_point_k)}"


def _train(network: Network) -> list[tuple[Node, Treatment]]:
    nodes = [node for node in network.layout.nodes.values() if node.kind is NodeKind.TREATMENT]
    return list(zip(nodes, network.layout.site.treatment, strict=True))


def _given(network: Network, node: Node) -> Treatment | None:
    """What the site file says of a unit of the train; None for a unit at an outlet."""
    return next((unit for each, unit in _train(network) if each is node), None)


def setting(network: Network, node: Node) -> str:
    """Return what a regulator is set to, or must leave for the tools at its outlet."""
    units, tag = network.layout.site.units, network.layout.outlet_at(node)
    if (given := _given(network, node)) is not None:
        return f"set to {units.pressure(given.set_pa)}" if given.set_pa is not None else "setting not given"
    outlet = next(each for each in network.layout.site.outlets if each.tag == tag)
    names = [tool.name for use in outlet.tools if (tool := find_tool(use.tool)) is not None]
    if len(names) == len(outlet.tools) and all(name in FOR_CLEANING for name in names):
        return "set below 30 psi (2.07 bar), for cleaning"
    needed_pa = next(flow.needed_pa for flow in network.outlets if flow.tag == tag)
    return f"to leave {units.pressure(needed_pa)} at the tool" if needed_pa else "set as the tool's plate says"
