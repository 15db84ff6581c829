"""Moist air against rules of thumb in print and two independent libraries."""

from __future__ import annotations

import math

import psychrolib
import pytest
from CoolProp import CoolProp
from hypothesis import given
from hypothesis import strategies as st

from drafter.standards import moisture
from drafter.standards.air import STANDARD_ATMOSPHERE_PA, dry_air_kg_s

CFM_M3_S = 0.3048**3 / 60.0
GALLON_KG = 3.785411784
DRY_J_KG_K = 1004.7


def kelvin(deg_f: float) -> float:
    return (deg_f + 459.67) / 1.8


@pytest.mark.parametrize("deg_c", [-30, -10, 0, 3, 20, 35, 50])
@pytest.mark.parametrize("absolute_pa", [101_325.0, 901_325.0])
def test_saturated_air_as_an_independent_library(deg_c, absolute_pa):
    psychrolib.SetUnitSystem(psychrolib.SI)
    library = psychrolib.GetHumRatioFromVapPres(psychrolib.GetSatVapPres(deg_c), absolute_pa)
    assert moisture.saturated_ratio(deg_c + 273.15, absolute_pa) == pytest.approx(library, rel=1.5e-3)


@pytest.mark.parametrize("deg_c, humidity", [(5, 0.6), (20, 0.5), (25, 0.6), (30, 0.7), (38, 0.6)])
def test_intake_as_an_independent_library(deg_c, humidity):
    library = CoolProp.HAPropsSI("W", "T", deg_c + 273.15, "P", 101_325.0, "R", humidity)
    assert moisture.intake_ratio(deg_c + 273.15, humidity, 101_325.0) == pytest.approx(library, rel=6e-3)


def test_a_day_of_500_cfm_by_the_rule_of_thumb():
    """500 scfm at 75 degF and 75 % a day: 90 gal taken in, 57 gal out at 100 degF and 100 psi, 29 gal more at 38 degF.

    Rule of thumb of the trade, as printed on a public page; it rounds up, hence 5 %.
    """
    dry_kg = dry_air_kg_s(500.0 * CFM_M3_S, STANDARD_ATMOSPHERE_PA, kelvin(75.0), 0.75) * 86_400.0
    line_pa = 100.0 * 6894.757 + STANDARD_ATMOSPHERE_PA
    taken_in = moisture.intake_ratio(kelvin(75.0), 0.75, STANDARD_ATMOSPHERE_PA)
    cooled, dried = (moisture.saturated_ratio(kelvin(deg_f), line_pa) for deg_f in (100.0, 38.0))
    gallons = [dry_kg * ratio / GALLON_KG for ratio in (taken_in, taken_in - cooled, cooled - dried)]
    assert gallons == pytest.approx([90.0, 57.0, 29.0], rel=0.05)


@given(st.floats(min_value=203.15, max_value=333.15), st.floats(min_value=1e5, max_value=1.6e6))
def test_the_dew_point_of_saturated_air_is_its_temperature(temperature_k, absolute_pa):
    ratio = moisture.saturated_ratio(temperature_k, absolute_pa)
    assert moisture.pressure_dew_point_k(ratio, absolute_pa) == pytest.approx(temperature_k, abs=0.02)


def test_bone_dry_air_has_a_dew_point_all_the_same():
    assert 150.0 < moisture.pressure_dew_point_k(0.0, 8e5) < 210.0


def test_boiling_water_is_carried_without_end():
    assert math.isinf(moisture.saturated_ratio(333.15, 1e4))


@pytest.mark.parametrize("deg_c", [0.1, 20, 40, 60, 80])
def test_latent_heat_as_an_independent_library(deg_c):
    states = [CoolProp.PropsSI("H", "T", deg_c + 273.15, "Q", quality, "Water") for quality in (1, 0)]
    assert moisture.latent_heat_j_kg(deg_c + 273.15) == pytest.approx(states[0] - states[1], rel=2e-3)


def test_cooling_saturated_air_takes_the_heat_of_its_water_too():
    """Enthalpy of saturated air at 8 bar absolute from 45 to 44 degC, less that of the water which leaves; 3 %."""
    first, second = (
        [CoolProp.HAPropsSI(what, "T", deg_c + 273.15, "P", 8e5, "R", 1.0) for what in "HW"] for deg_c in (45.0, 44.0)
    )
    water_j_kg = CoolProp.PropsSI("H", "T", 317.65, "Q", 0, "Water")
    enthalpy = first[0] - second[0] - (first[1] - second[1]) * water_j_kg
    ratio = moisture.saturated_ratio(317.65, 8e5)
    capacity = moisture.cooling_capacity_j_kg_k(317.65, ratio, 8e5, DRY_J_KG_K)
    assert capacity == pytest.approx(enthalpy, rel=0.03)
    assert moisture.cooling_capacity_j_kg_k(317.65, ratio * 0.9, 8e5, DRY_J_KG_K) == DRY_J_KG_K
