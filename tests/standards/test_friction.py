import json
from pathlib import Path

import fluids
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafter.standards.friction import (
    LAMINAR_BELOW,
    TURBULENT_ABOVE,
    friction_factor,
    friction_with_slope,
)

REFERENCE = json.loads((Path(__file__).parents[1] / "data" / "pipe_flow.json").read_text(encoding="utf-8"))
roughnesses = st.floats(min_value=0.0, max_value=0.05)


@pytest.mark.parametrize("row", REFERENCE["friction_factors"]["rows"])
def test_reference_factors(row):
    assert friction_factor(row["Re"], row["eD"]) == pytest.approx(row["colebrook"], abs=5e-8)


@given(st.floats(min_value=TURBULENT_ABOVE, max_value=1e7), roughnesses)
def test_turbulent_factor_is_colebrooks(reynolds, roughness):
    """Clamond's iteration solves Colebrook's formula to machine accuracy."""
    exact = fluids.friction.Clamond(reynolds, roughness, False)
    assert friction_factor(reynolds, roughness) == pytest.approx(exact, rel=1e-10)


@given(st.floats(min_value=1e-3, max_value=LAMINAR_BELOW), roughnesses)
def test_laminar_factor(reynolds, roughness):
    assert friction_factor(reynolds, roughness) == pytest.approx(64.0 / reynolds, rel=1e-14)


def test_still_air_has_a_finite_factor_and_no_loss():
    factor = friction_factor([0.0, 1e-9], 1e-3)
    assert np.isfinite(factor).all()
    assert (factor * np.array([0.0, 1e-9]) ** 2 < 1e-9).all()


@pytest.mark.parametrize("edge", [LAMINAR_BELOW, TURBULENT_ABOVE])
@pytest.mark.parametrize("roughness", [0.0, 1e-3, 0.05])
def test_neither_factor_nor_slope_jumps_at_the_transition(edge, roughness):
    below, above = edge * (1.0 - 1e-9), edge * (1.0 + 1e-9)
    factor, slope = friction_with_slope([below, above], roughness)
    assert factor[0] == pytest.approx(factor[1], rel=1e-7)
    assert slope[0] == pytest.approx(slope[1], abs=1e-5)


@given(st.floats(min_value=0.0, max_value=8.0), roughnesses)
def test_slope_is_the_derivative(log_reynolds, roughness):
    step = 1e-5
    reynolds = 10.0 ** np.array([log_reynolds - step, log_reynolds, log_reynolds + step])
    factor, slope = friction_with_slope(reynolds, roughness)
    secant = (np.log(factor[2]) - np.log(factor[0])) / (2.0 * step * np.log(10.0))
    assert slope[1] == pytest.approx(secant, abs=2e-3)


@given(roughnesses)
def test_more_flow_always_loses_more(roughness):
    reynolds = np.logspace(-3, 8, 2000)
    assert (np.diff(friction_factor(reynolds, roughness) * reynolds**2) > 0.0).all()


def test_shapes_broadcast():
    assert friction_factor(np.ones((3, 1)) * 1e5, np.array([0.0, 1e-3])).shape == (3, 2)
