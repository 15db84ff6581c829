"""The arrays a network solve takes, checked before anything is computed."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from drafter.sizing.solving.devices import Nozzles, Regulators, Restrictions
from drafter.sizing.solving.reach import Links, reached_nodes

Floats = NDArray[np.float64]
Integers = NDArray[np.intp]
Booleans = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class NetworkInput:
    """Checked arrays over the pipes, the nodes (draws: one row a case), the supplies and the devices.

    `links` are pipes and restrictions as what joins nodes; `reached` marks the nodes that air can get to
    from a supply.
    """

    start: Integers
    end: Integers
    length_m: Floats
    bore_m: Floats
    roughness_m: Floats
    loss_coefficient: Floats
    closed: Booleans
    outflows_kg_s: Floats
    supply_nodes: Integers
    supply_absolute_pa: Floats
    restrictions: Restrictions
    regulators: Regulators
    nozzles: Nozzles
    links: Links
    reached: Booleans


def check_network(
    start: ArrayLike,
    end: ArrayLike,
    length_m: ArrayLike,
    bore_m: ArrayLike,
    roughness_m: ArrayLike,
    loss_coefficient: ArrayLike,
    node_count: int,
    outflows_kg_s: ArrayLike,
    supply_nodes: ArrayLike,
    supply_absolute_pa: ArrayLike,
    closed: ArrayLike | None = None,
    restrictions: Restrictions | None = None,
    regulators: Regulators | None = None,
    nozzles: Nozzles | None = None,
) -> NetworkInput:
    """Turn the arguments of a network solve into arrays and check them; the work is linear in their size.

    Raises:
        ValueError: shapes differ, a value is out of its range, a node or element number does not exist or
            stands twice where it may stand once, an element ends where it starts or resists nothing.

    Source:
        none; it computes nothing.
    """
    pipes = np.shape(start)
    supplies = np.shape(supply_nodes)
    starts, ends = node_numbers("start", start, pipes, node_count), node_numbers("end", end, pipes, node_count)
    shut = np.zeros(pipes, bool) if closed is None else _marks("closed", closed, pipes)
    checked_restrictions = _restrictions(restrictions, node_count)
    checked_regulators = _regulators(regulators, starts.size + np.size(checked_restrictions.start))
    supply = node_numbers("supply_nodes", supply_nodes, supplies, node_count)
    links = links_of(starts, ends, shut, checked_restrictions, checked_regulators)
    checked = NetworkInput(
        start=starts,
        end=ends,
        length_m=floats("length_m", length_m, pipes, 0.0),
        bore_m=floats("bore_m", bore_m, pipes, 0.0),
        roughness_m=floats("roughness_m", roughness_m, pipes, 0.0),
        loss_coefficient=floats("loss_coefficient", loss_coefficient, pipes, 0.0),
        closed=shut,
        outflows_kg_s=floats("outflow_kg_s", outflows_kg_s, (*np.shape(outflows_kg_s)[:1], node_count), None),
        supply_nodes=supply,
        supply_absolute_pa=floats("supply_absolute_pa", supply_absolute_pa, supplies, 0.0),
        restrictions=checked_restrictions,
        regulators=checked_regulators,
        nozzles=_nozzles(nozzles, node_count),
        links=links,
        reached=reached_nodes(links, node_count, supply),
    )
    _check_pipes(checked)
    _check_supplies(checked)
    return checked


def links_of(
    start: Integers, end: Integers, closed: Booleans, restrictions: Restrictions, regulators: Regulators
) -> Links:
    """Pipes and restrictions as what joins nodes; those with a regulator pass air one way.

    Source:
        none; it computes nothing.
    """
    starts = np.concatenate([start, np.asarray(restrictions.start)])
    one_way = np.zeros(starts.size, bool)
    one_way[np.asarray(regulators.element)] = True
    shut = np.zeros(starts.size, bool)
    shut[: closed.size] = closed
    return Links(starts, np.concatenate([end, np.asarray(restrictions.end)]), shut, one_way)


def _restrictions(given: Restrictions | None, node_count: int) -> Restrictions:
    if given is None:
        return Restrictions(_NO_NUMBERS, _NO_NUMBERS, _NO_FLOATS, _NO_FLOATS)
    shape = np.shape(given.start)
    checked = Restrictions(
        node_numbers("restrictions.start", given.start, shape, node_count),
        node_numbers("restrictions.end", given.end, shape, node_count),
        *_characteristic("restrictions", given, shape),
    )
    _refuse(np.equal(checked.start, checked.end), "restriction", "ends at the node where it starts")
    return checked


def _regulators(given: Regulators | None, element_count: int) -> Regulators:
    if given is None:
        return Regulators(_NO_NUMBERS, _NO_FLOATS)
    shape = np.shape(given.element)
    element = node_numbers("regulators.element", given.element, shape, element_count, "an element")
    set_pa = np.asarray(given.set_absolute_pa, float)
    if set_pa.shape != shape:
        raise ValueError(f"regulators.set_absolute_pa has the shape {set_pa.shape} where {shape} is needed")
    if not (set_pa > 0.0).all():
        raise ValueError("regulators.set_absolute_pa must be above zero")
    if np.unique(element).size < element.size:
        raise ValueError("regulators.element names an element twice")
    return Regulators(element, set_pa)


def _nozzles(given: Nozzles | None, node_count: int) -> Nozzles:
    if given is None:
        return Nozzles(_NO_NUMBERS, _NO_FLOATS, _NO_FLOATS, _NO_FLOATS)
    shape = np.shape(given.node)
    back_pa = floats("nozzles.back_absolute_pa", given.back_absolute_pa, shape, 0.0)
    _refuse(back_pa <= 0.0, "nozzle", "has no back pressure")
    node = node_numbers("nozzles.node", given.node, shape, node_count)
    return Nozzles(node, *_characteristic("nozzles", given, shape), back_pa)


def _characteristic(name: str, given: Restrictions | Nozzles, shape: tuple[int, ...]) -> tuple[Floats, Floats]:
    conductance = floats(f"{name}.sonic_conductance_m3_s_pa", given.sonic_conductance_m3_s_pa, shape, 0.0)
    ratio = floats(f"{name}.critical_ratio", given.critical_ratio, shape, 0.0)
    _refuse(conductance <= 0.0, name[:-1], "has no conductance")
    _refuse(ratio >= 1.0, name[:-1], "has a critical ratio of 1 or more")
    return conductance, ratio


def _check_pipes(network: NetworkInput) -> None:
    _refuse(network.bore_m <= 0.0, "pipe", "has no bore")
    _refuse(network.start == network.end, "pipe", "ends at the node where it starts")
    lossless = (network.length_m == 0.0) & (network.loss_coefficient == 0.0)
    _refuse(lossless, "pipe", "has neither length nor loss coefficient")


def _check_supplies(network: NetworkInput) -> None:
    if not network.supply_nodes.size:
        raise ValueError("supply_nodes is empty: at least one node needs a known pressure")
    if np.unique(network.supply_nodes).size < network.supply_nodes.size:
        raise ValueError("supply_nodes names a node twice")
    if (network.supply_absolute_pa <= 0.0).any():
        raise ValueError("supply_absolute_pa must be above zero")


def _refuse(faulty: Booleans, kind: str, words: str) -> None:
    if faulty.any():
        raise ValueError(f"{kind} {np.flatnonzero(faulty)[0]} {words}")


def floats(name: str, values: ArrayLike, shape: tuple[int, ...], least: float | None) -> Floats:
    """An array of finite numbers of this shape, none below `least`.

    Raises:
        ValueError: it is not.

    Source:
        none; it computes nothing.
    """
    array = np.asarray(values, float)
    if array.shape != shape:
        raise ValueError(f"{name} has the shape {array.shape} where {shape} is needed")
    if not np.isfinite(array).all():
        raise ValueError(f"{name} holds a value that is not finite")
    if least is not None and (array < least).any():
        raise ValueError(f"{name} holds a value below {least:g}")
    return array


def node_numbers(name: str, values: ArrayLike, shape: tuple[int, ...], count: int, what: str = "a node") -> Integers:
    """An array of whole numbers of this shape, from 0 to below `count`.

    Raises:
        ValueError: it is not.

    Source:
        none; it computes nothing.
    """
    array = np.asarray(values)
    if array.size == 0:
        array = array.astype(np.intp)
    if array.ndim != 1 or array.shape != shape:
        raise ValueError(f"{name} has the shape {array.shape} where {shape} is needed")
    if not np.issubdtype(array.dtype, np.integer):
        raise ValueError(f"{name} must hold whole numbers")
    if array.size and (array.min() < 0 or array.max() >= count):
        raise ValueError(f"{name} names {what} outside 0 to {count - 1}")
    return array.astype(np.intp)


def _marks(name: str, values: ArrayLike, shape: tuple[int, ...]) -> Booleans:
    array = np.asarray(values)
    if array.shape != shape or array.dtype != np.bool_:
        raise ValueError(f"{name} must hold true or false, one a pipe")
    return array


_NO_NUMBERS = np.empty(0, np.intp)
_NO_FLOATS = np.empty(0)
