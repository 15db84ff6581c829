"""Restrictions, nozzles, regulators, closed valves and islands, one at a time."""

import math

import numpy as np
import pytest

from drafter.sizing.solving import Nozzles, Regulators, RegulatorState, Restrictions, solve
from drafter.standards import air
from drafter.standards.components import restriction_flow_m3_s, restriction_outlet_pa
from drafter.standards.orifice import CRITICAL_RATIO, hole_conductance_m3_s_pa
from drafter.standards.valves import restriction_of_kv

ATMOSPHERE_PA = 101_325.0
LINE = {
    "start": [0, 1], "end": [1, 2], "length_m": [10.0, 10.0], "bore_m": [0.02, 0.02], "roughness_m": [1e-5] * 2,
    "loss_coefficient": [0.0] * 2, "node_count": 3, "outflow_kg_s": [0.0] * 3, "supply_nodes": [0],
    "supply_absolute_pa": [8e5], "temperature_k": 293.15,
}  # fmt: skip
BARE = LINE | {name: [] for name in ("start", "end", "length_m", "bore_m", "roughness_m", "loss_coefficient")}


def solved(**changes):
    return solve(**LINE | changes)


@pytest.mark.parametrize("temperature_k", [263.15, 293.15, 313.15])
def test_restriction_leaves_the_pressure_of_its_characteristic(temperature_k):
    state = solve(
        **BARE | {"temperature_k": temperature_k, "outflow_kg_s": [0.0, 0.0, 0.012]},
        restrictions=Restrictions([0, 2], [1, 1], [4e-8, 8e-8], [0.3, 0.2]),
    )
    free_m3_s = 0.012 / air.FREE_AIR_DENSITY_KG_M3
    middle = restriction_outlet_pa(4e-8, 0.3, 8e5, free_m3_s, temperature_k)
    assert state.absolute_pressure_pa[1:] == pytest.approx(
        [middle, restriction_outlet_pa(8e-8, 0.2, middle, free_m3_s, temperature_k)], rel=1e-9
    )
    assert state.restriction_flow_kg_s == pytest.approx([0.012, -0.012])


@pytest.mark.parametrize(("c", "b", "litres"), [(4, 0.3, 16.969), (4, 0.2, 15.985), (4, 0.5, 19.618)])
def test_computed_flows_of_the_iso_6358_formula(c, b, litres):
    """From 7.01325 to 6.01325 bar absolute, computed independently."""
    state = solve(
        **BARE | {"supply_nodes": [0, 1], "supply_absolute_pa": [7.01325e5, 6.01325e5]},
        restrictions=Restrictions([0], [1], [c * 1e-8], [b]),
    )
    assert state.restriction_flow_kg_s[0] / air.FREE_AIR_DENSITY_KG_M3 * 1e3 == pytest.approx(litres, abs=1e-3)


def test_restriction_in_line_passes_its_limit_and_no_more():
    conductance, ratio = restriction_of_kv(2.0)
    limit = air.mass_flow_kg_s(conductance * 8e5)
    below, above = (
        solve(
            **BARE | {"outflow_kg_s": [0.0, limit * share, 0.0]},
            restrictions=Restrictions([0], [1], [conductance], [ratio]),
        )
        for share in (1.0 - 1e-6, 1.0 + 1e-6)
    )
    assert below.feasible
    assert below.absolute_pressure_pa[1] == pytest.approx(ratio * 8e5, rel=0.01)
    assert not above.feasible
    (choked,) = above.choked
    assert choked.pipe == 0
    assert choked.limit_kg_s == pytest.approx(limit, rel=1e-12)
    assert math.isnan(above.absolute_pressure_pa[1])


def test_choked_restriction_before_a_larger_nozzle_passes_its_limit():
    state = solve(
        **BARE, restrictions=Restrictions([0], [1], [1e-8], [0.4]), nozzles=Nozzles([1], [4e-8], [0.4], [ATMOSPHERE_PA])
    )
    limit = air.mass_flow_kg_s(1e-8 * 8e5)
    assert state.feasible
    assert state.nozzle_flow_kg_s == pytest.approx([limit], rel=1e-6)
    assert ATMOSPHERE_PA < state.absolute_pressure_pa[1] < 0.4 * 8e5
    assert [pipe.pipe for pipe in state.choked] == [0]


