"""The arrays a network solve takes, checked before anything is computed."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
Integers = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class NetworkInput:
    """Checked arrays: the first six over the pipes, the outflow over the nodes, two over the supplies.

    `reached` marks the nodes some path of pipes joins to a supply.
    """

    start: Integers
    end: Integers
    length_m: Floats
    bore_m: Floats
    roughness_m: Floats
    loss_coefficient: Floats
    outflow_kg_s: Floats
    supply_nodes: Integers
    supply_absolute_pa: Floats
    reached: NDArray[np.bool_]


def check_network(
    start: ArrayLike,
    end: ArrayLike,
    length_m: ArrayLike,
    bore_m: ArrayLike,
    roughness_m: ArrayLike,
    loss_coefficient: ArrayLike,
    node_count: int,
    outflow_kg_s: ArrayLike,
    supply_nodes: ArrayLike,
    supply_absolute_pa: ArrayLike,
) -> NetworkInput:
    """Turn the arguments of a network solve into arrays and check them.

    Raises:
        ValueError: shapes differ, a value is out of its range, a node number does not exist, a pipe ends where
            it starts or resists nothing, a node with a demand hangs on no supply.

    Source:
        none; it computes nothing.
    """
    pipes = np.shape(start)
    demand = _floats("outflow_kg_s", outflow_kg_s, (node_count,), None)
    supply_shape = np.shape(supply_nodes)
    checked = NetworkInput(
        start=_nodes("start", start, pipes, node_count),
        end=_nodes("end", end, pipes, node_count),
        length_m=_floats("length_m", length_m, pipes, 0.0),
        bore_m=_floats("bore_m", bore_m, pipes, 0.0),
        roughness_m=_floats("roughness_m", roughness_m, pipes, 0.0),
        loss_coefficient=_floats("loss_coefficient", loss_coefficient, pipes, 0.0),
        outflow_kg_s=demand,
        supply_nodes=_nodes("supply_nodes", supply_nodes, supply_shape, node_count),
        supply_absolute_pa=_floats("supply_absolute_pa", supply_absolute_pa, supply_shape, 0.0),
        reached=np.zeros(node_count, bool),
    )
    _check_pipes(checked)
    _check_supplies(checked)
    _mark_reached(checked)
    stranded = np.flatnonzero((demand != 0.0) & ~checked.reached)
    if stranded.size:
        raise ValueError(f"node {stranded[0]} has an outflow but no path to a supply")
    return checked


def _check_pipes(network: NetworkInput) -> None:
    lossless = (network.length_m == 0.0) & (network.loss_coefficient == 0.0)
    faults = (
        (network.bore_m <= 0.0, "has no bore"),
        (network.start == network.end, "ends at the node where it starts"),
        (lossless, "has neither length nor loss coefficient"),
    )
    for faulty, words in faults:
        if faulty.any():
            raise ValueError(f"pipe {np.flatnonzero(faulty)[0]} {words}")


def _check_supplies(network: NetworkInput) -> None:
    if not network.supply_nodes.size:
        raise ValueError("supply_nodes is empty: at least one node needs a known pressure")
    if np.unique(network.supply_nodes).size < network.supply_nodes.size:
        raise ValueError("supply_nodes names a node twice")
    if (network.supply_absolute_pa <= 0.0).any():
        raise ValueError("supply_absolute_pa must be above zero")


def _mark_reached(network: NetworkInput) -> None:
    reached = network.reached
    reached[network.supply_nodes] = True
    while True:
        one_sided = reached[network.start] != reached[network.end]
        if not one_sided.any():
            return
        reached[network.start[one_sided]] = True
        reached[network.end[one_sided]] = True


def _floats(name: str, values: ArrayLike, shape: tuple[int, ...], least: float | None) -> Floats:
    array = np.asarray(values, float)
    if array.ndim != 1 or array.shape != shape:
        raise ValueError(f"{name} has the shape {array.shape} where {shape} is needed")
    if not np.isfinite(array).all():
        raise ValueError(f"{name} holds a value that is not finite")
    if least is not None and (array < least).any():
        raise ValueError(f"{name} holds a value below {least:g}")
    return array


def _nodes(name: str, values: ArrayLike, shape: tuple[int, ...], node_count: int) -> Integers:
    array = np.asarray(values)
    if array.size == 0:
        array = array.astype(np.intp)
    if array.ndim != 1 or array.shape != shape:
        raise ValueError(f"{name} has the shape {array.shape} where {shape} is needed")
    if not np.issubdtype(array.dtype, np.integer):
        raise ValueError(f"{name} must hold whole node numbers")
    if array.size and (array.min() < 0 or array.max() >= node_count):
        raise ValueError(f"{name} names a node outside 0 to {node_count - 1}")
    return array.astype(np.intp)
