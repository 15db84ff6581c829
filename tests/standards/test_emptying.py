import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from drafter.standards.components import restriction_flow_m3_s
from drafter.standards.emptying import emptying_time_s, pressure_after_pa
from drafter.standards.orifice import CRITICAL_RATIO, hole_conductance_m3_s_pa, orifice_free_air_m3_s

OUTSIDE_PA = 101_325.0
ratios = st.floats(min_value=0.2, max_value=0.6)
ends = st.floats(min_value=1.02e5, max_value=9e5)


def integrated_s(volume_m3, start_pa, end_pa, free_air_m3_s):
    """The same time from a Runge-Kutta integration of the mass balance."""

    def reached(_time, pressure):
        return pressure[0] - end_pa

    reached.terminal = True
    fall = solve_ivp(
        lambda _time, pressure: [-free_air_m3_s(pressure[0]) * 1e5 / volume_m3],
        (0.0, 1e7), [start_pa], events=reached, rtol=1e-9, atol=1e-3,
    )  # fmt: skip
    return fall.t_events[0][0]


@pytest.mark.parametrize("end_pa", [8e5, 3e5, 1.5e5, 1.05e5])
@pytest.mark.parametrize("critical_ratio", [0.2, 0.3, 0.5])
def test_time_is_that_of_an_integrated_mass_balance(end_pa, critical_ratio):
    expected = integrated_s(
        0.1, 9.5e5, end_pa, lambda pressure: restriction_flow_m3_s(3e-8, critical_ratio, pressure, OUTSIDE_PA)
    )
    assert emptying_time_s(0.1, 9.5e5, end_pa, OUTSIDE_PA, 3e-8, critical_ratio) == pytest.approx(expected, rel=1e-5)


@pytest.mark.parametrize("end_pa", [8e5, 3e5, 1.5e5, 1.05e5])
def test_a_hole_empties_as_isentropic_discharge_does(end_pa):
    """ISO 6358's ellipse stands for the nozzle formula below the critical ratio, within 0.1 %."""
    expected = integrated_s(0.1, 9.5e5, end_pa, lambda pressure: orifice_free_air_m3_s(0.002, pressure, OUTSIDE_PA))
    conductance = hole_conductance_m3_s_pa(0.002)
    time_s = emptying_time_s(0.1, 9.5e5, end_pa, OUTSIDE_PA, conductance, CRITICAL_RATIO)
    assert time_s == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize("temperature_k", [263.15, 313.15])
def test_warm_air_empties_sooner(temperature_k):
    """The same mass balance with the gas law at another temperature: dp = -q p0 T / (T0 V) dt."""

    def counted_at_temperature(pressure):
        return restriction_flow_m3_s(3e-8, 0.3, pressure, OUTSIDE_PA, temperature_k) * temperature_k / 293.15

    expected = integrated_s(0.1, 9.5e5, 1.5e5, counted_at_temperature)
    time_s = emptying_time_s(0.1, 9.5e5, 1.5e5, OUTSIDE_PA, 3e-8, 0.3, temperature_k)
    assert time_s == pytest.approx(expected, rel=1e-5)
    assert (time_s < emptying_time_s(0.1, 9.5e5, 1.5e5, OUTSIDE_PA, 3e-8, 0.3)) == (temperature_k > 293.15)


def test_choked_fall_by_hand():
    """100 l through 3 l/(s bar): time constant 33.33 s; from 9 to 4.5 bar absolute ln 2 of it."""
    assert emptying_time_s(0.1, 9e5, 4.5e5, OUTSIDE_PA, 3e-8, 0.3) == pytest.approx(100.0 / 3.0 * math.log(2.0))


@settings(deadline=None)
@given(ends, ratios, st.floats(min_value=250.0, max_value=330.0))
def test_pressure_after_undoes_the_time(end_pa, critical_ratio, temperature_k):
    restriction = OUTSIDE_PA, 3e-8, critical_ratio, temperature_k
    time_s = emptying_time_s(0.05, 9.5e5, end_pa, *restriction)
    assert pressure_after_pa(0.05, 9.5e5, time_s, *restriction) == pytest.approx(end_pa, rel=1e-6)


@settings(deadline=None)
@given(ends, ends, ratios)
def test_times_of_two_falls_add_up(one_pa, other_pa, critical_ratio):
    restriction = OUTSIDE_PA, 3e-8, critical_ratio
    low_pa, high_pa = sorted((one_pa, other_pa))
    whole = emptying_time_s(0.1, 9.5e5, low_pa, *restriction)
    parts = emptying_time_s(0.1, 9.5e5, high_pa, *restriction) + emptying_time_s(0.1, high_pa, low_pa, *restriction)
    assert parts == pytest.approx(whole, rel=1e-9)


def test_it_is_empty_in_the_end():
    empty_s = emptying_time_s(0.1, 9.5e5, OUTSIDE_PA, OUTSIDE_PA, 3e-8, 0.3)
    assert math.isfinite(empty_s)
    assert pressure_after_pa(0.1, 9.5e5, 2.0 * empty_s, OUTSIDE_PA, 3e-8, 0.3) == OUTSIDE_PA


@pytest.mark.parametrize("pressures", [(8e5, 9e5, 1e5), (8e5, 0.9e5, 1e5), (8e5, 2e5, 0.0), (math.nan, 2e5, 1e5)])
def test_pressures_that_do_not_fall(pressures):
    with pytest.raises(ValueError, match="pressures must fall"):
        emptying_time_s(0.1, *pressures, 3e-8, 0.3)
