import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafter.sizing.solving.pipe_law import choked_flow_kg_s, pipe_law
from drafter.standards.air import GAS_CONSTANT_J_KG_K, viscosity_pa_s


def law(length_m, bore_m, loss, roughness_m=7e-6):
    arrays = (np.atleast_1d(np.asarray(value, float)) for value in (length_m, bore_m, roughness_m, loss))
    return pipe_law(*arrays, 293.15, viscosity_pa_s(293.15), GAS_CONSTANT_J_KG_K)


@given(
    st.floats(min_value=0.0, max_value=50.0),
    st.floats(min_value=0.004, max_value=0.05),
    st.floats(min_value=0.01, max_value=20.0),
    st.floats(min_value=-6.0, max_value=-1.0),
)
def test_slope_is_the_derivative_of_the_drop(length_m, bore_m, loss, log_flow):
    pipe, flow = law(length_m, bore_m, loss), np.array([10.0**log_flow])
    step = flow * 1e-5
    secant = (pipe.drop_pa2(flow + step) - pipe.drop_pa2(flow - step)) / (2.0 * step)
    assert pipe.slope_pa2_s_kg(flow) == pytest.approx(secant, rel=1e-4)


def test_drop_turns_its_sign_with_the_flow():
    pipe = law([10.0, 5.0], [0.02, 0.01], [1.0, 0.0], [1e-6, 1e-6])
    flow = np.array([0.02, 0.003])
    assert pipe.drop_pa2(-flow) == pytest.approx(-pipe.drop_pa2(flow))
    assert pipe.slope_pa2_s_kg(-flow) == pytest.approx(pipe.slope_pa2_s_kg(flow))


@pytest.mark.parametrize(("length_m", "loss"), [(10.0, 0.0), (0.0, 0.5)])
def test_still_air_has_a_slope_above_zero(length_m, loss):
    pipe, still = law(length_m, 0.02, loss), np.zeros(1)
    assert pipe.drop_pa2(still) == 0.0
    assert pipe.slope_pa2_s_kg(still) > 0.0


def test_choked_flow_of_a_bore_without_resistance_is_isothermal_sonic():
    """p A / sqrt(R T): the isothermal speed of sound at the inlet's own pressure."""
    pipe = law(0.0, 0.01, 1e-12)
    expected = 8e5 * np.pi / 4.0 * 0.01**2 / np.sqrt(GAS_CONSTANT_J_KG_K * 293.15)
    assert choked_flow_kg_s(pipe, np.array([8e5])) == pytest.approx(expected, rel=1e-5)


def test_choked_flow_meets_the_pipe_law_at_the_choked_outlet():
    pipe = law([0.5, 20.0, 3.0], [0.006, 0.02, 0.05], [0.0, 5.0, 0.1], [7e-6] * 3)
    inlet_pa = np.array([7e5, 9e5, 3e5])
    flow = choked_flow_kg_s(pipe, inlet_pa)
    outlet_pa = np.sqrt(pipe.kinetic_pa2(flow))
    drop = pipe.drop_pa2(flow) + pipe.kinetic_pa2(flow) * 2.0 * np.log(inlet_pa / outlet_pa)
    assert inlet_pa**2 - outlet_pa**2 == pytest.approx(drop, rel=1e-9)
