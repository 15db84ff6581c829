"""Tools at work on the tank: which falls short of its pressure and when, and how the tank comes back."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from drafter.sizing.tank import Draw, Stretch, TankSet, tank_course
from drafter.sizing.tank_need import TankNeed, ToolAtWork

LONGEST_S = 86_400.0
"""A tool that has its pressure for a day is taken to run as long as wanted."""

_SLACK_PA = 1.0


@dataclass(frozen=True, slots=True)
class Run:
    """A tool that runs without a pause."""

    tool: ToolAtWork
    start_s: float
    end_s: float


@dataclass(frozen=True, slots=True)
class Shortage:
    """A tool that has less than its pressure while it runs.

    Attributes:
        run: the first of its runs that falls short.
        at_s: when the tank first falls below what it needs there.
        needed_at_tank_pa: gauge pressure, for all that runs then; infinite where no pressure in the tank is enough.
        short_s: time in all that it runs short.
    """

    run: Run
    at_s: float
    needed_at_tank_pa: float
    short_s: float


@dataclass(frozen=True)
class WorkCourse:
    """The tank while tools run.

    Attributes:
        full_pa: the cut-out.
        stretches: their draws are numbers of ``runs``.
        needs_pa: for each stretch, what each of its draws needs in the tank.
    """

    runs: tuple[Run, ...]
    length_s: float
    full_pa: float
    stretches: tuple[Stretch, ...]
    needs_pa: tuple[tuple[float, ...], ...]

    @cached_property
    def shortages(self) -> tuple[Shortage, ...]:
        """One for each tool at each outlet that falls short, the earliest first."""
        found: dict[ToolAtWork, Shortage] = {}
        for run, need_pa, start_s, end_s in self._short_times:
            first = found.get(run.tool) or Shortage(run, start_s, need_pa, 0.0)
            found[run.tool] = replace(first, short_s=first.short_s + end_s - start_s)
        return tuple(sorted(found.values(), key=lambda shortage: (shortage.at_s, shortage.run.tool.outlet)))

    def short_spans(self, tool: ToolAtWork) -> list[tuple[float, float]]:
        """Return the times at which a tool at its outlet runs short."""
        return [(start_s, end_s) for run, _, start_s, end_s in self._short_times if run.tool == tool]

    @cached_property
    def _short_times(self) -> list[tuple[Run, float, float, float]]:
        """Run, what it needs in the tank, and from when to when it has less, within each stretch."""
        return [
            (self.runs[number], need_pa, *span)
            for stretch, needs in zip(self.stretches, self.needs_pa, strict=True)
            for number, need_pa in zip(stretch.draws, needs, strict=True)
            if (span := _short(stretch, need_pa))
        ]

    @property
    def lowest(self) -> tuple[float, float]:
        """Lowest gauge pressure [Pa] and when it is first reached [s]."""
        stretch = min(self.stretches, key=lambda stretch: stretch.end_pa)
        return stretch.end_pa, stretch.end_s

    @property
    def full_again_s(self) -> float:
        """Time from the lowest pressure to the next cut-out; infinite where that is not reached."""
        full_pa, (lowest_pa, at_s) = self.full_pa, self.lowest
        later = (s.end_s for s in self.stretches if s.start_s >= at_s and s.end_pa >= full_pa > lowest_pa)
        return next(later, math.inf) - at_s

    @property
    def air_used_m3(self) -> float:
        """Free air that leaves the tank."""
        return sum(stretch.drawn_m3_s * stretch.length_s for stretch in self.stretches)


def _short(stretch: Stretch, need_pa: float) -> tuple[float, float] | None:
    """Return from when to when a stretch's pressure is below a need, or None."""
    low, high = sorted((stretch.start_pa, stretch.end_pa))
    if low >= need_pa - _SLACK_PA:
        return None
    if high <= need_pa:
        return stretch.start_s, stretch.end_s
    crossed_s = stretch.time_of(need_pa)
    return (stretch.start_s, crossed_s) if stretch.start_pa < stretch.end_pa else (crossed_s, stretch.end_s)


