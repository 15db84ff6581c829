"""Newton's method on all laws of a network at once."""

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from drafter.sizing.solving.equations import Equations
from drafter.sizing.solving.linear_step import NodeSystem
from drafter.sizing.solving.tangent import Ease, Tangent, tangent

Floats = NDArray[np.float64]

MAX_ITERATIONS = 100
_DROP_TOLERANCE = 1e-11
_FLOW_TOLERANCE = 1e-9
_BALANCE_TOLERANCE = 1e-10
_ROUNDING = 1e-14
_ROUND_STEPS, _WHOLE_STEPS = 40, 25
_HOPELESS = 1e25
_FIRST_REYNOLDS = 2e4
_FIRST_SHARE = 0.5


@dataclass(frozen=True, slots=True)
class State:
    """Flows of the elements [kg/s] and drops of squared pressure at the nodes [Pa2], and how they were found.

    `made` holds the laws about this state; `residual` is their largest misfit over the highest squared
    pressure [1].
    """

    flow_kg_s: Floats
    drop_pa2: Floats
    made: Tangent
    converged: bool
    iterations: int
    residual: float

    def of_copy(self, equations: Equations, copy: int) -> "State":
        """The part of the state that belongs to one of several equal networks side by side."""
        if equations.copies == 1:
            return self
        nodes = equations.node_count // equations.copies
        regulators = equations.regulated.size // equations.copies
        made, own = self.made, slice(copy * regulators, (copy + 1) * regulators)
        laws = [equations.of_copy(copy, values) for values in made.laws]
        return replace(
            self,
            flow_kg_s=equations.of_copy(copy, self.flow_kg_s),
            drop_pa2=self.drop_pa2[copy * nodes : (copy + 1) * nodes],
            made=Tangent((laws[0], laws[1], laws[2], laws[3]), made.holding[own], made.shut[own]),
        )


def newton(
    equations: Equations,
    outflow_kg_s: Floats,
    system: NodeSystem,
    ease: Ease,
    begun: State | None = None,
    most: int = MAX_ITERATIONS,
) -> State:
    """Solve the equations for these draws.

    Every step makes the flows meet the draws, save for rounding. The laws are met when the misfit of each is
    small and would shift its flow by little. Steps that lead round and round the bend of a law, as that of a
    nozzle where its flow turns, are broken off by a few halved ones.

    Args:
        outflow_kg_s: over the nodes.
        ease: how far choked elements and regulators give way.
        begun: a state to start from; still air at the highest pressure where left out.
        most: steps after which to give up.

    Source:
        Newton's method with the flows eliminated after Todini and Pilati, 1988, from memory, here with a
        kinetic term, restrictions and regulators.
    """
    top, done = equations.top_pa2, begun.iterations if begun else 0
    still = np.concatenate([equations.pipes.still_flow_kg_s, _first_restricted(equations) * 1e-6])
    flow, drop, made = _begin(equations, ease, begun, still)
    for iteration in range(done + 1, done + most + 1):
        try:
            ahead = _stepped(equations, outflow_kg_s, system, made, flow, drop)
        except np.linalg.LinAlgError:
            break
        halved = (iteration - done) % _ROUND_STEPS > _WHOLE_STEPS
        flow, drop = ((flow + ahead[0]) / 2.0, (drop + ahead[1]) / 2.0) if halved else ahead
        made = tangent(equations, flow, drop, still, ease)
        if _met(equations, made, flow, drop, outflow_kg_s):
            return State(flow, drop, made, True, iteration, _residual(made, top))
        if not np.abs(made.misfit).max() <= _HOPELESS * top:
            break
    return State(flow, drop, made, False, iteration, _residual(made, top))


def _begin(equations: Equations, ease: Ease, begun: State | None, still: Floats) -> tuple[Floats, Floats, Tangent]:
    if begun is not None:
        return begun.flow_kg_s, begun.drop_pa2, tangent(equations, begun.flow_kg_s, begun.drop_pa2, still, ease)
    flow = np.zeros(equations.start.size)
    first = np.concatenate([_FIRST_REYNOLDS / equations.pipes.reynolds_per_flow, _first_restricted(equations)])
    return flow, equations.known_drop_pa2, tangent(equations, flow, equations.known_drop_pa2, first, ease)


def _stepped(
    equations: Equations, outflow_kg_s: Floats, system: NodeSystem, made: Tangent, flow: Floats, drop: Floats
) -> tuple[Floats, Floats]:
    """Flows and drops after a step; pressures rise by a part at most."""
    start_weight, end_weight = made.weights
    pulled = flow + made.misfit / made.slope
    system.fill(start_weight, end_weight)
    step = system.step(outflow_kg_s - equations.inflow(pulled))
    flow = pulled + end_weight * step[equations.end] - start_weight * step[equations.start]
    return flow, drop + np.maximum(step, -np.maximum(equations.top_pa2, np.abs(drop)) / 2.0)


def _met(equations: Equations, made: Tangent, flow: Floats, drop: Floats, outflow_kg_s: Floats) -> bool:
    misfit = np.abs(made.misfit)
    scale, most = max(equations.top_pa2, drop.max()), np.abs(flow).max(initial=0.0)
    if misfit.max(initial=0.0) > _DROP_TOLERANCE * scale:
        return False
    shift = (np.maximum(misfit - _ROUNDING * scale, 0.0) / made.slope).max(initial=0.0)
    short = np.abs(outflow_kg_s - equations.inflow(flow))[~equations.known].max(initial=0.0)
    return bool(shift <= _FLOW_TOLERANCE * most and short <= _BALANCE_TOLERANCE * most)


def _residual(made: Tangent, top: float) -> float:
    return float(np.abs(made.misfit).max(initial=0.0)) / top


def _first_restricted(equations: Equations) -> Floats:
    return _FIRST_SHARE * equations.restrictions.choked_per_pressure * math.sqrt(equations.top_pa2)
