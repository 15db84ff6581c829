"""Laws with a corner, made soft first and then true: choked elements and regulators."""

import numpy as np
from numpy.typing import NDArray

from drafter.sizing.solving.choking import over_limit
from drafter.sizing.solving.equations import Equations
from drafter.sizing.solving.linear_step import NodeSystem
from drafter.sizing.solving.newton import State, newton
from drafter.sizing.solving.tangent import Ease

Floats = NDArray[np.float64]

_CHOKED_STAGES = (1e-2, 1e-4, 1e-6, 1e-8)
_TRUE_REGULATORS = 1e-9
_PATIENCE = 25
_LONGEST_STRIDE, _SHORTEST_STRIDE = 1e-3, 0.8


def settled(equations: Equations, outflow_kg_s: Floats) -> State:
    """A state in which regulators do what they should, and choked elements give way to any draw.

    Regulators are tried as they are; should Newton's method not settle, they are made soft and then harder
    by strides that shorten where it fails again.

    Source:
        continuation in a parameter, a common practice of numerics.
    """
    system, goal = NodeSystem(equations), Ease(1.0, _TRUE_REGULATORS)
    if not equations.regulated.size:
        return newton(equations, outflow_kg_s, system, goal)
    state = newton(equations, outflow_kg_s, system, goal, most=_PATIENCE)
    if state.converged:
        return state
    softness, stride = 1.0, _LONGEST_STRIDE
    state = newton(equations, outflow_kg_s, system, Ease(1.0, softness))
    while state.converged and softness > _TRUE_REGULATORS:
        harder = max(softness * stride, _TRUE_REGULATORS)
        tried = newton(equations, outflow_kg_s, system, Ease(1.0, harder), state, _PATIENCE)
        if tried.converged:
            state, softness = tried, harder
        elif stride > _SHORTEST_STRIDE:
            return tried
        else:
            stride **= 0.5
    return state


def passing(equations: Equations, outflow_kg_s: Floats, state: State) -> tuple[State, bool]:
    """A state in which no choked element gives way, and true; the one given, and false, where there is none.

    The less they give way the lower the pressures behind them, so that one below zero at any stage settles it.

    Source:
        as `settled`.
    """
    if not over_limit(equations, state.flow_kg_s, equations.top_pa2 - state.drop_pa2).any():
        return state, True
    system, firm = NodeSystem(equations), state
    for yielding in _CHOKED_STAGES:
        if _possible(equations, firm):
            firm = newton(equations, outflow_kg_s, system, Ease(yielding, _TRUE_REGULATORS), firm)
    return (firm, True) if _possible(equations, firm) else (state, False)


def _possible(equations: Equations, state: State) -> bool:
    return state.converged and bool((state.drop_pa2 < equations.top_pa2).all())