def work_course(tank: TankSet, runs: Sequence[Run], length_s: float, leakage_m3_s: float, need: TankNeed) -> WorkCourse:
    """Follow the tank from cut-out, motor off, while tools run; leakage is drawn all the time.

    Source:
        `drafter.sizing.tank.tank_course`.
    """
    return followed(tank, tank_course(tank, draws_of(runs), length_s, leakage_m3_s), runs, length_s, need)


def draws_of(runs: Sequence[Run]) -> list[Draw]:
    """Return what some runs draw from the tank.

    Source:
        none; it only sorts.
    """
    return [Draw(run.start_s, run.end_s, run.tool.free_air_m3_s) for run in runs]


def followed(
    tank: TankSet, stretches: tuple[Stretch, ...], runs: Sequence[Run], length_s: float, need: TankNeed
) -> WorkCourse:
    """Return a course of the tank with what its runs need.

    Source:
        as in `drafter.sizing.tank_need`.
    """
    needs = tuple(tuple(need([runs[number].tool for number in stretch.draws])) for stretch in stretches)
    return WorkCourse(tuple(runs), length_s, tank.cut_out_pa, stretches, needs)


@dataclass(frozen=True)
class Endurance:
    """Tools that run together without a pause from a full tank.

    Attributes:
        lasts_s: until the first falls short; infinite where none does within a day.
        short: the tool that falls short first, or None.
        needed_at_tank_pa: what that tool needs there; 0 where none falls short.
        wait_s: from then, all tools off, until the tank is full; infinite where it does not fill.
        course: them running until the first falls short, then the tank filling; where none falls short, or one
            does from the beginning, them running on.
    """

    tools: tuple[ToolAtWork, ...]
    lasts_s: float
    short: ToolAtWork | None
    needed_at_tank_pa: float
    wait_s: float
    course: WorkCourse


def endurance(tank: TankSet, tools: Sequence[ToolAtWork], leakage_m3_s: float, need: TankNeed) -> Endurance:
    """Run tools together from a full tank until the first falls short, then let the tank fill.

    Source:
        `drafter.sizing.tank.tank_course`.
    """
    wanted = leakage_m3_s + sum(tool.free_air_m3_s for tool in tools)
    held_m3 = tank.held_m3(tank.cut_out_pa - tank.cut_in_pa)
    falls_s, spare = held_m3 / wanted, tank.delivered_m3_s - wanted
    if spare < 0.0:
        length_s = falls_s + tank.held_m3(tank.cut_in_pa) / -spare
    else:
        length_s = 2 * falls_s + 2 * min(held_m3 / max(spare, 1e-12), 2 * falls_s)
    length_s = min(length_s, LONGEST_S)
    course = _together(tank, tools, length_s, length_s, leakage_m3_s, need)
    if not course.shortages:
        return Endurance(tuple(tools), math.inf, None, 0.0, 0.0, course)
    first = course.shortages[0]
    wait_s = _fills_s(tank, course, first.at_s, leakage_m3_s)
    if first.at_s > 0.0 and wait_s < LONGEST_S:
        course = _together(tank, tools, first.at_s, first.at_s + wait_s, leakage_m3_s, need)
    return Endurance(tuple(tools), first.at_s, first.run.tool, first.needed_at_tank_pa, wait_s, course)


def _together(
    tank: TankSet, tools: Sequence[ToolAtWork], end_s: float, length_s: float, leakage_m3_s: float, need: TankNeed
) -> WorkCourse:
    return work_course(tank, [Run(tool, 0.0, end_s) for tool in tools], length_s, leakage_m3_s, need)


def _fills_s(tank: TankSet, course: WorkCourse, at_s: float, leakage_m3_s: float) -> float:
    """Return how long the tank takes to be full from a time on, all tools off; infinite where the motor rests."""
    stretch = next(stretch for stretch in course.stretches if at_s < stretch.end_s)
    pressure_pa = stretch.pressure_at(at_s)
    starts = stretch.motor_runs or pressure_pa <= tank.cut_in_pa
    spare = tank.delivered_m3_s - leakage_m3_s
    return tank.held_m3(tank.cut_out_pa - pressure_pa) / spare if starts and spare > 0.0 else math.inf
