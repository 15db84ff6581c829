"""The tank over time: a block of the report in words, and as plain data."""

from __future__ import annotations

import math
from textwrap import wrap
from typing import Any

from drafter.quantity import Units
from drafter.report.blocks import block
from drafter.report.rounded import bar, litres_per_s
from drafter.sizing.motor import MotorDuty
from drafter.sizing.tank_need import ToolAtWork
from drafter.sizing.tank_over_time import TankOverTime
from drafter.sizing.tank_words import tank_words
from drafter.sizing.work import Endurance, WorkCourse

LINE = 110


def tank_block(tank: TankOverTime, units: Units) -> str:
    """Return how long the tank lasts and how hard the motor works, a sentence or two a line."""
    title = "TANK OVER TIME" + (" (work pattern)" if tank.work else "")
    sentences = tank_words(tank, units)
    return block(title, [line for words in sentences for line in wrap(words, LINE, subsequent_indent="  ")])


def tank_data(tank: TankOverTime) -> dict[str, Any]:
    """Return the tank over time as plain data that keeps to ``schema.json``."""
    return {
        "air_temperature_deg_c": round(tank.tank.temperature_k - 273.15, 2),
        "leakage_free_air_l_s": litres_per_s(tank.leakage_m3_s),
        "purge_free_air_l_s": litres_per_s(tank.purge_m3_s),
        "singles": [_endurance_data(single) for single in tank.singles],
        "together": _endurance_data(tank.together),
        "motor": _motor_data(tank.motor, "work pattern" if tank.work else "average demand drawn steadily"),
        "work": _work_data(tank.work) if tank.work else None,
        "later_pass": _work_data(tank.later) if tank.later else None,
        "unloads": tank.unloads,
        "curve": [
            {"from_s": round(each.start_s, 2), "to_s": round(each.end_s, 2), "from_gauge_bar": bar(each.start_pa),
             "to_gauge_bar": bar(each.end_pa), "motor_runs": each.motor_runs}
            for each in tank.shown.stretches
        ],
    }  # fmt: skip


def _endurance_data(found: Endurance) -> dict[str, Any]:
    return {
        "tools": [_tool_data(tool) for tool in found.tools],
        "lasts_s": _finite(found.lasts_s),
        "short": _tool_data(found.short) if found.short else None,
        "needed_in_tank_bar": _needed(found.needed_at_tank_pa) if found.short else None,
        "wait_s": _finite(found.wait_s) if found.short else None,
    }


def _motor_data(motor: MotorDuty, basis: str) -> dict[str, Any]:
    return {
        "basis": basis,
        "demand_free_air_l_s": litres_per_s(motor.demand_m3_s),
        "starts_per_hour": round(motor.starts_per_hour, 2),
        "busiest_hour_starts": round(motor.busiest_hour_starts, 2),
        "duty": round(motor.duty, 4),
        "longest_run_s": _finite(motor.longest_run_s),
    }


def _work_data(work: WorkCourse) -> dict[str, Any]:
    lowest_pa, at_s = work.lowest
    return {
        "length_s": round(work.length_s, 2),
        "lowest_gauge_pressure_bar": bar(lowest_pa),
        "lowest_at_s": round(at_s, 2),
        "full_again_s": _finite(work.full_again_s),
        "air_used_m3": round(work.air_used_m3, 4),
        "shortages": [
            {**_tool_data(shortage.run.tool), "run_from_s": round(shortage.run.start_s, 2),
             "at_s": round(shortage.at_s, 2), "needed_in_tank_bar": _needed(shortage.needed_at_tank_pa),
             "short_s": round(shortage.short_s, 2)}
            for shortage in work.shortages
        ],
    }  # fmt: skip


def _tool_data(tool: ToolAtWork) -> dict[str, Any]:
    return {"outlet": tool.outlet, "tool": tool.tool}


def _finite(time_s: float) -> float | None:
    return round(time_s, 2) if math.isfinite(time_s) else None


def _needed(gauge_pa: float) -> float | None:
    return bar(gauge_pa) if math.isfinite(gauge_pa) else None
