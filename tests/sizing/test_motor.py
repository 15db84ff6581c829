"""The motor in the long run: closed forms against the tank followed through time."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.sizing.motor import MotorDuty, repeated, repeated_duty, steady_duty
from drafter.sizing.tank import Draw, TankSet

TANK = TankSet(0.45, 6e5, 8e5, 0.010)


def long_run(draws: list[Draw], length_s: float, steady_m3_s: float) -> MotorDuty:
    return repeated_duty(repeated(TANK, draws, length_s, steady_m3_s), draws, length_s, steady_m3_s)


@pytest.mark.parametrize("share", [0.2, 0.5, 0.8])
def test_a_steady_draw(share: float) -> None:
    """Mass balance: from start to start what the band holds is drawn, then put back with what is to spare."""
    motor = steady_duty(TANK, 0.010 * share)
    cycle_s = 0.45 * 2.0 / (0.010 * share) + 0.45 * 2.0 / (0.010 * (1 - share))
    assert motor.starts_per_hour == pytest.approx(3600.0 / cycle_s)
    assert motor.duty == pytest.approx(share)
    assert motor.longest_run_s == pytest.approx(0.45 * 2.0 / (0.010 * (1 - share)))


@given(st.floats(0.01, 0.99), st.floats(1.0, 30.0), st.floats(280.0, 330.0))
def test_the_least_volume_holds_the_starts_at_any_demand(share: float, starts: float, temperature_k: float) -> None:
    """The bound is met at half demand (handbooks' factor 0.25)."""
    volume_m3 = replace(TANK, temperature_k=temperature_k).volume_for_starts_m3(starts)
    large = replace(TANK, volume_m3=volume_m3, temperature_k=temperature_k)
    assert steady_duty(large, 0.010 * share).starts_per_hour <= starts * (1 + 1e-12)
    assert steady_duty(large, 0.005).starts_per_hour == pytest.approx(starts)


def test_at_half_demand_ten_starts_an_hour() -> None:
    """450 l, 10 l/s, 2 bar: 360 s from start to start (mass balance, handbooks' factor 0.25)."""
    followed = long_run([], 3600.0, 0.005)
    assert followed.starts_per_hour == pytest.approx(10.0)
    assert followed.busiest_hour_starts == 10
    assert followed.duty == pytest.approx(0.5)
    assert followed.longest_run_s == pytest.approx(180.0)


@settings(max_examples=40, deadline=None)
@given(st.floats(0.05, 0.95), st.floats(300.0, 4000.0))
def test_following_a_steady_draw_gives_the_closed_form(share: float, length_s: float) -> None:
    """However the pass is cut, to within the one cycle that the cut may part."""
    closed, followed = steady_duty(TANK, 0.010 * share), long_run([], length_s, 0.010 * share)
    assert followed.duty == pytest.approx(closed.duty, abs=0.05)
    assert followed.starts_per_hour == pytest.approx(closed.starts_per_hour, rel=0.12)
    assert followed.longest_run_s == pytest.approx(closed.longest_run_s, rel=1e-6)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.floats(0, 500), st.floats(1, 100), st.floats(0.1, 9)), min_size=1, max_size=6))
def test_in_the_long_run_the_motor_gives_what_is_drawn(rows: list[tuple[float, float, float]]) -> None:
    """Mass balance: duty x delivery = average demand, while the average is below the delivery."""
    draws = [Draw(start, start + length, flow / 1e3) for start, length, flow in rows]
    motor = long_run(draws, 600.0, 0.0)
    wanted = sum(draw.free_air_m3_s * (draw.end_s - draw.start_s) for draw in draws) / 600.0
    assert motor.demand_m3_s == pytest.approx(wanted)
    assert motor.duty * TANK.delivered_m3_s == pytest.approx(wanted, abs=0.06 * TANK.delivered_m3_s)


def test_a_demand_above_the_delivery_never_rests() -> None:
    for motor in (steady_duty(TANK, 0.012), long_run([], 600.0, 0.012)):
        assert (motor.starts_per_hour, motor.duty, motor.longest_run_s) == (0.0, 1.0, math.inf)


def test_without_demand_it_never_starts() -> None:
    for motor in (steady_duty(TANK, 0.0), long_run([], 600.0, 0.0)):
        assert (motor.starts_per_hour, motor.duty, motor.longest_run_s) == (0.0, 0.0, 0.0)


def test_the_busiest_hour_is_found_in_a_long_day() -> None:
    """Half demand for 1.5 h of an 8 h day and nothing else: the motor starts every 360 s, from 180 s on."""
    motor = long_run([Draw(3600.0, 9000.0, 0.005)], 8 * 3600.0, 0.0)
    assert motor.busiest_hour_starts == 10
    assert motor.starts_per_hour == pytest.approx(15 / 8)


def test_a_run_over_the_end_of_the_pass_counts_as_one() -> None:
    """The last draw ends with the pass; the filling goes on into the next one."""
    motor = long_run([Draw(500.0, 600.0, 0.010)], 600.0, 0.0)
    assert motor.longest_run_s == pytest.approx(100.0)
    assert motor.starts_per_hour == pytest.approx(6.0)
