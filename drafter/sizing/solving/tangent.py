"""The laws of all elements made linear about a state: what Newton's method needs of them.

The tangent of an element reads

    slope (m' - m) = misfit + by_end (d_end' - d_end) - by_start (d_start' - d_start)

with its flow m and the drops of squared pressure d at its ends. Where a pipe's end pressure lies below that at
which it chokes, and where a restriction is choked, `firmness` says how far the law gives way to a flow that
cannot pass: 1 lets every draw have a solution, so that the choked elements can be named; near 0 is the truth.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drafter.sizing.solving.equations import Equations

Floats = NDArray[np.float64]
Booleans = NDArray[np.bool_]
Laws = tuple[Floats, Floats, Floats, Floats]
"""Over the elements: misfit [Pa2], slope by the flow [Pa2 s/kg], weights of a further drop at start and end [1]."""

_HOLDING_SLOPE = 1e-6
_SHUT_SLOPE = 1e-6
_LEAST_INLET = 1e-9


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


def tangent(
    equations: Equations, flow: Floats, drop: Floats, least_flow: Floats, firmness: float, regulators_hold: bool = False
) -> Tangent:
    """Make the laws linear about flows and drops.

    Args:
        least_flow: flow whose slope is taken for smaller ones [kg/s].
        firmness: how far choked elements give way, above 0 to 1.
        regulators_hold: take every regulator as holding its pressure, for want of a better guess.

    Source:
        derivatives of the laws in `pipe_law` and `restriction_law`.
    """
    pipe_count = equations.pipes.squared_per_flow.size
    start_drop, end_drop = drop[equations.start], drop[equations.end]
    if pipe_count == flow.size:
        laws = _pipes(equations, flow, start_drop, end_drop, least_flow, firmness)
    else:
        ahead, rest = slice(0, pipe_count), slice(pipe_count, None)
        pipes, others = (
            law(equations, flow[part], start_drop[part], end_drop[part], least_flow[part], firmness)
            for law, part in ((_pipes, ahead), (_restrictions, rest))
        )
        joined = [np.concatenate(pair) for pair in zip(pipes, others, strict=True)]
        laws = (joined[0], joined[1], joined[2], joined[3])
    if equations.regulated.size:
        return _regulated(equations, laws, flow, drop, regulators_hold)
    return Tangent(laws, _NONE, _NONE)


def _pipes(
    equations: Equations, flow: Floats, start_drop: Floats, end_drop: Floats, least: Floats, firmness: float
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
    choking = np.maximum(kinetic, np.finfo(float).tiny)
    start_held, end_held = start_squared <= choking, end_squared <= choking
    below = np.where(flow >= 0.0, choking - end_squared, start_squared - choking)
    outlet_held = np.where(flow >= 0.0, end_held, start_held)
    stiff = np.where(outlet_held, 1.0 - firmness, 0.0)
    start_squared, end_squared = np.maximum(start_squared, choking), np.maximum(end_squared, choking)
    speeding_up = np.log(start_squared / end_squared)
    misfit = fall - loss - kinetic * speeding_up - stiff * below
    by_flow = 2.0 * law.squared_per_flow * (flow * (speeding_up + start_held - end_held) + stiff * np.abs(flow))
    by_start = np.where(start_held, 1.0, 1.0 - kinetic / start_squared)
    by_end = np.where(end_held, 1.0, 1.0 - kinetic / end_squared)
    by_end = by_end - np.where(flow >= 0.0, stiff, 0.0)
    by_start = by_start - np.where(flow < 0.0, stiff, 0.0)
    return misfit, slope + np.maximum(by_flow, 0.0), by_start, by_end


def _restrictions(
    equations: Equations, flow: Floats, start_drop: Floats, end_drop: Floats, least: Floats, firmness: float
) -> Laws:
    law, top, fall = equations.restrictions, equations.top_pa2, end_drop - start_drop
    loss, slope = law.drop_and_slope(flow, least)
    driving, by_start, by_end = law.driving_pa2(top - start_drop, top - end_drop, fall, _LEAST_INLET * top, firmness)
    return driving - loss, slope, by_start, by_end


def _regulated(equations: Equations, open_laws: Laws, flow: Floats, drop: Floats, all_hold: bool) -> Tangent:
    """Put a regulator's law in the place of its element's where it holds its pressure or is shut.

    Its law is a complementarity: the flow is above zero, or it is zero and the pressure behind is above both
    what the open element would leave there and the set pressure. The small slopes stand in for none at all,
    so that the flow of a regulator is found from its neighbours' like any other.
    """
    misfit, slope, by_start, by_end = open_laws
    which = equations.regulated
    over_set = drop[equations.end[which]] - equations.set_drop_pa2
    own_misfit, own_slope, own_flow = misfit[which], slope[which], flow[which]
    if all_hold:
        holding, shut = np.isfinite(over_set), np.zeros(which.size, bool)
    else:
        holding = over_set < own_misfit
        shut = own_flow * own_slope + np.minimum(over_set, own_misfit) < 0.0
        holding &= ~shut
    misfit[which] = np.where(holding, over_set, np.where(shut, -own_flow * own_slope, own_misfit))
    slope[which] = np.where(holding, _HOLDING_SLOPE * own_slope, own_slope)
    by_start[which] = np.where(holding, 0.0, np.where(shut, _SHUT_SLOPE, by_start[which]))
    by_end[which] = np.where(holding, 1.0, np.where(shut, _SHUT_SLOPE, by_end[which]))
    return Tangent(open_laws, holding, shut)


_NONE = np.empty(0, bool)
