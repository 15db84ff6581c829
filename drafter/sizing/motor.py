"""What the motor does in the long run: starts per hour, share of the time it runs, its longest run."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass

from drafter.sizing.tank import Draw, Stretch, TankSet, tank_course

HOUR_S = 3600.0
MOST_PASSES = 60
MOST_STRETCHES = 60_000
_SAME_PA = 1.0


@dataclass(frozen=True, slots=True)
class MotorDuty:
    """How hard the motor works.

    Attributes:
        demand_m3_s: free air wanted on average, leakage included.
        starts_per_hour: on average.
        busiest_hour_starts: most starts in any hour.
        duty: share of the time the motor runs.
        longest_run_s: without a rest; infinite where it never stops.
    """

    demand_m3_s: float
    starts_per_hour: float
    busiest_hour_starts: float
    duty: float
    longest_run_s: float


def steady_duty(tank: TankSet, demand_m3_s: float) -> MotorDuty:
    """Return what the motor does while one flow is drawn without a change.

    Source:
        mass balance of the filling and the emptying between cut-in and cut-out.
    """
    held_m3 = tank.held_m3(tank.cut_out_pa - tank.cut_in_pa)
    spare_m3_s = tank.delivered_m3_s - demand_m3_s
    if demand_m3_s <= 0.0:
        return MotorDuty(demand_m3_s, 0.0, 0.0, 0.0, 0.0)
    if spare_m3_s <= 0.0:
        return MotorDuty(demand_m3_s, 0.0, 0.0, 1.0, math.inf)
    run_s = held_m3 / spare_m3_s
    starts = HOUR_S / (held_m3 / demand_m3_s + run_s)
    return MotorDuty(demand_m3_s, starts, starts, demand_m3_s / tank.delivered_m3_s, run_s)


@dataclass(frozen=True, slots=True)
class Passes:
    """A pattern of draws followed again and again, from a full tank.

    Attributes:
        courses: one a pass.
        first: number of the pass that the long run begins with, counted from 0.
        closed: whether the state comes again there, so that the passes from it on repeat for ever.
    """

    courses: tuple[tuple[Stretch, ...], ...]
    first: int
    closed: bool


def repeated(tank: TankSet, draws: Sequence[Draw], length_s: float, steady_m3_s: float) -> Passes:
    """Follow a pattern of draws that is repeated without end, until it begins in a state it began in before.

    Where none comes again within some passes, those after the first stand for the long run.

    Source:
        mass balance, `drafter.sizing.tank.tank_course`.
    """
    passes: list[tuple[Stretch, ...]] = []
    begun: list[tuple[float, bool]] = []
    state = tank.cut_out_pa, False
    while len(passes) < 2 or (len(passes) < MOST_PASSES and sum(map(len, passes)) < MOST_STRETCHES):
        again = _begun_before(begun, state)
        if again is not None:
            return Passes(tuple(passes), again, True)
        begun.append(state)
        passes.append(tank_course(tank, draws, length_s, steady_m3_s, *state))
        last = passes[-1][-1]
        state = last.end_pa, last.motor_runs and last.end_pa < tank.cut_out_pa
    return Passes(tuple(passes), 1, False)


def repeated_duty(passes: Passes, draws: Sequence[Draw], length_s: float, steady_m3_s: float) -> MotorDuty:
    """Return what the motor does in the long run of a pattern of draws.

    Source:
        counted from the passes.
    """
    loop = passes.courses[passes.first :]
    before = (passes.courses[passes.first - 1] if passes.first else loop[-1])[-1]
    wanted_m3 = sum(draw.free_air_m3_s * (min(draw.end_s, length_s) - draw.start_s) for draw in draws)
    return _duty_of(loop, before.motor_runs, passes.closed, length_s, wanted_m3 / length_s + steady_m3_s)


def _begun_before(begun: Sequence[tuple[float, bool]], state: tuple[float, bool]) -> int | None:
    alike = (n for n, (pa, runs) in enumerate(begun) if runs == state[1] and abs(pa - state[0]) < _SAME_PA)
    return next(alike, None)


def _duty_of(
    loop: Sequence[Sequence[Stretch]], ran_before: bool, closed: bool, pass_s: float, demand_m3_s: float
) -> MotorDuty:
    """Count starts and running time of passes that follow each other, in a ring where they are ``closed``."""
    spans = [
        (number * pass_s + stretch.start_s, number * pass_s + stretch.end_s, stretch.motor_runs)
        for number, course in enumerate(loop)
        for stretch in course
    ]
    length_s = len(loop) * pass_s
    ran = [ran_before, *(runs for _, _, runs in spans)]
    starts = [start for (start, _, runs), before in zip(spans, ran, strict=False) if runs and not before]
    running_s = sum(end - start for start, end, runs in spans if runs)
    return MotorDuty(
        demand_m3_s,
        len(starts) * HOUR_S / length_s,
        _most_in_an_hour(starts, length_s),
        running_s / length_s,
        _longest_run_s(spans * 2 if closed else spans, bool(starts)),
    )


def _most_in_an_hour(starts: Sequence[float], length_s: float) -> int:
    rounds = math.ceil(HOUR_S / length_s) + 1
    times = [time + turn * length_s for turn in range(rounds) for time in starts]
    return max((bisect_left(times, time + HOUR_S - 1e-6) - n for n, time in enumerate(times[: len(starts)])), default=0)


def _longest_run_s(spans: Sequence[tuple[float, float, bool]], starts: bool) -> float:
    if not starts:
        return math.inf if spans[0][2] else 0.0
    longest = run = 0.0
    for start, end, runs in spans:
        run = run + end - start if runs else 0.0
        longest = max(longest, run)
    return longest