def test_choked_pipe_beside_an_open_one_carries_its_limit():
    state = solved(
        start=[0, 0], end=[1, 1], bore_m=[0.009, 0.041], length_m=[1.0, 22.0], node_count=2,
        outflow_kg_s=[0.0, 1.14],
    )  # fmt: skip
    (choked,) = state.choked
    assert state.feasible
    assert choked.pipe == 0
    assert choked.mass_flow_kg_s == pytest.approx(choked.limit_kg_s, rel=1e-6)
    assert state.mass_flow_kg_s.sum() == pytest.approx(1.14)
    assert state.end_velocity_m_s[0] == pytest.approx(math.sqrt(air.GAS_CONSTANT_J_KG_K * 293.15), rel=1e-6)


@pytest.mark.parametrize("bore_m", [0.002, 0.003, 0.005])
def test_nozzle_draws_what_its_pressure_drives(bore_m):
    conductance = hole_conductance_m3_s_pa(bore_m)
    state = solved(nozzles=Nozzles([2], [conductance], [CRITICAL_RATIO], [ATMOSPHERE_PA]))
    before = state.absolute_pressure_pa[2]
    free = restriction_flow_m3_s(conductance, CRITICAL_RATIO, before, ATMOSPHERE_PA)
    assert state.nozzle_flow_kg_s == pytest.approx([air.mass_flow_kg_s(free)], rel=1e-9)
    same = solved(outflow_kg_s=[0.0, 0.0, state.nozzle_flow_kg_s[0]])
    assert same.absolute_pressure_pa == pytest.approx(state.absolute_pressure_pa, rel=1e-9)


def test_nozzle_takes_in_air_where_the_line_is_below_the_atmosphere():
    state = solved(supply_absolute_pa=[6e4], nozzles=Nozzles([2], [1e-8], [0.5], [ATMOSPHERE_PA]))
    assert state.nozzle_flow_kg_s[0] == pytest.approx(-air.mass_flow_kg_s(
        restriction_flow_m3_s(1e-8, 0.5, ATMOSPHERE_PA, state.absolute_pressure_pa[2])
    ))  # fmt: skip
    assert state.supplied_kg_s[0] < 0.0


@pytest.mark.parametrize(
    ("set_pa", "downstream_draw", "other_pa", "kind"),
    [
        (5e5, 0.002, None, RegulatorState.HOLDING),
        (7.9999e5, 0.02, None, RegulatorState.OPEN),
        (9e5, 0.002, None, RegulatorState.OPEN),
        (5e5, 0.002, 6e5, RegulatorState.SHUT),
        (math.inf, 0.002, 9e5, RegulatorState.SHUT),
        (math.inf, 0.002, 7e5, RegulatorState.OPEN),
    ],
)
def test_what_a_regulator_does(set_pa, downstream_draw, other_pa, kind):
    supplies = {"supply_nodes": [0, 2], "supply_absolute_pa": [8e5, other_pa]} if other_pa else {}
    state = solved(**supplies, outflow_kg_s=[0.0, downstream_draw, 0.0], regulators=Regulators([0], [set_pa]))
    assert state.converged
    assert state.regulators == (kind,)
    if kind is RegulatorState.HOLDING:
        assert state.absolute_pressure_pa[1] == pytest.approx(set_pa, rel=1e-8)
    if kind is RegulatorState.SHUT:
        assert state.mass_flow_kg_s[0] == pytest.approx(0.0, abs=1e-9)
        assert state.absolute_pressure_pa[1] > 5e5
    if kind is RegulatorState.OPEN:
        unregulated = solved(**supplies, outflow_kg_s=[0.0, downstream_draw, 0.0])
        assert state.absolute_pressure_pa == pytest.approx(unregulated.absolute_pressure_pa, rel=1e-9)


def test_the_higher_of_two_parallel_regulators_feeds():
    state = solved(
        start=[0, 0], end=[1, 1], node_count=2, outflow_kg_s=[0.0, 0.003], regulators=Regulators([0, 1], [5e5, 6e5])
    )
    assert state.regulators == (RegulatorState.SHUT, RegulatorState.HOLDING)
    assert state.absolute_pressure_pa[1] == pytest.approx(6e5, rel=1e-8)
    assert state.mass_flow_kg_s == pytest.approx([0.0, 0.003], abs=1e-9)


def test_regulators_in_series_hold_their_own_pressures():
    state = solved(outflow_kg_s=[0.0, 0.001, 0.002], regulators=Regulators([0, 1], [6e5, 4e5]))
    assert state.absolute_pressure_pa == pytest.approx([8e5, 6e5, 4e5], rel=1e-8)


def test_a_closed_valve_makes_an_island():
    state = solved(outflow_kg_s=[0.0, 0.001, 0.002], closed=[False, True])
    assert state.islands == ((2,),)
    assert not state.feasible
    assert state.converged
    assert math.isnan(state.absolute_pressure_pa[2])
    assert state.mass_flow_kg_s == pytest.approx([0.001, 0.0])


