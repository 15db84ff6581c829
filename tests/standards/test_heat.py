"""Heat loss of bare pipe against a published worked example and two independent libraries."""

from __future__ import annotations

import math

import ht
import pytest
from CoolProp import CoolProp
from hypothesis import given
from hypothesis import strategies as st

from drafter.standards import heat
from drafter.standards.air import viscosity_pa_s

COPPER = heat.BarePipe(22.2e-3, 19.9e-3, 330.0, 0.5)


def test_a_worked_example_of_natural_convection():
    """6 m of horizontal pipe, 80 mm outside at 70 degC in a room at 20 degC: Ra 1.869e6, Nu 17.40, 443 W.

    Published exercise of a heat-transfer textbook, worked with the air table of that book (k 0.02699 W/(m K)).
    """
    assert heat.nusselt_outside(1.869e6, 0.7241) == pytest.approx(17.40, abs=0.005)
    lost_w = heat.convection_w_m2_k(343.15, 293.15, 0.08) * math.pi * 0.08 * 6.0 * 50.0
    assert lost_w == pytest.approx(443.0, rel=0.02)


def test_a_textbook_value_of_the_cylinder_correlation():
    """Ra 2.63e9 at Pr 0.69 after Bergman and others, Introduction to Heat Transfer, 6th ed., as `ht` quotes it."""
    assert heat.nusselt_outside(2.63e9 * 0.69, 0.69) == pytest.approx(139.135, abs=0.001)


@given(st.floats(min_value=1e2, max_value=1e9), st.floats(min_value=0.68, max_value=0.75))
def test_outside_as_an_independent_library(grashof, prandtl):
    library = ht.conv_free_immersed.Nu_horizontal_cylinder_Churchill_Chu(prandtl, grashof)
    assert heat.nusselt_outside(grashof * prandtl, prandtl) == pytest.approx(library, rel=1e-9)


@given(st.floats(min_value=4000.0, max_value=1e6), st.floats(min_value=0.68, max_value=0.75))
def test_inside_as_an_independent_library(reynolds, prandtl):
    petukhov = (0.79 * math.log(reynolds) - 1.64) ** -2
    library = ht.conv_internal.turbulent_Gnielinski(Re=reynolds, Pr=prandtl, fd=petukhov)
    assert heat.nusselt_inside(reynolds, prandtl) == pytest.approx(library, rel=1e-9)


@given(st.floats(min_value=0.0, max_value=2300.0))
def test_laminar_inside_as_an_independent_library(reynolds):
    assert heat.nusselt_inside(reynolds, 0.7) == ht.conv_internal.laminar_T_const()


@given(st.floats(min_value=1.0, max_value=1e5), st.floats(min_value=1.0001, max_value=2.0))
def test_faster_air_never_gives_less_inside(reynolds, factor):
    assert heat.nusselt_inside(reynolds * factor, 0.7) >= heat.nusselt_inside(reynolds, 0.7)


def test_no_jump_between_laminar_and_turbulent():
    for edge in (2300.0, 4000.0):
        below, above = heat.nusselt_inside(edge * (1 - 1e-9), 0.7), heat.nusselt_inside(edge * (1 + 1e-9), 0.7)
        assert below == pytest.approx(above, rel=1e-6)


@pytest.mark.parametrize("deg_c", [-20, 0, 20, 45, 70, 100])
def test_properties_as_an_independent_library(deg_c):
    kelvin = deg_c + 273.15
    conductivity = CoolProp.PropsSI("conductivity", "T", kelvin, "P", 101_325.0, "Air")
    assert heat.conductivity_w_m_k(kelvin) == pytest.approx(conductivity, rel=0.02)
    number = CoolProp.PropsSI("Prandtl", "T", kelvin, "P", 101_325.0, "Air")
    assert heat.prandtl(kelvin) == pytest.approx(number, rel=0.03)
    assert pytest.approx(CoolProp.PropsSI("C", "T", kelvin, "P", 101_325.0, "Air"), rel=0.01) == (
        heat.HEAT_CAPACITY_J_KG_K
    )


def test_radiation_of_a_black_pipe():
    """Difference of the fourth powers, Stefan and Boltzmann: 5.670374e-8 (343.15^4 - 293.15^4) W/m2."""
    flux = heat.radiation_w_m2_k(343.15, 293.15, 1.0) * 50.0
    assert flux == pytest.approx(5.670374e-8 * (343.15**4 - 293.15**4), rel=1e-12)


def test_resistances_in_series_balance():
    """The heat that leaves the surface found is the heat that the whole passes."""
    air_k, room_k, flow = 323.15, 293.15, 0.01
    per_metre = heat.conductance_w_m_k(COPPER, air_k, room_k, flow) * (air_k - room_k)
    reynolds = 4.0 * flow / (math.pi * COPPER.bore_m * viscosity_pa_s(air_k))
    inside = math.pi * heat.nusselt_inside(reynolds, heat.prandtl(air_k)) * heat.conductivity_w_m_k(air_k)
    wall = math.log(COPPER.outside_m / COPPER.bore_m) / (2 * math.pi * COPPER.conductivity_w_m_k)
    surface_k = air_k - per_metre * (1 / inside + wall)
    coefficient = heat.convection_w_m2_k(surface_k, room_k, COPPER.outside_m)
    coefficient += heat.radiation_w_m2_k(surface_k, room_k, COPPER.emissivity)
    assert coefficient * math.pi * COPPER.outside_m * (surface_k - room_k) == pytest.approx(per_metre, rel=1e-3)


def test_what_helps_heat_out_helps():
    base = heat.conductance_w_m_k(COPPER, 323.15, 293.15, 0.01)
    plastic = heat.BarePipe(COPPER.outside_m, COPPER.bore_m, 0.25, COPPER.emissivity)
    painted = heat.BarePipe(COPPER.outside_m, COPPER.bore_m, COPPER.conductivity_w_m_k, 0.9)
    assert heat.conductance_w_m_k(plastic, 323.15, 293.15, 0.01) < base
    assert heat.conductance_w_m_k(painted, 323.15, 293.15, 0.01) > base
    assert heat.conductance_w_m_k(COPPER, 323.15, 293.15, 0.02) > base
    assert heat.conductance_w_m_k(COPPER, 293.15, 293.15, 0.01) > 0.0
