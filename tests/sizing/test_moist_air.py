"""Moist air along bare pipe and through units: closed forms, energy, and what may never happen."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafter.site.model import Treatment
from drafter.sizing.moist_air import MoistAir, along_pipe, cooled_to, metres_to_room, through_unit
from drafter.standards.heat import HEAT_CAPACITY_J_KG_K, BarePipe, conductance_w_m_k
from drafter.standards.moisture import latent_heat_j_kg, saturated_ratio

PIPE = BarePipe(22.2e-3, 19.9e-3, 330.0, 0.5)
ROOM_K, SEA_PA = 303.15, 101_325.0
LINE_PA = 8e5 + SEA_PA


def saturated(deg_c: float, line_pa: float = LINE_PA) -> MoistAir:
    return MoistAir(deg_c + 273.15, line_pa, saturated_ratio(deg_c + 273.15, line_pa))


def dry(deg_c: float) -> MoistAir:
    return MoistAir(deg_c + 273.15, LINE_PA, 1e-5)


def test_a_short_run_of_dry_air_keeps_to_the_closed_form() -> None:
    """exp(-U L / (m c)), with the conductance at its beginning."""
    air, flow = dry(50.0), 0.008
    conductance = conductance_w_m_k(PIPE, air.temperature_k, ROOM_K, flow)
    wanted = ROOM_K + 20.0 * math.exp(-conductance * 0.4 / (flow * HEAT_CAPACITY_J_KG_K))
    assert along_pipe(air, PIPE, 0.4, ROOM_K, flow).temperature_k == pytest.approx(wanted, abs=1e-9)


def test_shorter_steps_change_little() -> None:
    whole = along_pipe(saturated(50.0), PIPE, 12.0, ROOM_K, 0.008)
    pieces = saturated(50.0)
    for _ in range(240):
        pieces = along_pipe(pieces, PIPE, 0.05, ROOM_K, 0.008)
    assert whole.temperature_k == pytest.approx(pieces.temperature_k, abs=0.15)


def test_the_heat_given_away_is_the_airs_and_its_waters() -> None:
    """Energy over half a metre: m (c dT + r dw) is what the conductance lets through, within 3 %."""
    air, flow = saturated(50.0), 0.008
    after = along_pipe(air, PIPE, 0.5, ROOM_K, flow)
    given = HEAT_CAPACITY_J_KG_K * (air.temperature_k - after.temperature_k)
    given += latent_heat_j_kg(air.temperature_k) * (air.ratio - after.ratio)
    mean_k = (air.temperature_k + after.temperature_k) / 2 - ROOM_K
    passed = conductance_w_m_k(PIPE, air.temperature_k, ROOM_K, flow) * 0.5 * mean_k
    assert flow * given == pytest.approx(passed, rel=0.03)


TEMPERATURES = st.floats(min_value=5.0, max_value=70.0)
LENGTHS = st.floats(min_value=0.0, max_value=60.0)
FLOWS = st.floats(min_value=1e-4, max_value=0.2)


@given(TEMPERATURES, LENGTHS, FLOWS)
def test_air_ends_between_where_it_began_and_the_room(deg_c: float, length_m: float, flow: float) -> None:
    air = saturated(deg_c)
    after = along_pipe(air, PIPE, length_m, ROOM_K, flow)
    low, high = sorted((air.temperature_k, ROOM_K))
    assert low - 1e-9 <= after.temperature_k <= high + 1e-9
    assert after.ratio + after.liquid_ratio == pytest.approx(air.ratio, rel=1e-12)
    assert after.ratio <= saturated_ratio(after.temperature_k, LINE_PA) * (1 + 1e-12)


@given(TEMPERATURES, LENGTHS, LENGTHS, FLOWS)
def test_a_longer_line_is_never_further_from_the_room(deg_c: float, one_m: float, other_m: float, flow: float) -> None:
    short, long = (along_pipe(saturated(deg_c), PIPE, length_m, ROOM_K, flow) for length_m in sorted((one_m, other_m)))
    assert abs(long.temperature_k - ROOM_K) <= abs(short.temperature_k - ROOM_K) + 1e-9
    assert long.ratio <= short.ratio + 1e-12


@given(TEMPERATURES, st.floats(min_value=1.05, max_value=10.0), st.floats(min_value=1.5e-3, max_value=0.2))
def test_more_flow_never_cools_better_once_turbulent(deg_c: float, factor: float, flow: float) -> None:
    """From a Reynolds number of 4000 on; where laminar flow becomes turbulent, more flow can cool better."""
    slow, fast = (along_pipe(dry(deg_c), PIPE, 5.0, ROOM_K, m) for m in (flow, flow * factor))
    assert abs(fast.temperature_k - ROOM_K) >= abs(slow.temperature_k - ROOM_K) - 0.02


def test_still_air_is_as_warm_as_the_room() -> None:
    assert along_pipe(saturated(50.0), PIPE, 0.3, ROOM_K, 0.0).temperature_k == ROOM_K
    assert along_pipe(saturated(50.0), PIPE, 0.0, ROOM_K, 0.0) == saturated(50.0)


def test_metres_to_the_room_are_the_first_that_do() -> None:
    length_m = metres_to_room(saturated(45.0), PIPE, ROOM_K, 0.004, 3.0)
    at_it, before = (along_pipe(saturated(45.0), PIPE, m, ROOM_K, 0.004) for m in (length_m, length_m - 0.5))
    assert at_it.temperature_k <= ROOM_K + 3.0 < before.temperature_k
    assert metres_to_room(saturated(32.0), PIPE, ROOM_K, 0.004, 3.0) == 0.0
    assert metres_to_room(saturated(60.0), PIPE, ROOM_K, 5.0, 3.0) == 200.0


def test_an_aftercooler_cools_to_10_k_above_the_room_and_keeps_the_water() -> None:
    air, given_off = through_unit(saturated(60.0), "aftercooler", ROOM_K, SEA_PA)
    assert air.temperature_k == pytest.approx(ROOM_K + 10.0)
    assert air.ratio == pytest.approx(saturated_ratio(ROOM_K + 10.0, air.absolute_pressure_pa))
    assert (air.liquid_ratio, given_off) == (0.0, 0.0)
    cool, _ = through_unit(saturated(35.0), "aftercooler", ROOM_K, SEA_PA)
    assert cool.temperature_k == pytest.approx(308.15)


@pytest.mark.parametrize(
    "kind, given, dew_point_deg_c",
    [
        ("refrigeration dryer", None, 3.0),
        ("refrigeration dryer", 7.0, 7.0),
        ("desiccant dryer", None, -40.0),
        ("desiccant dryer", -70.0, -70.0),
    ],
)
def test_a_dryers_dew_point(kind: str, given: float | None, dew_point_deg_c: float) -> None:
    entry = Treatment(kind=kind, dew_point_k=given + 273.15 if given is not None else None)
    before = saturated(40.0)
    air, given_off = through_unit(before, kind, ROOM_K, SEA_PA, entry)
    assert air.dew_point_k - 273.15 == pytest.approx(dew_point_deg_c, abs=0.01)
    assert given_off == pytest.approx(before.ratio - air.ratio if "desiccant" in kind else 0.0)
    assert air.temperature_k == (ROOM_K if "refrigeration" in kind else before.temperature_k)
    assert air.liquid_ratio == 0.0


def test_air_drier_than_the_dryer_stays_as_it_is() -> None:
    assert through_unit(dry(20.0), "refrigeration dryer", ROOM_K, SEA_PA)[0].ratio == 1e-5


def test_a_regulator_lowers_the_pressure_dew_point() -> None:
    """25 degC at 7 bar lets down to the atmosphere: -5.0 degC (`tests/data/air.json`); to 3 bar, between the two."""
    air = saturated(25.0, 7e5 + SEA_PA)
    less, _ = through_unit(air, "regulator", ROOM_K, SEA_PA, Treatment(kind="regulator", set_pa=3e5))
    none, _ = through_unit(air, "regulator", ROOM_K, SEA_PA, Treatment(kind="regulator", set_pa=0.0))
    assert less.absolute_pressure_pa == pytest.approx(3e5 + SEA_PA)
    assert none.dew_point_k - 273.15 == pytest.approx(-5.03, abs=0.02)
    assert none.dew_point_k < less.dew_point_k < air.dew_point_k


def test_a_filter_keeps_the_liquid_and_nothing_else() -> None:
    wet = replace(cooled_to(saturated(50.0), ROOM_K), liquid_ratio=0.004)
    air, given_off = through_unit(wet, "filter", ROOM_K, SEA_PA)
    assert (air.liquid_ratio, air.ratio, given_off) == (0.0, wet.ratio, 0.0)
    assert through_unit(wet, "lubricator", ROOM_K, SEA_PA)[0].liquid_ratio == 0.004
