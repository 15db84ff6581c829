"""The tank from event to event: hand-computed draw-downs and cycles, mass balance, and a small-step integration."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.sizing.tank import Draw, Stretch, TankSet, tank_course
from drafter.standards import receiver

PSI_PA, CFM_M3_S, GALLON_M3, CUBIC_FOOT_M3 = 6894.757293168361, 0.3048**3 / 60.0, 3.785411784e-3, 0.3048**3
TANK = TankSet(0.1, 6e5, 8e5, 0.004)


def falling_s(tank: TankSet, draw_m3_s: float, to_pa: float) -> float:
    """When the pressure is first down to a level while one flow is drawn, the motor running from the beginning."""
    course = tank_course(tank, [Draw(0.0, 1e5, draw_m3_s)], 1e5, start_pa=tank.cut_out_pa - 1e-6, motor_runs=True)
    return next(s.time_of(to_pa) for s in course if s.start_pa >= to_pa > s.end_pa)


@pytest.mark.parametrize(
    "tank, draw_m3_s, to_pa, seconds",
    [
        (TankSet(0.1, 5e5, 8e5, 0.004), 0.008, 5.5e5, 62.5),
        (TankSet(0.27, 6e5, 10e5, 0.005, free_air_pa=101325.0), 0.012, 6.3e5, 140.85),
        (
            TankSet(80 * GALLON_M3, 80 * PSI_PA, 125 * PSI_PA, 14 * CFM_M3_S, free_air_pa=14.7 * PSI_PA),
            20 * CFM_M3_S,
            90 * PSI_PA,
            254.6,
        ),
        (
            TankSet(183.75 * CUBIC_FOOT_M3, 50 * PSI_PA, 100 * PSI_PA, 250 * CFM_M3_S, free_air_pa=14.7 * PSI_PA),
            350 * CFM_M3_S,
            60 * PSI_PA,
            300.0,
        ),
    ],
    ids=["100 l", "270 l", "80 gal", "published surge"],
)
def test_draw_down_with_the_motor_running(tank: TankSet, draw_m3_s: float, to_pa: float, seconds: float) -> None:
    """Mass balance by hand, t = V dp / (p (Qout - Qin)); the last from a public receiver-sizing sheet."""
    assert falling_s(tank, draw_m3_s, to_pa) == pytest.approx(seconds, rel=2e-4)


def test_usable_air_of_80_gallons() -> None:
    """25.46 cubic feet from 125 to 90 psi, counted at 14.7 psi (mass balance by hand)."""
    tank = TankSet(80 * GALLON_M3, 90 * PSI_PA, 125 * PSI_PA, 1e-3, free_air_pa=14.7 * PSI_PA)
    assert tank.held_m3(35 * PSI_PA) / CUBIC_FOOT_M3 == pytest.approx(25.46, abs=0.005)


def test_pump_up_of_270_litres() -> None:
    """0 to 8 bar in 540 s at 1.01325 bar is 3.948 l/s (pump-up test of handbooks, mass balance by hand)."""
    tank = TankSet(0.27, 7.9e5, 8e5, 3.948e-3, free_air_pa=101325.0)
    course = tank_course(tank, [], 1000.0, start_pa=0.0)
    assert course[0].end_s == pytest.approx(540.0, rel=2e-4)
    assert [s.motor_runs for s in course] == [True, False]


@pytest.mark.parametrize("share, cycle_s", [(0.5, 360.0), (0.2, 562.5), (0.8, 562.5)])
def test_cycle_of_450_litres(share: float, cycle_s: float) -> None:
    """10 l/s on 450 l with 2 bar: 360 s at half demand, 562.5 s at a fifth and at four fifths (mass balance)."""
    course = tank_course(TankSet(0.45, 6e5, 8e5, 0.010), [], 5000.0, steady_m3_s=0.010 * share)
    starts = [b.start_s for a, b in pairwise(course) if b.motor_runs and not a.motor_runs]
    assert len(starts) > 3
    assert [b - a for a, b in pairwise(starts)] == pytest.approx([cycle_s] * (len(starts) - 1))


@pytest.mark.parametrize("litres, delivered_l_s, band_bar, starts_per_hour", [(450, 10, 2.0, 10), (200, 5, 1.5, 15)])
def test_least_volume_for_the_starts(
    litres: float, delivered_l_s: float, band_bar: float, starts_per_hour: float
) -> None:
    """The volume that handbooks' factor 0.25 gives starts so often at half demand."""
    tank = TankSet(litres / 1e3, 6e5, 6e5 + band_bar * 1e5, delivered_l_s / 1e3)
    course = tank_course(tank, [], 7200.0, steady_m3_s=delivered_l_s / 2e3)
    starts = [b.start_s for a, b in pairwise(course) if b.motor_runs and not a.motor_runs]
    assert 3600.0 / (starts[1] - starts[0]) == pytest.approx(starts_per_hour)


