"""The tank over time in words, for report and sheets; times are rounded to the careful side."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from drafter.quantity import Units, duration
from drafter.sizing.motor import MotorDuty
from drafter.sizing.tank_need import ToolAtWork
from drafter.sizing.tank_over_time import TankOverTime
from drafter.sizing.work import Endurance, Shortage, WorkCourse


def tank_words(tank: TankOverTime, units: Units) -> tuple[str, ...]:
    """Return the answer in sentences, the basis first.

    Source:
        none; it only says what was computed.
    """
    purge = f" and the dryer's purge air of {units.free_air(tank.purge_m3_s)}" if tank.purge_m3_s else ""
    drawn = f"leakage of {units.free_air(tank.leakage_m3_s)}{purge} {'are' if purge else 'is'} drawn all the time"
    begins = "compressor unloaded" if tank.unloads else "motor off"
    basis = (
        f"From a full tank at {units.pressure(tank.tank.cut_out_pa)}, {begins}. The air in the tank is taken at "
        f"{units.temperature(tank.tank.temperature_k)}, {drawn}, "
        "and each tool takes its whole flow however low the pressure."
    )
    told = _work(tank, units) if tank.work else _endurance(tank, units)
    return (basis, *told, _motor(tank, tank.motor, units))


def starts_words(starts: float) -> str:
    """Return a number of starts as it is told: with a decimal below ten.

    Source:
        none.
    """
    return f"{starts:.0f}" if starts >= 9.95 else f"{starts:.1f}".removesuffix(".0")


def tool_words(tool: ToolAtWork) -> str:
    """Return a tool with its outlet.

    Source:
        none.
    """
    return f"{tool.tool} at {tool.outlet}"


def _work(tank: TankOverTime, units: Units) -> Iterator[str]:
    assert tank.work is not None
    yield from _of_pass(tank.work, units, " in the first pass" if tank.later else "")
    yield (
        f"The pattern of {duration(tank.work.length_s)} takes {units.free_air_volume(tank.work.air_used_m3)} of free "
        "air, leakage included."
    )
    if tank.later:
        begins = units.pressure(tank.later.stretches[0].start_pa)
        yield f"Repeated without a pause, it does not always begin with a full tank; the hardest pass, from {begins}:"
        yield from _of_pass(tank.later, units, " in it")


def _of_pass(work: WorkCourse, units: Units, when: str) -> Iterator[str]:
    for shortage in work.shortages:
        yield _shortage(work, shortage, units)
    if not work.shortages:
        yield f"Every tool of the work pattern has its pressure all the time{when}."
    lowest_pa, at_s = work.lowest
    again = work.full_again_s
    full = f"full again {duration(again, math.ceil)} later" if math.isfinite(again) else "not full again in the pattern"
    yield f"Lowest in the tank{when}: {units.pressure(lowest_pa)}, {duration(at_s)} after the beginning; {full}."


def _shortage(work: WorkCourse, shortage: Shortage, units: Units) -> str:
    tool, run = shortage.run.tool, shortage.run
    needed = units.pressure(tool.needed_pa)
    runs_s = sum(run.end_s - run.start_s for run in work.runs if run.tool == tool)
    total = f"it is short for {duration(shortage.short_s, math.ceil)} of the {duration(runs_s)} it runs in the pattern"
    if math.isinf(shortage.needed_at_tank_pa):
        return f"The {tool_words(tool)} does not get its {needed} whatever the tank holds: {total}."
    lasts_s = shortage.at_s - run.start_s
    begun = f", begun after {duration(run.start_s)}," if run.start_s else ""
    lasts = f"runs {duration(lasts_s, math.floor)} before the pressure there falls" if lasts_s else "begins"
    in_tank = f"({units.pressure(shortage.needed_at_tank_pa)} in the tank)"
    return f"The {tool_words(tool)}{begun} {lasts} below {needed} {in_tank}; {total}."


def _endurance(tank: TankOverTime, units: Units) -> Iterator[str]:
    short = [single for single in tank.singles if single.short]
    for single in short:
        yield f"The {tool_words(single.tools[0])}, alone and without a pause, {_lasts(single, units)}"
    if len(short) < len(tank.singles):
        every = "Every other tool" if short else "Every tool"
        yield f"{every}, alone and without a pause, keeps its pressure as long as wanted."
    if len(tank.together.tools) > 1:
        names = _listed([tool_words(tool) for tool in tank.together.tools])
        if tank.together.short:
            first = f"the {tool_words(tank.together.short)} {_lasts(tank.together, units)}"
            yield f"The {names} together without a pause: {first}"
        else:
            yield f"The {names} together without a pause all keep their pressure as long as wanted."


def _lasts(found: Endurance, units: Units) -> str:
    assert found.short is not None
    needed, in_tank = units.pressure(found.short.needed_pa), units.pressure(found.needed_at_tank_pa)
    if math.isinf(found.needed_at_tank_pa):
        return f"does not get its {needed} whatever the tank holds."
    if found.lasts_s == 0.0:
        return f"would need {in_tank} in the tank to have its {needed}, more than the cut-out."
    runs = duration(found.lasts_s, math.floor)
    lasts = f"runs {runs} before the pressure there falls below {needed} ({in_tank} in the tank)"
    if math.isinf(found.wait_s):
        return f"{lasts}; waiting does not fill the tank, as the compressor comes in at cut-in only."
    return f"{lasts}; then, all tools off, the tank is full after {duration(found.wait_s, math.ceil)}."


def _and_purge(tank: TankOverTime) -> str:
    return " and the dryer's purge air too" if tank.purge_m3_s else ""


def _motor(tank: TankOverTime, motor: MotorDuty, units: Units) -> str:
    average = "The pattern repeated"
    if not tank.work:
        counted = f"leakage and growth included{_and_purge(tank)}"
        average = f"The average demand of {units.free_air(motor.demand_m3_s)}, {counted}, drawn steadily"
    if math.isinf(motor.longest_run_s):
        keeps = "keeps up" if motor.demand_m3_s <= tank.tank.delivered_m3_s else "does not keep up"
        return f"{average}: the {'compressor is never unloaded' if tank.unloads else 'motor never stops'}, and {keeps}."
    starts = f"{starts_words(motor.starts_per_hour)} {'times loaded' if tank.unloads else 'starts'} per hour"
    if motor.busiest_hour_starts > motor.starts_per_hour + 0.5:
        starts += f" ({motor.busiest_hour_starts:.0f} in the busiest)"
    share, longest = f"{motor.duty * 100:.0f} % of the time", f"at most {duration(motor.longest_run_s)} without a rest"
    if tank.unloads:
        return f"{average}: {starts}, {share}, {longest}; the motor runs on without load between."
    return f"{average}: {starts}, the motor runs {share}, {longest}."


def _listed(words: Sequence[str]) -> str:
    return ", ".join(words[:-1]) + f" and {words[-1]}" if len(words) > 1 else words[0]
