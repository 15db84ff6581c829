"""What the solver does with choked pipes, idle legs, several supplies and malformed arrays."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafter.sizing.solving.solver import solve

SOUND = {
    "start": [0, 1],
    "end": [1, 2],
    "length_m": [10.0, 10.0],
    "bore_m": [0.02, 0.01],
    "roughness_m": [1.5e-6, 1.5e-6],
    "loss_coefficient": [0.0, 2.0],
    "node_count": 3,
    "outflow_kg_s": [0.0, 0.005, 0.005],
    "supply_nodes": [0],
    "supply_absolute_pa": [8e5],
    "temperature_k": 293.15,
}


def solved(**changes):
    return solve(**SOUND | changes)


@given(
    length_m=st.floats(min_value=0.01, max_value=100.0),
    bore_m=st.floats(min_value=0.004, max_value=0.05),
    loss=st.floats(min_value=0.0, max_value=50.0),
    inlet_pa=st.floats(min_value=1.2e5, max_value=16e5),
)
def test_a_pipe_passes_its_limit_and_no_more(length_m, bore_m, loss, inlet_pa):
    pipe = {"start": [0], "end": [1], "length_m": [length_m], "bore_m": [bore_m], "roughness_m": [1e-5],
            "loss_coefficient": [loss], "node_count": 2, "supply_absolute_pa": [inlet_pa]}  # fmt: skip
    (choked,) = solved(**pipe, outflow_kg_s=[0.0, 100.0]).choked
    assert choked.pipe == 0
    assert choked.mass_flow_kg_s == pytest.approx(100.0)
    below = solved(**pipe, outflow_kg_s=[0.0, choked.limit_kg_s * (1.0 - 1e-7)])
    assert below.converged
    assert below.choked == ()
    mach = below.end_velocity_m_s[0] / math.sqrt(1.4 * 287.055 * 293.15)
    assert 0.95 / math.sqrt(1.4) < mach <= 1.0 / math.sqrt(1.4)
    above = solved(**pipe, outflow_kg_s=[0.0, choked.limit_kg_s * (1.0 + 1e-5)])
    assert [pipe.pipe for pipe in above.choked] == [0]
    assert above.choked[0].limit_kg_s == pytest.approx(choked.limit_kg_s)


def test_behind_a_choked_pipe_the_pressure_is_unknown():
    state = solved(outflow_kg_s=[0.0, 0.005, 2.0])
    assert [pipe.pipe for pipe in state.choked] == [0]
    assert state.absolute_pressure_pa[0] == pytest.approx(8e5)
    assert np.isnan(state.absolute_pressure_pa[1:]).all()
    assert state.mass_flow_kg_s == pytest.approx([2.005, 2.0])


def test_a_choked_drop_leaves_the_rest_of_the_network_known():
    state = solved(
        start=[0, 1, 1], end=[1, 2, 3], length_m=[2.0, 5.0, 5.0], bore_m=[0.05, 0.006, 0.02],
        roughness_m=[1e-6] * 3, loss_coefficient=[0.0] * 3, node_count=4, outflow_kg_s=[0.0, 0.0, 0.1, 0.01],
    )  # fmt: skip
    assert [pipe.pipe for pipe in state.choked] == [1]
    assert state.choked[0].limit_kg_s < 0.1
    assert np.isnan(state.absolute_pressure_pa).tolist() == [False, False, True, False]


def test_no_demand_means_no_flow_and_one_pressure():
    state = solved(outflow_kg_s=[0.0, 0.0, 0.0])
    assert state.converged
    assert (state.mass_flow_kg_s == 0.0).all()
    assert state.absolute_pressure_pa == pytest.approx([8e5] * 3)
    assert (state.end_velocity_m_s == 0.0).all()


def test_an_idle_ring_leg_of_a_fitting_only():
    """A valve without length between two equal branches carries nothing."""
    state = solved(
        start=[0, 0, 1], end=[1, 2, 2], length_m=[10.0, 10.0, 0.0], bore_m=[0.02] * 3, roughness_m=[1e-6] * 3,
        loss_coefficient=[0.0, 0.0, 0.1], outflow_kg_s=[0.0, 0.01, 0.01],
    )  # fmt: skip
    assert state.converged
    assert state.mass_flow_kg_s == pytest.approx([0.01, 0.01, 0.0], abs=1e-8)


def test_equal_branches_share_the_flow():
    state = solved(start=[0, 0, 1], end=[1, 1, 2], length_m=[10.0, 10.0, 1.0], bore_m=[0.02] * 3,
                   roughness_m=[1e-6] * 3, loss_coefficient=[0.0] * 3, outflow_kg_s=[0.0, 0.0, 0.02])  # fmt: skip
    assert state.mass_flow_kg_s == pytest.approx([0.01, 0.01, 0.02])


def test_a_supply_at_lower_pressure_takes_air_back():
    state = solved(supply_nodes=[0, 2], supply_absolute_pa=[8e5, 7.9e5], outflow_kg_s=[0.0, 0.002, 0.0])
    assert state.converged
    assert state.supplied_kg_s[0] > 0.002
    assert state.supplied_kg_s.sum() == pytest.approx(0.002)
    assert 7.9e5 < state.absolute_pressure_pa[1] < 8e5


def test_air_put_in_counts_as_negative_draw():
    state = solved(outflow_kg_s=[0.0, 0.0, -0.003])
    assert state.mass_flow_kg_s == pytest.approx([-0.003, -0.003])
    assert state.absolute_pressure_pa[2] > state.absolute_pressure_pa[1] > 8e5


def test_the_draw_of_a_supply_node_is_supplied_there():
    assert solved(outflow_kg_s=[0.004, 0.001, 0.0]).supplied_kg_s == pytest.approx([0.005])


def test_nodes_without_supply_and_demand_are_left_out():
    state = solved(start=[0, 2], end=[1, 3], node_count=4, outflow_kg_s=[0.0, 0.01, 0.0, 0.0])
    assert state.converged
    assert np.isnan(state.absolute_pressure_pa).tolist() == [False, False, True, True]
    assert state.mass_flow_kg_s == pytest.approx([0.01, 0.0])


def test_supplies_only():
    state = solved(supply_nodes=[0, 1, 2], supply_absolute_pa=[8e5, 7.99e5, 7.98e5], outflow_kg_s=[0.0] * 3)
    assert state.converged
    assert (state.mass_flow_kg_s > 0.0).all()


def test_two_supplies_that_would_choke_the_pipe_between_them():
    state = solved(supply_nodes=[0, 2], supply_absolute_pa=[8e5, 1.1e5], outflow_kg_s=[0.0] * 3)
    assert [pipe.pipe for pipe in state.choked] == [1]


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"start": [0, 1, 1]}, "end has the shape"),
        ({"length_m": [10.0]}, "length_m has the shape"),
        ({"outflow_kg_s": [0.0, 0.0]}, "outflow_kg_s has the shape"),
        ({"supply_absolute_pa": [8e5, 8e5]}, "supply_absolute_pa has the shape"),
        ({"end": [1, 3]}, "end names a node outside 0 to 2"),
        ({"start": [-1, 1]}, "start names a node outside 0 to 2"),
        ({"start": [0.0, 1.0]}, "start must hold whole numbers"),
        ({"bore_m": [0.02, 0.0]}, "pipe 1 has no bore"),
        ({"length_m": [10.0, -1.0]}, "length_m holds a value below 0"),
        ({"length_m": [10.0, math.nan]}, "length_m holds a value that is not finite"),
        ({"length_m": [0.0, 10.0]}, "pipe 0 has neither length nor loss coefficient"),
        ({"end": [0, 2]}, "pipe 0 ends at the node where it starts"),
        ({"supply_nodes": [], "supply_absolute_pa": []}, "supply_nodes is empty"),
        ({"supply_nodes": [0, 0], "supply_absolute_pa": [8e5, 8e5]}, "supply_nodes names a node twice"),
        ({"supply_absolute_pa": [0.0]}, "supply_absolute_pa must be above zero"),
        ({"temperature_k": 0.0}, "temperature_k"),
        ({"gas_constant_j_kg_k": -1.0}, "gas_constant_j_kg_k"),
        ({"viscosity_pa_s": 0.0}, "viscosity_pa_s"),
    ],
)
def test_malformed_arrays(changes, message):
    with pytest.raises(ValueError, match=message):
        solved(**changes)
