"""Elements that pass no more: which they are, what they can carry, and what lies behind them."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drafter.sizing.solving.equations import Equations
from drafter.sizing.solving.pipe_law import choked_flow_kg_s

Floats = NDArray[np.float64]
Booleans = NDArray[np.bool_]
Integers = NDArray[np.intp]

_TOLERANCE = 1e-9
_IDLE_SHARE = 1e-9


@dataclass(frozen=True, slots=True)
class ChokedPipe:
    """An element at its limit: a pipe's number, or a restriction's counted on after the pipes.

    Its flow is above the limit where it is asked for what it cannot carry, and at it where the network works
    all the same [kg/s].
    """

    pipe: int
    mass_flow_kg_s: float
    limit_kg_s: float


def over_limit(equations: Equations, flow_kg_s: Floats, squared_pa2: Floats) -> Booleans:
    """Mark the elements, nozzles apart, whose flow reaches what their inlet pressure can drive.

    Source:
        isothermal choking as in `pipe_law`; ISO 6358-1 for restrictions.
    """
    pipe_count = equations.pipe_numbers.size * equations.copies
    inlet, outlet = inlets(equations, flow_kg_s), _outlets(equations, flow_kg_s)
    kinetic = equations.pipes.kinetic_pa2(flow_kg_s[:pipe_count])
    pipes = squared_pa2[outlet[:pipe_count]] < kinetic * (1.0 - _TOLERANCE)
    law = equations.restrictions
    if not law.critical_ratio.size:
        return pipes
    driving = np.maximum(squared_pa2[inlet[pipe_count:]], 0.0) * law.critical_ratio**2
    rest = (squared_pa2[outlet[pipe_count:]] < driving - _TOLERANCE * equations.top_pa2) & ~law.opens_out
    return np.concatenate([pipes, rest & (flow_kg_s[pipe_count:] != 0.0)])


def choked_elements(
    equations: Equations, flow_kg_s: Floats, squared_pa2: Floats, which: Booleans
) -> tuple[ChokedPipe, ...]:
    """Name the elements marked, with their flow and their limit.

    Source:
        as `over_limit`.
    """
    chosen = np.flatnonzero(which)
    if not chosen.size:
        return ()
    pipe_count = equations.pipe_numbers.size
    inlet_pa = np.sqrt(np.maximum(squared_pa2[inlets(equations, flow_kg_s)], 1.0))
    limit = np.concatenate(
        [
            choked_flow_kg_s(equations.pipes, inlet_pa[:pipe_count]),
            equations.restrictions.choked_per_pressure * inlet_pa[pipe_count:],
        ]
    )
    return tuple(ChokedPipe(equations.number(i), float(flow_kg_s[i]), float(limit[i])) for i in chosen.tolist())


def lost_nodes(equations: Equations, flow_kg_s: Floats, over: Booleans) -> Booleans:
    """Mark the nodes behind elements that cannot carry their flow; nothing can be said of their pressure.

    Source:
        none; reachability along the flow, both ways through idle elements.
    """
    inlet, outlet = inlets(equations, flow_kg_s), _outlets(equations, flow_kg_s)
    idle = np.abs(flow_kg_s) <= _IDLE_SHARE * np.abs(flow_kg_s).max(initial=0.0)
    ahead: dict[int, list[int]] = {}
    for before, behind, both in zip(inlet.tolist(), outlet.tolist(), idle.tolist(), strict=True):
        ahead.setdefault(before, []).append(behind)
        if both:
            ahead.setdefault(behind, []).append(before)
    lost = np.zeros(equations.node_count, bool)
    waiting = outlet[over].tolist()
    while waiting:
        node = waiting.pop()
        if not lost[node]:
            lost[node] = True
            waiting += ahead.get(node, ())
    return lost


def inlets(equations: Equations, flow_kg_s: Floats) -> Integers:
    """The node each element takes its air from.

    Source:
        none; it computes nothing.
    """
    return np.where(flow_kg_s >= 0.0, equations.start, equations.end)


def _outlets(equations: Equations, flow_kg_s: Floats) -> Integers:
    return np.where(flow_kg_s >= 0.0, equations.end, equations.start)