def test_an_empty_tank_gives_what_the_compressor_delivers() -> None:
    course = tank_course(TANK, [Draw(0.0, 900.0, 0.01)], 1000.0)
    empty = [s for s in course if s.start_pa == 0.0 and s.draws]
    assert [s.drawn_m3_s for s in empty] == [TANK.delivered_m3_s]
    assert min(s.end_pa for s in course) == 0.0
    assert course[-1].end_pa > 0.0


def test_demand_that_the_compressor_just_meets_holds_the_cut_in() -> None:
    course = tank_course(TANK, [], 1000.0, steady_m3_s=TANK.delivered_m3_s)
    assert (course[-1].start_pa, course[-1].end_pa, course[-1].end_s) == (TANK.cut_in_pa, TANK.cut_in_pa, 1000.0)


def test_nothing_drawn_nothing_happens() -> None:
    assert tank_course(TANK, [], 60.0) == (Stretch(0.0, 60.0, 8e5, 8e5, False, 0.0, ()),)


def test_a_warm_tank_holds_less() -> None:
    """Ideal gas: at twice the absolute temperature the same air makes twice the pressure."""
    warm = replace(TANK, temperature_k=2 * 293.15)
    assert warm.held_m3(1e5) == pytest.approx(TANK.held_m3(1e5) / 2)
    assert warm.held_m3(2e5) == pytest.approx(receiver.usable_free_air_m3(0.1, 8e5, 6e5, 2 * 293.15))


tanks = st.builds(
    lambda litres, cut_in, band, delivered, temperature: TankSet(
        litres / 1e3, cut_in * 1e5, (cut_in + band) * 1e5, delivered / 1e3, temperature
    ),
    st.floats(20, 500),
    st.floats(2, 9),
    st.floats(0.5, 3),
    st.floats(1, 20),
    st.floats(270, 320),
)
draws = st.lists(
    st.builds(
        lambda start, length, flow: Draw(start, start + length, flow / 1e3),
        st.floats(0, 900),
        st.floats(0, 400),
        st.floats(0.1, 30),
    ),
    max_size=8,
)
LENGTH_S = 1000.0


@settings(max_examples=200, deadline=None)
@given(tanks, draws, st.floats(0, 2e-3))
def test_air_is_not_lost_and_the_curve_holds_together(tank: TankSet, draws: list[Draw], leak_m3_s: float) -> None:
    course = tank_course(tank, draws, LENGTH_S, leak_m3_s)
    assert (course[0].start_s, course[0].start_pa, course[-1].end_s) == (0.0, tank.cut_out_pa, LENGTH_S)
    for before, after in pairwise(course):
        assert (before.end_s, before.end_pa) == (after.start_s, after.start_pa)
    for stretch in course:
        assert stretch.length_s > 0.0
        assert -1e-6 <= stretch.end_pa <= tank.cut_out_pa + 1e-6
        assert stretch.motor_runs or stretch.end_pa >= tank.cut_in_pa - 1e-6
        wanted = leak_m3_s + sum(draws[number].free_air_m3_s for number in stretch.draws)
        assert stretch.drawn_m3_s <= wanted + 1e-15
        assert stretch.drawn_m3_s == pytest.approx(wanted) or stretch.start_pa <= 0.0
    into = sum(tank.delivered_m3_s * s.length_s for s in course if s.motor_runs)
    out = sum(s.drawn_m3_s * s.length_s for s in course)
    assert into - out == pytest.approx(tank.held_m3(course[-1].end_pa - tank.cut_out_pa), abs=1e-9)


