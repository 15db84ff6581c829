"""Pressures and flows of a compressed-air network, tree or ring, with known draws and one or more supplies.

Unknown are the flow of every pipe and, at every node without a known pressure, the drop of squared pressure
P0^2 - p^2 below the highest supply. Newton's method works on all of them at once: the flows are eliminated, one
linear system over the nodes remains. A law that depends on pressure at a node (a tool, a regulator) would add
its derivative to the diagonal of that system; only fixed draws are here today.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from drafter.sizing.solving.network_input import NetworkInput, check_network
from drafter.sizing.solving.pipe_law import PipeLaw, choked_flow_kg_s, pipe_law
from drafter.standards import air

Floats = NDArray[np.float64]

MAX_ITERATIONS = 100
_DROP_TOLERANCE = 1e-11
_FLOW_TOLERANCE = 1e-9
_CHOKE_TOLERANCE = 1e-9
_FIRST_REYNOLDS = 2e4


@dataclass(frozen=True, slots=True)
class ChokedPipe:
    """A pipe that cannot carry its flow: its index, the flow asked of it and the most it can carry [kg/s]."""

    pipe: int
    mass_flow_kg_s: float
    limit_kg_s: float


@dataclass(frozen=True, slots=True)
class Solution:
    """The state of a network.

    Attributes:
        absolute_pressure_pa: over the nodes [Pa]; NaN behind a choked pipe and where no supply reaches.
        mass_flow_kg_s: over the pipes, above zero from start to end [kg/s].
        start_velocity_m_s, end_velocity_m_s: speed at either end, over the pipes [m/s].
        reynolds: over the pipes [1].
        friction_factor: Darcy's, over the pipes [1].
        supplied_kg_s: over the supplies, below zero where air flows back [kg/s].
        converged: whether the equations were solved; true for a choked network too.
        iterations: Newton steps taken.
        choked: the first pipe along each path that cannot carry its flow; empty where the network works.
    """

    absolute_pressure_pa: Floats
    mass_flow_kg_s: Floats
    start_velocity_m_s: Floats
    end_velocity_m_s: Floats
    reynolds: Floats
    friction_factor: Floats
    supplied_kg_s: Floats
    converged: bool
    iterations: int
    choked: tuple[ChokedPipe, ...]


def solve(
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
    temperature_k: float,
    *,
    viscosity_pa_s: float | None = None,
    gas_constant_j_kg_k: float = air.GAS_CONSTANT_J_KG_K,
) -> Solution:
    """Solve a network for its steady isothermal state.

    Levels are left out: 3 m of height is 0.003 bar at 8 bar. The work grows with the cube of the nodes; a
    thousand take a fraction of a second.

    Args:
        start, end: node numbers from 0, one a pipe.
        length_m, bore_m, roughness_m: one a pipe [m].
        loss_coefficient: sum of the fittings' coefficients on the bore, one a pipe [1].
        node_count: nodes are 0 to node_count - 1.
        outflow_kg_s: drawn from each node, below zero where air is put in [kg/s].
        supply_nodes: numbers of the nodes whose pressure is known.
        supply_absolute_pa: their pressures [Pa].
        temperature_k: of all the air [K].
        viscosity_pa_s: of the gas [Pa s]; air's at the temperature where left out.
        gas_constant_j_kg_k: of the gas [J/(kg K)]; dry air's where left out.

    Returns:
        The state; a network that cannot work is returned too, with `choked` saying where.

    Raises:
        ValueError: malformed arrays, see `check_network`; a property of the gas not above zero.

    Source:
        isothermal pipe flow with the kinetic term (Coulson and Richardson vol. 1; Crane TP-410); Newton's
        method with the flows eliminated after Todini and Pilati, 1988, from memory, here with a kinetic term.
    """
    network = check_network(
        start, end, length_m, bore_m, roughness_m, loss_coefficient,
        node_count, outflow_kg_s, supply_nodes, supply_absolute_pa,
    )  # fmt: skip
    if not (temperature_k > 0.0 and gas_constant_j_kg_k > 0.0):
        raise ValueError("temperature_k and gas_constant_j_kg_k must be above zero")
    viscosity = air.viscosity_pa_s(temperature_k) if viscosity_pa_s is None else viscosity_pa_s
    if not viscosity > 0.0:
        raise ValueError("viscosity_pa_s must be above zero")
    law = pipe_law(
        network.length_m, network.bore_m, network.roughness_m, network.loss_coefficient,
        temperature_k, viscosity, gas_constant_j_kg_k,
    )  # fmt: skip
    flow, squared, converged, iterations = _newton(network, law)
    return _solution(network, law, flow, squared, converged, iterations)


def _newton(network: NetworkInput, law: PipeLaw) -> tuple[Floats, Floats, bool, int]:
    """Flows [kg/s] and squared pressures [Pa2], these not above zero where the network cannot work."""
    top = float(network.supply_absolute_pa.max()) ** 2
    drop = np.zeros(network.outflow_kg_s.size)
    drop[network.supply_nodes] = top - network.supply_absolute_pa**2
    free = network.reached.copy()
    free[network.supply_nodes] = False
    flow = np.zeros(network.start.size)
    least_flow = _FIRST_REYNOLDS / law.reynolds_per_flow
    for iteration in range(1, MAX_ITERATIONS + 1):
        misfit, slope, by_start, by_end = _linearised(network, law, flow, top, drop, least_flow)
        step = _node_step(network, free, flow + misfit / slope, by_start / slope, by_end / slope)
        flow_step = (misfit + by_end * step[network.end] - by_start * step[network.start]) / slope
        flow = flow + flow_step
        drop = drop + np.maximum(step, -np.maximum(top, drop) / 2.0)
        least_flow = law.still_flow_kg_s
        drops_settled = np.abs(step).max() <= _DROP_TOLERANCE * max(top, drop.max())
        flows_settled = np.abs(flow_step).max(initial=0.0) <= _FLOW_TOLERANCE * np.abs(flow).max(initial=0.0)
        if drops_settled and flows_settled:
            return flow, top - drop, True, iteration
    return flow, top - drop, False, MAX_ITERATIONS


def _linearised(
    network: NetworkInput, law: PipeLaw, flow: Floats, top: float, drop: Floats, least_flow: Floats
) -> tuple[Floats, Floats, Floats, Floats]:
    """Misfit of each pipe's law, its slope by flow, and the weights of a further drop at its start and end.

    Below the pressure at which a pipe chokes its kinetic term is held, so that every draw has a solution and
    the choked pipes can be named afterwards.
    """
    kinetic = law.kinetic_pa2(flow)
    start_squared, end_squared = top - drop[network.start], top - drop[network.end]
    choking = np.maximum(kinetic, np.finfo(float).tiny)
    start_held, end_held = start_squared <= choking, end_squared <= choking
    start_squared, end_squared = np.maximum(start_squared, choking), np.maximum(end_squared, choking)
    speeding_up = np.log(start_squared / end_squared)
    misfit = drop[network.end] - drop[network.start] - law.drop_pa2(flow) - kinetic * speeding_up
    by_flow = 2.0 * law.squared_per_flow * flow * (speeding_up + start_held - end_held)
    slope = law.slope_pa2_s_kg(np.maximum(np.abs(flow), least_flow)) + np.maximum(by_flow, 0.0)
    by_start = np.where(start_held, 1.0, 1.0 - kinetic / start_squared)
    by_end = np.where(end_held, 1.0, 1.0 - kinetic / end_squared)
    return misfit, slope, by_start, by_end


def _node_step(
    network: NetworkInput, free: NDArray[np.bool_], flow: Floats, by_start: Floats, by_end: Floats
) -> Floats:
    """Further drop of squared pressure at every node that makes the flows meet the draws [Pa2]."""
    count = free.size
    start, end = network.start, network.end
    rows = np.concatenate([end, end, start, start])
    columns = np.concatenate([end, start, end, start])
    values = np.concatenate([by_end, -by_start, -by_end, by_start])
    matrix = np.bincount(rows * count + columns, values, count * count).reshape(count, count)
    short = network.outflow_kg_s - _inflow(network, flow)
    step = np.zeros(count)
    if free.any():
        step[free] = np.linalg.solve(matrix[np.ix_(free, free)], short[free])
    return step


def _inflow(network: NetworkInput, flow: Floats) -> Floats:
    inflow = np.zeros(network.outflow_kg_s.size)
    np.add.at(inflow, network.end, flow)
    np.subtract.at(inflow, network.start, flow)
    return inflow


def _solution(
    network: NetworkInput, law: PipeLaw, flow: Floats, squared: Floats, converged: bool, iterations: int
) -> Solution:
    choked, lost = _choked(network, law, flow, squared)
    known = network.reached & ~lost & (squared > 0.0)
    pressure = np.sqrt(np.where(known, squared, np.nan))
    return Solution(
        absolute_pressure_pa=pressure,
        mass_flow_kg_s=flow,
        start_velocity_m_s=law.velocity_m_s(flow, pressure[network.start]),
        end_velocity_m_s=law.velocity_m_s(flow, pressure[network.end]),
        reynolds=law.reynolds(flow),
        friction_factor=law.friction_factor(flow),
        supplied_kg_s=(network.outflow_kg_s - _inflow(network, flow))[network.supply_nodes],
        converged=converged,
        iterations=iterations,
        choked=choked,
    )


def _choked(
    network: NetworkInput, law: PipeLaw, flow: Floats, squared: Floats
) -> tuple[tuple[ChokedPipe, ...], NDArray[np.bool_]]:
    """The first choked pipe along each path, and the nodes behind them, whose pressure is unknown."""
    forward = flow >= 0.0
    upstream = np.where(forward, network.start, network.end)
    downstream = np.where(forward, network.end, network.start)
    over = squared[downstream] < law.kinetic_pa2(flow) * (1.0 - _CHOKE_TOLERANCE)
    lost = np.zeros(squared.size, bool)
    lost[downstream[over]] = True
    idle = np.abs(flow) <= _FLOW_TOLERANCE * np.abs(flow).max(initial=0.0)
    while True:
        ahead = lost[upstream] & ~lost[downstream]
        back = idle & lost[downstream] & ~lost[upstream]
        if not (ahead | back).any():
            break
        lost[downstream[ahead]] = True
        lost[upstream[back]] = True
    first = np.flatnonzero(over & ~lost[upstream])
    limit = choked_flow_kg_s(law, np.sqrt(np.maximum(squared[upstream], 1.0))) if first.size else flow
    return tuple(ChokedPipe(int(i), float(flow[i]), float(limit[i])) for i in first), lost
