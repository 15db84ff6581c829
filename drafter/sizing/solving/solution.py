"""What a solved network gives back."""

from dataclasses import dataclass
from enum import Enum

import numpy as np
from numpy.typing import NDArray

from drafter.sizing.solving.choking import ChokedPipe, choked_elements, inlets, lost_nodes, over_limit
from drafter.sizing.solving.equations import Equations
from drafter.sizing.solving.network_input import NetworkInput
from drafter.sizing.solving.newton import State
from drafter.sizing.solving.pipe_law import PipeLaw
from drafter.sizing.solving.reach import islands

Floats = NDArray[np.float64]


class RegulatorState(Enum):
    """What a regulator does: it holds its pressure, stands wide open for want of inlet pressure, or is shut."""

    HOLDING = "holding"
    OPEN = "wide open"
    SHUT = "shut"


@dataclass(frozen=True, slots=True)
class Solution:
    """The state of a network.

    Attributes:
        absolute_pressure_pa: over the nodes [Pa]; NaN where no supply reaches and behind what cannot carry its flow.
        mass_flow_kg_s: over the pipes, above zero from start to end; 0 where closed or unsupplied [kg/s].
        start_velocity_m_s, end_velocity_m_s: speed inside the pipe at either end [m/s].
        reynolds: over the pipes [1].
        friction_factor: Darcy's, over the pipes [1].
        supplied_kg_s: over the supplies, below zero where air flows back [kg/s].
        restriction_flow_kg_s, nozzle_flow_kg_s: over the restrictions and nozzles [kg/s].
        regulators: what each does.
        converged: whether the equations were solved; true for a choked network too.
        iterations: Newton steps taken.
        residual: largest misfit of a law, as a share of the highest squared pressure [1].
        feasible: whether every draw can be met: all flows pass and all draws hang on a supply.
        choked: the elements at their limit; where the network is not feasible, the first along each path.
        islands: nodes without a supply, those that hang together in one tuple.
        equations, state: what `sensitivity` needs.
    """

    absolute_pressure_pa: Floats
    mass_flow_kg_s: Floats
    start_velocity_m_s: Floats
    end_velocity_m_s: Floats
    reynolds: Floats
    friction_factor: Floats
    supplied_kg_s: Floats
    restriction_flow_kg_s: Floats
    nozzle_flow_kg_s: Floats
    regulators: tuple[RegulatorState, ...]
    converged: bool
    iterations: int
    residual: float
    feasible: bool
    choked: tuple[ChokedPipe, ...]
    islands: tuple[tuple[int, ...], ...]
    equations: Equations
    state: State


def solution_of(
    network: NetworkInput, law: PipeLaw, equations: Equations, outflow_kg_s: Floats, state: State, passes: bool
) -> Solution:
    """Read the result off a state.

    Args:
        law: of all pipes, closed ones too.
        outflow_kg_s: over the nodes of the equations.
        passes: whether all flows can pass, those of choked elements too.

    Source:
        continuity and the ideal gas law for the speeds; the rest as in the laws.
    """
    nodes, inside = network.reached.size, equations.pipe_numbers.size
    pressure, over = _pressures_and_choked(network, equations, state, passes)
    flow = _spread(state.flow_kg_s[:inside], equations.pipe_numbers, network.start.size)
    behind, restricted = state.flow_kg_s[inside:], equations.restriction_numbers.size
    sonic_pa = np.sqrt(law.kinetic_pa2(flow))
    supplied = outflow_kg_s - equations.inflow(state.flow_kg_s)
    return Solution(
        absolute_pressure_pa=pressure,
        mass_flow_kg_s=flow,
        start_velocity_m_s=law.velocity_m_s(flow, np.maximum(pressure[network.start], sonic_pa)),
        end_velocity_m_s=law.velocity_m_s(flow, np.maximum(pressure[network.end], sonic_pa)),
        reynolds=law.reynolds(flow),
        friction_factor=law.friction_factor(flow),
        supplied_kg_s=supplied[network.supply_nodes],
        restriction_flow_kg_s=_spread(
            behind[:restricted], equations.restriction_numbers, np.size(network.restrictions.start)
        ),
        nozzle_flow_kg_s=_spread(behind[restricted:], equations.nozzle_numbers, np.size(network.nozzles.node)),
        regulators=_regulator_states(network, equations, state),
        converged=state.converged,
        iterations=state.iterations,
        residual=state.residual,
        feasible=passes and state.converged and not (outflow_kg_s[:nodes][~network.reached] != 0.0).any(),
        choked=choked_elements(equations, state.flow_kg_s, equations.top_pa2 - state.drop_pa2, over),
        islands=islands(network.links, network.reached),
        equations=equations,
        state=state,
    )


def _pressures_and_choked(
    network: NetworkInput, equations: Equations, state: State, passes: bool
) -> tuple[Floats, NDArray[np.bool_]]:
    """Pressures of the nodes, NaN where unknown, and marks at the elements to be named as choked."""
    squared = equations.top_pa2 - state.drop_pa2
    over = over_limit(equations, state.flow_kg_s, squared)
    known = squared > 0.0
    known[: network.reached.size] &= network.reached
    if not passes:
        lost = lost_nodes(equations, state.flow_kg_s, over)
        over &= ~lost[inlets(equations, state.flow_kg_s)]
        known &= ~lost
    return np.sqrt(np.where(known, squared, np.nan))[: network.reached.size], over


def _spread(values: Floats, numbers: NDArray[np.intp], count: int) -> Floats:
    if numbers.size == count:
        return values
    spread = np.zeros(count)
    spread[numbers] = values
    return spread


def _regulator_states(network: NetworkInput, equations: Equations, state: State) -> tuple[RegulatorState, ...]:
    """What each regulator does; one that no air gets to, or whose pipe is closed, counts as shut."""
    states = dict.fromkeys(np.asarray(network.regulators.element).tolist(), RegulatorState.SHUT)
    for element, holding, shut in zip(equations.regulated, state.made.holding, state.made.shut, strict=True):
        kind = RegulatorState.HOLDING if holding else RegulatorState.SHUT if shut else RegulatorState.OPEN
        states[equations.number(element)] = kind
    return tuple(states.values())
