import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafter.standards import limits

TABLE = {1: 1.0, 2: 0.94, 3: 0.89, 4: 0.86, 5: 0.83, 6: 0.80, 8: 0.75, 10: 0.71, 15: 0.64, 20: 0.60}


@pytest.mark.parametrize("outlets", TABLE)
def test_simultaneity_table(outlets):
    """Common practice, handbook curves from memory."""
    assert limits.simultaneity(outlets) == pytest.approx(TABLE[outlets])


def test_simultaneity_between_and_beyond_the_steps():
    assert limits.simultaneity(7) == pytest.approx(0.775)
    assert limits.simultaneity(200) == 0.60


@given(st.integers(min_value=1, max_value=60))
def test_one_more_outlet_never_lowers_the_flow(outlets):
    assert limits.simultaneity(outlets) * outlets <= limits.simultaneity(outlets + 1) * (outlets + 1)
    assert limits.simultaneity(outlets) >= limits.simultaneity(outlets + 1)


@pytest.mark.parametrize("outlets", [0, -3])
def test_simultaneity_needs_an_outlet(outlets):
    with pytest.raises(ValueError, match="one outlet or more"):
        limits.simultaneity(outlets)


def test_every_limit_names_its_source():
    found = {name: value for name, value in vars(limits).items() if isinstance(value, limits.Limit)}
    assert len(found) > 10
    assert all(limit.source and limit.value > 0.0 for limit in found.values())


def test_preferred_velocities_lie_below_the_largest():
    assert limits.MAIN_VELOCITY_PREFERRED_M_S.value < limits.MAIN_VELOCITY_MAX_M_S.value
    assert limits.BRANCH_VELOCITY_PREFERRED_M_S.value < limits.BRANCH_VELOCITY_MAX_M_S.value
    assert limits.MAIN_VELOCITY_MAX_M_S.value < limits.BRANCH_VELOCITY_MAX_M_S.value
