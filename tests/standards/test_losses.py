import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafter.standards import losses

HALF_INCH_M, ONE_INCH_M = 0.622 * 0.0254, 1.049 * 0.0254


@pytest.mark.parametrize(
    ("name", "half_inch", "one_inch"),
    [
        ("elbow", 0.81, 0.69),
        ("elbow 45", 0.43, 0.37),
        ("bend", 0.38, 0.32),
        ("return bend", 1.35, 1.15),
        ("tee run", 0.54, 0.46),
        ("tee branch", 1.62, 1.38),
        ("ball valve", 0.08, 0.07),
        ("gate valve", 0.22, 0.18),
        ("check valve", 2.7, 2.3),
    ],
)
def test_crane_multiples(name, half_inch, one_inch):
    """Crane TP-410: n f_T with f_T 0.027 at 1/2 in and 0.023 at 1 in."""
    assert losses.fitting_loss(name, HALF_INCH_M) == pytest.approx(half_inch, abs=0.006)
    assert losses.fitting_loss(name, ONE_INCH_M) == pytest.approx(one_inch, abs=0.006)


def test_fixed_coefficients_do_not_change_with_the_bore():
    assert losses.fitting_loss("exit", HALF_INCH_M) == losses.fitting_loss("exit", ONE_INCH_M) == 1.0
    assert losses.fitting_loss("entrance", HALF_INCH_M) == 0.5


def test_unknown_fitting():
    with pytest.raises(ValueError, match="'elbo'; known: elbow"):
        losses.fitting_loss("elbo", HALF_INCH_M)


def test_every_fitting_names_its_source():
    assert all(losses.fitting_source(name) for name in losses.fitting_names())


@pytest.mark.parametrize(("beta", "loss"), [(0.5, 0.375), (0.75, 0.219), (0.8, 0.180)])
def test_contraction(beta, loss):
    """Crane TP-410 p. A-26, formula 1 at 180 degrees."""
    assert losses.contraction_loss(beta, 1.0) == pytest.approx(loss, abs=5e-4)


@pytest.mark.parametrize(("beta", "loss"), [(0.5, 0.563), (0.75, 0.191)])
def test_enlargement(beta, loss):
    """Crane TP-410 p. A-26."""
    assert losses.enlargement_loss(beta, 1.0) == pytest.approx(loss, abs=5e-4)


def test_insert_of_three_quarters_of_the_bore():
    """The two Crane formulas give 0.41 on the insert, 1.3 on the tube."""
    assert losses.insert_loss(0.016, 0.012) == pytest.approx(1.30, abs=0.005)
    assert losses.insert_loss(0.016, 0.016) == 0.0


def test_a_narrow_elbow_costs_as_practice_says():
    """Common practice: 2 to 4 for an elbow whose joint has three quarters of the bore."""
    assert 2.0 < losses.fitting_loss("elbow", 0.016, 0.75) < 4.5


@given(st.floats(min_value=0.004, max_value=0.06), st.floats(min_value=0.004, max_value=0.06))
def test_moving_a_loss_and_back(one_m, other_m):
    moved = losses.move_loss(2.0, one_m, other_m)
    assert losses.move_loss(moved, other_m, one_m) == pytest.approx(2.0)
    assert (moved > 2.0) == ((other_m / one_m) ** 4 > 1.0)


@given(st.floats(min_value=0.001, max_value=0.2), st.floats(min_value=1.0, max_value=1.5))
def test_rough_friction_never_rises_with_the_bore(bore_m, growth):
    assert losses.rough_friction_factor(bore_m) >= losses.rough_friction_factor(bore_m * growth)


def test_rough_friction_at_the_ends_of_the_table():
    assert losses.rough_friction_factor(0.004) == 0.0303
    assert losses.rough_friction_factor(0.1) == 0.018


@pytest.mark.parametrize(("bores", "multiple"), [(1, 20), (3, 12), (6, 17), (8, 24), (9, 27), (10, 30), (20, 50)])
def test_a_bend_and_straight_tube_as_long_are_crane_s_bend(bores, multiple):
    """Crane TP-410 p. A-29: n f_T with the friction of its own length, which is pi/2 radii at f_T."""
    bend = losses.bend_loss(ONE_INCH_M, bores * ONE_INCH_M, math.pi / 2)
    assert bend + math.pi / 2 * bores * 0.023 == pytest.approx(multiple * 0.023)


@given(st.floats(min_value=0.005, max_value=0.06), st.floats(min_value=1.0, max_value=30.0))
def test_a_bend_costs_less_than_an_elbow_and_half_a_turn_half_of_it(bore_m, bores):
    bend = losses.bend_loss(bore_m, bores * bore_m, math.pi / 2)
    assert 0.0 < bend < losses.fitting_loss("elbow", bore_m)
    assert losses.bend_loss(bore_m, bores * bore_m, math.pi / 4) == pytest.approx(bend / 2)
