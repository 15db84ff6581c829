"""Pressures and flows of any compressed-air network: trees, rings, several supplies, valves, regulators, nozzles."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from drafter.sizing.solving.devices import Nozzles, Regulators, Restrictions
from drafter.sizing.solving.easing import passing, settled
from drafter.sizing.solving.equations import Equations, equations_of
from drafter.sizing.solving.linear_step import NodeSystem
from drafter.sizing.solving.network_input import NetworkInput, check_network
from drafter.sizing.solving.pipe_law import PipeLaw, pipe_law
from drafter.sizing.solving.solution import Solution, solution_of
from drafter.standards import air

Floats = NDArray[np.float64]


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
    closed: ArrayLike | None = None,
    restrictions: Restrictions | None = None,
    regulators: Regulators | None = None,
    nozzles: Nozzles | None = None,
    viscosity_pa_s: float | None = None,
    gas_constant_j_kg_k: float = air.GAS_CONSTANT_J_KG_K,
) -> Solution:
    """Solve a network for its steady isothermal state.

    Any graph will do: trees, rings, parallel and cross-connected pipes, several supplies, parts without one.
    Levels are left out: 3 m of height is 0.003 bar at 8 bar. The work grows nearly with the size.

    Args:
        start, end: node numbers from 0, one a pipe.
        length_m, bore_m, roughness_m: one a pipe [m].
        loss_coefficient: sum of the fittings' coefficients on the bore, one a pipe [1].
        node_count: nodes are 0 to node_count - 1.
        outflow_kg_s: drawn from each node, below zero where air is put in [kg/s].
        supply_nodes: numbers of the nodes whose pressure is known.
        supply_absolute_pa: their pressures [Pa].
        temperature_k: of all the air [K].
        closed: true for each pipe a valve closes; all are open where left out.
        restrictions, regulators, nozzles: what else there is.
        viscosity_pa_s: of the gas [Pa s]; air's at the temperature where left out.
        gas_constant_j_kg_k: of the gas [J/(kg K)]; dry air's where left out.

    Returns:
        The state. A network that cannot work is returned too: `feasible` is false then, `choked` names the
        elements that cannot carry their flow and `islands` the nodes without a supply.

    Raises:
        ValueError: malformed arrays, see `check_network`; a property of the gas not above zero.

    Source:
        isothermal pipe flow with the kinetic term (Coulson and Richardson vol. 1; Crane TP-410), friction as
        in `drafter.standards.friction`; restrictions and nozzles after ISO 6358-1; Newton's method as in
        `drafter.sizing.solving.newton`.
    """
    return solve_cases(
        start, end, length_m, bore_m, roughness_m, loss_coefficient, node_count,
        np.asarray(outflow_kg_s, float)[None], supply_nodes, supply_absolute_pa, temperature_k,
        closed=closed, restrictions=restrictions, regulators=regulators, nozzles=nozzles,
        viscosity_pa_s=viscosity_pa_s, gas_constant_j_kg_k=gas_constant_j_kg_k,
    )[0]  # fmt: skip


def solve_cases(
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
    temperature_k: float,
    *,
    closed: ArrayLike | None = None,
    restrictions: Restrictions | None = None,
    regulators: Regulators | None = None,
    nozzles: Nozzles | None = None,
    viscosity_pa_s: float | None = None,
    gas_constant_j_kg_k: float = air.GAS_CONSTANT_J_KG_K,
) -> tuple[Solution, ...]:
    """Solve one network for many sets of draws at once, several times faster than one by one where it is small.

    Args:
        outflows_kg_s: one row a case, over the nodes [kg/s]; all else as for `solve`.

    Returns:
        A state for each row.

    Raises:
        ValueError: as `solve`.

    Source:
        as `solve`, the cases set side by side as one network that does not hang together.
    """
    network = check_network(
        start, end, length_m, bore_m, roughness_m, loss_coefficient, node_count, outflows_kg_s, supply_nodes,
        supply_absolute_pa, closed, restrictions, regulators, nozzles,
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
    return _solved(network, law, equations_of(network, law, temperature_k, gas_constant_j_kg_k))


def sensitivity(solution: Solution, nodes: ArrayLike) -> Floats:
    """How the squared pressure of chosen nodes answers to a little more draw at each node [Pa2 s/kg].

    One factorisation serves all nodes chosen. Half of it over a node's pressure is how that pressure answers.

    Args:
        nodes: numbers of the nodes whose squared pressure is asked for.

    Returns:
        One row a node asked for, one column a node of the network; as a rule below zero. NaN in the row of a
        node without a supply, 0 in the column of a node whose draw touches nothing: a supply, an island.
        Near 0 too behind a regulator that holds. In an infeasible network it is that of `Solution.state`.

    Source:
        implicit function theorem on the equations solved; the transposed system gives whole rows.
    """
    equations, state = solution.equations, solution.state
    chosen = np.asarray(nodes, np.intp)
    count = solution.absolute_pressure_pa.size
    system = NodeSystem(equations)
    system.fill(*state.made.weights)
    rows = -system.drop_by_draw(chosen)[:, :count]
    for island in solution.islands:
        rows[np.isin(chosen, island)] = np.nan
    return rows


def _solved(network: NetworkInput, law: PipeLaw, equations: Equations) -> tuple[Solution, ...]:
    cases = network.outflows_kg_s.shape[0]
    outflows = np.zeros((cases, equations.node_count))
    outflows[:, : network.reached.size] = network.outflows_kg_s
    if not cases:
        return ()
    side_by_side = equations.times(cases)
    together = settled(side_by_side, outflows.ravel())
    found = []
    for case, outflow in enumerate(outflows):
        state, passes = passing(equations, outflow, together.of_copy(side_by_side, case))
        found.append(solution_of(network, law, equations, outflow, state, passes))
    return tuple(found)
