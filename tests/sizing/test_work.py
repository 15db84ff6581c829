"""Tools at work on the tank: who falls short, when, and how long the tank takes to come back."""

from __future__ import annotations

import math
from collections.abc import Sequence

import pytest

from drafter.sizing.tank import TankSet
from drafter.sizing.tank_need import ToolAtWork
from drafter.sizing.work import Run, endurance, work_course

TANK = TankSet(0.1, 6e5, 8e5, 0.004)
SANDER = ToolAtWork("W2", "orbital sander", 0.008, 5.0e5)
GUN = ToolAtWork("N1", "blow gun", 0.002, 4.0e5)


def need(tools: Sequence[ToolAtWork]) -> list[float]:
    """A line that costs 0.2 bar for each tool that runs."""
    return [tool.needed_pa + 0.2e5 * len(tools) for tool in tools]


def test_a_tool_that_takes_more_than_is_delivered_runs_until_the_tank_is_down() -> None:
    """100 l: 8 to 6 bar at 8 l/s is 25 s, then 6 to 5.2 bar at 8 - 4 l/s is 20 s; 5.2 to 8 bar at 4 l/s is 70 s."""
    found = endurance(TANK, [SANDER], 0.0, need)
    assert found.lasts_s == pytest.approx(45.0)
    assert found.wait_s == pytest.approx(70.0)
    assert (found.short, found.needed_at_tank_pa) == (SANDER, 5.2e5)
    assert found.course.stretches[-1].end_pa == TANK.cut_out_pa
    assert found.course.length_s == pytest.approx(115.0)


def test_leakage_shortens_the_run_and_lengthens_the_wait() -> None:
    """With 1 l/s lost: 200 l / 9 = 22.2 s and 80 l / 5 = 16 s; 280 l / 3 = 93.3 s."""
    found = endurance(TANK, [SANDER], 0.001, need)
    assert (found.lasts_s, found.wait_s) == pytest.approx((200 / 9 + 16.0, 280 / 3))


def test_a_tool_that_takes_less_runs_as_long_as_wanted() -> None:
    found = endurance(TANK, [GUN], 0.0, need)
    assert (found.lasts_s, found.short, found.wait_s) == (math.inf, None, 0.0)


def test_of_two_the_one_that_needs_more_falls_short_first() -> None:
    """10 l/s: 20 s to cut-in, then 6 to 5.4 bar at 6 l/s is 10 s."""
    found = endurance(TANK, [GUN, SANDER], 0.0, need)
    assert found.short == SANDER
    assert found.lasts_s == pytest.approx(30.0)


def test_above_the_cut_in_waiting_does_not_help() -> None:
    """It falls short at 6.7 bar with the motor off; all tools off, nothing brings the tank to cut-in."""
    found = endurance(TANK, [ToolAtWork("W2", "press", 0.001, 6.5e5)], 0.0, need)
    assert found.lasts_s == pytest.approx(130.0)
    assert found.wait_s == math.inf


def test_a_tool_that_needs_more_than_the_cut_out_is_short_from_the_beginning() -> None:
    assert endurance(TANK, [ToolAtWork("W2", "press", 0.001, 9e5)], 0.0, need).lasts_s == 0.0


def test_a_double_tank_doubles_both_times() -> None:
    one, two = (endurance(TankSet(v, 6e5, 8e5, 0.004), [SANDER], 0.0005, need) for v in (0.1, 0.2))
    assert (two.lasts_s, two.wait_s) == pytest.approx((2 * one.lasts_s, 2 * one.wait_s))


def test_a_pattern_tells_who_is_short_when_and_for_how_long() -> None:
    """The sander from 10 to 70 s is short from 55 s on; the blow gun at 65 s makes it need 5.4, and is not short.

    Tank: at 55 s 5.2 bar, 65 s 4.8, then 6 l/s more than delivered to 4.5 bar at 70 s; then it fills.
    """
    runs = [Run(SANDER, 10.0, 70.0), Run(GUN, 65.0, 70.0)]
    course = work_course(TANK, runs, 300.0, 0.0, need)
    (shortage,) = course.shortages
    assert shortage.run == runs[0]
    assert (shortage.at_s, shortage.short_s, shortage.needed_at_tank_pa) == pytest.approx((55.0, 15.0, 5.2e5))
    assert course.lowest == pytest.approx((4.5e5, 70.0))
    assert course.full_again_s == pytest.approx(350 / 4)
    assert course.air_used_m3 == pytest.approx(0.008 * 60 + 0.002 * 5)
    assert sum(end - start for start, end in course.short_spans(SANDER)) == pytest.approx(15.0)
    assert course.short_spans(GUN) == []


def test_a_tank_that_is_not_full_again_says_so() -> None:
    assert work_course(TANK, [Run(SANDER, 10.0, 70.0)], 80.0, 0.0, need).full_again_s == math.inf


def test_a_pressure_no_tank_can_give_is_short_all_the_time() -> None:
    course = work_course(TANK, [Run(GUN, 5.0, 25.0)], 60.0, 0.0, lambda tools: [math.inf] * len(tools))
    (shortage,) = course.shortages
    assert (shortage.at_s, shortage.short_s, shortage.needed_at_tank_pa) == (5.0, 20.0, math.inf)