@settings(max_examples=60, deadline=None)
@given(tanks, draws, st.floats(2, 5))
def test_a_larger_set_on_a_slower_day_is_the_same_curve(tank: TankSet, draws: list[Draw], times: float) -> None:
    """A tank so many times as large takes so many times as long, all flows alike."""
    course = tank_course(tank, draws, LENGTH_S)
    slow = [Draw(draw.start_s * times, draw.end_s * times, draw.free_air_m3_s) for draw in draws]
    larger = tank_course(replace(tank, volume_m3=tank.volume_m3 * times), slow, LENGTH_S * times)
    step = [sampled(course, time) for time in (100.5, 400.5, 999.5)]
    assert [sampled(larger, time * times) for time in (100.5, 400.5, 999.5)] == pytest.approx(step, abs=20.0)


def test_a_double_tank_lasts_twice_as_long() -> None:
    assert falling_s(replace(TANK, volume_m3=0.2), 0.008, 5e5) == pytest.approx(2 * falling_s(TANK, 0.008, 5e5))


@settings(max_examples=25, deadline=None)
@given(tanks, draws)
def test_small_steps_lead_the_same_way(tank: TankSet, draws: list[Draw]) -> None:
    """Euler's method with steps of 5 ms and the switch asked at every step; errors are of the order of a step.

    Where the switch acts a hair's breadth before a draw ends, the two may part; the share of the time that
    they are apart is held instead of every single moment.
    """
    course = tank_course(tank, draws, LENGTH_S)
    step_s, warmth = 0.005, tank.temperature_k / 293.15
    pressure, runs, apart = tank.cut_out_pa, False, 0
    fastest = 1e5 * warmth * (tank.delivered_m3_s + sum(d.free_air_m3_s for d in draws)) / tank.volume_m3
    for number in range(int(LENGTH_S / step_s)):
        time = number * step_s
        if number % 200 == 0:
            apart += abs(sampled(course, time + 1e-9) - pressure) > 30 * step_s * fastest + 1.0
        if pressure <= tank.cut_in_pa:
            runs = True
        elif pressure >= tank.cut_out_pa:
            runs = False
        drawn = sum(d.free_air_m3_s for d in draws if d.start_s <= time < d.end_s)
        net = (tank.delivered_m3_s if runs else 0.0) - drawn
        pressure = max(0.0, pressure + step_s * 1e5 * warmth * net / tank.volume_m3)
    assert apart <= 0.1 * LENGTH_S


def sampled(course: tuple[Stretch, ...], time_s: float) -> float:
    return next(s.pressure_at(time_s) for s in course if s.start_s <= time_s <= s.end_s)


@pytest.mark.parametrize("value", [0.0, -1.0, math.nan, math.inf])
@pytest.mark.parametrize("name", ["volume_m3", "cut_in_pa", "delivered_m3_s", "temperature_k", "free_air_pa"])
def test_an_impossible_tank_is_refused(name: str, value: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        replace(TANK, **{name: value})


def test_a_switch_without_a_band_is_refused() -> None:
    with pytest.raises(ValueError, match="cut-in"):
        TankSet(0.1, 8e5, 8e5, 0.004)


@pytest.mark.parametrize(
    "draws, length_s, steady",
    [
        ([Draw(10.0, 5.0, 1e-3)], 60.0, 0.0),
        ([Draw(0.0, 5.0, -1e-3)], 60.0, 0.0),
        ([Draw(math.nan, 5.0, 1e-3)], 60.0, 0.0),
        ([], 0.0, 0.0),
        ([], math.inf, 0.0),
        ([], 60.0, -1e-3),
    ],
)
def test_impossible_times_and_flows_are_refused(draws: list[Draw], length_s: float, steady: float) -> None:
    with pytest.raises(ValueError, match="must"):
        tank_course(TANK, draws, length_s, steady)
