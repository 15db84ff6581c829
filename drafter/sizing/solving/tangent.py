"""The laws of all elements made linear about a state: what Newton's method needs of them.

The tangent of an element reads

    slope (m' - m) = misfit + by_end (d_end' - d_end) - by_start (d_start' - d_start)

with its flow m and the drops of squared pressure d at its ends.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drafter.sizing.solving.equations import Equations
from drafter.sizing.solving.pipe_law import choked_ratio

Floats = NDArray[np.float64]
Booleans = NDArray[np.bool_]
Laws = tuple[Floats, Floats, Floats, Floats]
"""Over the elements: misfit [Pa2], slope by the flow [Pa2 s/kg], weights of a further drop at start and end [1]."""

_LEAST_SQUARED = 1e-12
_LEAST_RESISTANCE = 1e-9


@dataclass(frozen=True, slots=True)
class Ease:
    """How far laws with a corner give way, each above 0, where next to nothing is the truth, to 1.

    Attributes:
        choked: choked pipes and restrictions to a flow they cannot pass; 1 lets every draw have a solution.
        regulators: to their flow, and to air that leaks back through them.
    """

    choked: float
    regulators: float


@dataclass(frozen=True, slots=True)
class Tangent:
    """Laws over the elements, and over the regulators whether each holds its pressure or is shut."""

    laws: Laws
    holding: Booleans
    shut: Booleans

    @property
    def misfit(self) -> Floats:
        """What is missing in each law [Pa2]."""
        return self.laws[0]

    @property
    def slope(self) -> Floats:
        """Of each law by the flow [Pa2 s/kg]."""
        return self.laws[1]

    @property
    def weights(self) -> tuple[Floats, Floats]:
        """How the flow answers to a further drop at the start, taken negative, and at the end [kg/(s Pa2)]."""
        _, slope, by_start, by_end = self.laws
        return by_start / slope, by_end / slope


def tangent(equations: Equations, flow: Floats, drop: Floats, least_flow: Floats, ease: Ease) -> Tangent:
    """Make the laws linear about flows and drops.

    Args:
        least_flow: flow whose slope is taken for smaller ones [kg/s].
        ease: how far choked elements and regulators give way.

    Source:
        derivatives of the laws in `pipe_law` and `restriction_law`.
    """
    pipe_count = equations.pipes.squared_per_flow.size
    start_drop, end_drop = drop[equations.start], drop[equations.end]
    if pipe_count == flow.size:
        laws = _pipes(equations, flow, start_drop, end_drop, least_flow, ease.choked)
    else:
        ahead, rest = slice(0, pipe_count), slice(pipe_count, None)
        pipes, others = (
            law(equations, flow[part], start_drop[part], end_drop[part], least_flow[part], ease.choked)
            for law, part in ((_pipes, ahead), (_restrictions, rest))
        )
        joined = [np.concatenate(pair) for pair in zip(pipes, others, strict=True)]
        laws = (joined[0], joined[1], joined[2], joined[3])
    if equations.regulated.size:
        return _regulated(equations, laws, flow, drop, ease.regulators)
    return Tangent(laws, _NONE, _NONE)


def _pipes(
    equations: Equations, flow: Floats, start_drop: Floats, end_drop: Floats, least: Floats, yielding: float
) -> Laws:
    law, top, fall = equations.pipes, equations.top_pa2, end_drop - start_drop
    loss, slope = law.drop_and_slope(flow, least)
    kinetic = law.kinetic_pa2(flow)
    start_squared, end_squared = top - start_drop, top - end_drop
    if (np.minimum(start_squared, end_squared) > kinetic).all():
        speeding_up = np.log(start_squared / end_squared)
        misfit = fall - loss - kinetic * speeding_up
        slope = slope + np.maximum(2.0 * law.squared_per_flow * flow * speeding_up, 0.0)
        return misfit, slope, 1.0 - kinetic / start_squared, 1.0 - kinetic / end_squared
    forward, choking = flow >= 0.0, np.maximum(kinetic, _LEAST_SQUARED * top)
    start_held, end_held = start_squared <= choking, end_squared <= choking
    start_speed, end_speed = np.maximum(start_squared, choking), np.maximum(end_squared, choking)
    speeding_up = np.log(start_speed / end_speed)
    misfit = fall - loss - kinetic * speeding_up
    by_flow = speeding_up + start_held - end_held
    by_start = np.where(start_held, 1.0, 1.0 - kinetic / start_speed)
    by_end = np.where(end_held, 1.0, 1.0 - kinetic / end_speed)
    which = np.flatnonzero(np.where(forward, end_held, start_held))
    if which.size:
        ahead, ends = forward[which], (start_squared[which], end_squared[which])
        inlet, outlet = np.where(ahead, ends[0], ends[1]), np.where(ahead, ends[1], ends[0])
        lost, speed = np.abs(loss[which]), kinetic[which]
        missing, speeding, by_inlet = _choked(inlet, outlet, lost, speed, _LEAST_SQUARED * top, yielding)
        misfit[which], by_flow[which] = np.where(ahead, missing, -missing), np.where(ahead, speeding, -speeding)
        by_start[which], by_end[which] = np.where(ahead, by_inlet, yielding), np.where(ahead, yielding, by_inlet)
    return misfit, slope + np.maximum(2.0 * law.squared_per_flow * flow * by_flow, 0.0), by_start, by_end


def _choked(
    inlet: Floats, outlet: Floats, lost: Floats, kinetic: Floats, least_pa2: float, yielding: float
) -> tuple[Floats, Floats, Floats]:
    """Misfit along the flow, logarithm of the kinetic term and weight of the inlet, all pressures squared.

    The law is that of an open pipe whose outlet stays at the lower of two pressures: the one at which the
    flow chokes and the one at which the most that the pipe can carry does. What the outlet lies below it
    counts by `yielding`, its weight. One flow alone fits two pressures then. With the outlet at the first
    pressure whatever the inlet drives, several would in a pipe of little resistance, and Newton's method creep.
    """
    ratio = choked_ratio(np.maximum(lost / np.maximum(kinetic, least_pa2), _LEAST_RESISTANCE))
    source = np.maximum(inlet, least_pa2)
    limit = np.minimum(np.maximum(kinetic, least_pa2), source / ratio)
    held = np.maximum(outlet, limit)
    speeding_up = np.log(np.maximum(source, held) / held)
    misfit = source - held - lost - kinetic * speeding_up + yielding * (held - outlet + inlet - source)
    return misfit, speeding_up, np.where(inlet < source, yielding, 1.0 - (1.0 - yielding) * limit / source)


def _restrictions(
    equations: Equations, flow: Floats, start_drop: Floats, end_drop: Floats, least: Floats, yielding: float
) -> Laws:
    law, top, fall = equations.restrictions, equations.top_pa2, end_drop - start_drop
    loss, slope = law.drop_and_slope(flow, least)
    driving, by_start, by_end = law.driving_pa2(top - start_drop, top - end_drop, fall, _LEAST_SQUARED * top, yielding)
    return driving - loss, slope, by_start, by_end


def _regulated(equations: Equations, open_laws: Laws, flow: Floats, drop: Floats, softness: float) -> Tangent:
    """Put a regulator's law in the place of its element's.

    Forward the pressure behind is the lower of what the open element leaves there and what the regulator
    holds, this falling a little with the flow; backward a steep law stands for none at all.
    """
    misfit, slope, by_start, by_end = open_laws
    which = equations.regulated
    own_flow, droop = flow[which], equations.droop_pa2_s_kg
    ends = drop[equations.end[which]]
    over_set = ends - equations.set_drop_pa2
    fall = ends - drop[equations.start[which]]
    shut = own_flow < 0.0
    open_misfit = np.where(shut, fall - own_flow * droop / softness, misfit[which])
    held_misfit = over_set - own_flow * np.where(shut, droop / softness, droop * softness)
    holding = held_misfit < open_misfit
    misfit[which] = np.minimum(held_misfit, open_misfit)
    held_slope, open_slope = droop * softness, slope[which]
    slope[which] = np.where(shut, droop / softness, np.where(holding, held_slope, open_slope))
    by_start[which] = np.where(holding, 0.0, np.where(shut, 1.0, by_start[which]))
    by_end[which] = np.where(holding | shut, 1.0, by_end[which])
    return Tangent(open_laws, holding & ~shut, shut)


_NONE = np.empty(0, bool)