def test_islands_are_named_apart_and_harm_nothing_without_draws():
    state = solved(start=[0, 2, 4], end=[1, 3, 5], length_m=[5.0] * 3, bore_m=[0.02] * 3, roughness_m=[1e-5] * 3,
                   loss_coefficient=[0.0] * 3, node_count=7, outflow_kg_s=[0.0, 0.01, 0.0, 0.0, 0.0, 0.0, 0.0],
                   nozzles=Nozzles([5], [1e-8], [0.5], [ATMOSPHERE_PA]))  # fmt: skip
    assert state.islands == ((2, 3), (4, 5), (6,))
    assert state.feasible
    assert state.nozzle_flow_kg_s == pytest.approx([0.0])


def test_upstream_of_a_regulator_nothing_is_supplied_through_it():
    state = solved(supply_nodes=[2], outflow_kg_s=[0.001, 0.0, 0.0], regulators=Regulators([1], [5e5]))
    assert state.islands == ((0, 1),)
    assert not state.feasible


def test_two_equal_supplies_of_a_symmetric_network_share_alike():
    state = solved(supply_nodes=[0, 2], supply_absolute_pa=[8e5, 8e5], outflow_kg_s=[0.0, 0.01, 0.0])
    assert state.supplied_kg_s == pytest.approx([0.005, 0.005])


def test_a_closed_ring_is_its_opened_tree_where_nothing_flows():
    ring = {"start": [0, 0, 1, 2], "end": [1, 2, 3, 4], "outflow_kg_s": [0.0, 0.002, 0.002, 0.003, 0.003],
            "length_m": [8.0, 8.0, 5.0, 5.0], "bore_m": [0.016] * 4, "roughness_m": [1e-5] * 4,
            "loss_coefficient": [1.0] * 4, "node_count": 5}  # fmt: skip
    closing = {"start": 3, "end": 4, "length_m": 7.0, "bore_m": 0.012, "roughness_m": 1e-5, "loss_coefficient": 0.0}
    closed_ring = ring | {name: [*ring[name], value] for name, value in closing.items()}
    opened, closed = solved(**ring), solved(**closed_ring)
    assert closed.mass_flow_kg_s[4] == pytest.approx(0.0, abs=1e-10)
    assert closed.absolute_pressure_pa == pytest.approx(opened.absolute_pressure_pa, rel=1e-10)


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"closed": [True]}, "closed must hold true or false"),
        ({"closed": [0, 1]}, "closed must hold true or false"),
        ({"restrictions": Restrictions([0], [0], [1e-8], [0.3])}, "restriction 0 ends at the node where it starts"),
        ({"restrictions": Restrictions([0], [3], [1e-8], [0.3])}, "restrictions.end names a node outside 0 to 2"),
        ({"restrictions": Restrictions([0], [1], [0.0], [0.3])}, "restriction 0 has no conductance"),
        ({"restrictions": Restrictions([0], [1], [1e-8], [1.0])}, "restriction 0 has a critical ratio of 1 or more"),
        ({"restrictions": Restrictions([0], [1], [1e-8, 1e-8], [0.5])}, "sonic_conductance_m3_s_pa has the shape"),
        ({"nozzles": Nozzles([0], [1e-8], [-0.1], [1e5])}, "nozzles.critical_ratio holds a value below 0"),
        ({"nozzles": Nozzles([0], [1e-8], [0.3], [0.0])}, "nozzle 0 has no back pressure"),
        ({"regulators": Regulators([2], [5e5])}, "regulators.element names an element outside 0 to 1"),
        ({"regulators": Regulators([0, 0], [5e5, 4e5])}, "regulators.element names an element twice"),
        ({"regulators": Regulators([0], [0.0])}, "regulators.set_absolute_pa must be above zero"),
        ({"regulators": Regulators([0], [math.nan])}, "regulators.set_absolute_pa must be above zero"),
        ({"regulators": Regulators([0], [])}, "regulators.set_absolute_pa has the shape"),
    ],
)
def test_malformed_devices(changes, message):
    with pytest.raises(ValueError, match=message):
        solved(**changes)


def test_the_residual_says_how_well_the_laws_are_met():
    state = solved(outflow_kg_s=[0.0, 0.005, 0.01])
    assert 0.0 <= state.residual < 1e-11
    assert 1 <= state.iterations < 10
    assert np.isfinite(state.absolute_pressure_pa).all()
