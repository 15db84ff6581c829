"""Air against two independent property libraries: CoolProp (Lemmon 2000, Lemmon and Jacobsen 2004, IAPWS) and
psychrolib (ASHRAE Fundamentals)."""

import psychrolib
import pytest
from CoolProp.CoolProp import HAPropsSI, PropsSI
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.standards import air

psychrolib.SetUnitSystem(psychrolib.SI)
line_pressures = st.floats(min_value=1e5, max_value=13e5)
temperatures = st.floats(min_value=263.15, max_value=333.15)


@settings(deadline=None)
@given(line_pressures, temperatures)
def test_density(absolute_pa, temperature_k):
    """Z of air at 20 degC is 0.9996 at 1 bar and 0.9972 at 8 bar: 0.9 % off at 13 bar, -10 degC."""
    real = PropsSI("D", "P", absolute_pa, "T", temperature_k, "Air")
    assert air.density_kg_m3(absolute_pa, temperature_k) == pytest.approx(real, rel=0.01)


@pytest.mark.parametrize(("bar", "compressibility"), [(1.0, 0.9996), (8.0, 0.9972)])
def test_ideal_gas_is_off_by_the_compressibility(bar, compressibility):
    real = PropsSI("D", "P", bar * 1e5, "T", 293.15, "Air")
    assert air.density_kg_m3(bar * 1e5, 293.15) / real == pytest.approx(compressibility, abs=1e-4)


@settings(deadline=None)
@given(st.floats(min_value=1e5, max_value=10e5), temperatures)
def test_viscosity(absolute_pa, temperature_k):
    """Sutherland's formula knows no pressure: 0.6 % low at 1 bar and 60 degC, 1.2 % at 10 bar and -10 degC."""
    real = PropsSI("V", "P", absolute_pa, "T", temperature_k, "Air")
    assert air.viscosity_pa_s(temperature_k) == pytest.approx(real, rel=0.0125)


@settings(deadline=None)
@given(st.floats(min_value=273.16, max_value=333.15))
def test_saturation_over_water(temperature_k):
    """Buck's formula is good to 0.05 %, as ASHRAE and IAPWS see it."""
    saturation = air.saturation_pressure_pa(temperature_k)
    assert saturation == pytest.approx(psychrolib.GetSatVapPres(temperature_k - 273.15), rel=5e-4)
    assert saturation == pytest.approx(PropsSI("P", "T", temperature_k, "Q", 1, "Water"), rel=5e-4)


@settings(deadline=None)
@given(st.floats(min_value=233.15, max_value=273.15))
def test_saturation_over_ice(temperature_k):
    ashrae = psychrolib.GetSatVapPres(temperature_k - 273.15)
    assert air.saturation_pressure_pa(temperature_k) == pytest.approx(ashrae, rel=5e-4)


@settings(deadline=None)
@given(temperatures, st.floats(min_value=0.05, max_value=1.0), st.floats(min_value=0.7e5, max_value=1.05e5))
def test_dry_air_of_an_intake(temperature_k, relative_humidity, absolute_pa):
    """Dry air in a cubic metre of moist air, as CoolProp's humid air knows it: real gas, 0.1 % off at most."""
    moist_m3_kg = HAPropsSI("Vda", "T", temperature_k, "P", absolute_pa, "R", relative_humidity)
    free_air = air.intake_to_free_air(1.0, absolute_pa, temperature_k, relative_humidity)
    assert air.mass_flow_kg_s(free_air) == pytest.approx(1.0 / moist_m3_kg, rel=1e-3)


@settings(deadline=None)
@given(st.floats(min_value=1.0, max_value=59.0), st.floats(min_value=0.05, max_value=1.0))
def test_humidity_ratio(celsius, relative_humidity):
    vapour_pa = relative_humidity * air.saturation_pressure_pa(celsius + 273.15)
    ashrae = psychrolib.GetHumRatioFromRelHum(celsius, relative_humidity, air.STANDARD_ATMOSPHERE_PA)
    assert air.humidity_ratio(vapour_pa, air.STANDARD_ATMOSPHERE_PA) == pytest.approx(ashrae, rel=5e-4)
