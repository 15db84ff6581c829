"""Random networks with restrictions, nozzles, regulators, closed valves and several supplies."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from plants import Plant, check, plants

from drafter.sizing.solving import Nozzles, Regulators, Restrictions, sensitivity, solve, solve_cases


@settings(max_examples=300, deadline=None)
@given(plants())
def test_every_law_and_balance_holds(plant):
    check(plant, plant.solve())


@given(plants(regulated=False), st.floats(1.0, 100.0))
def test_heavy_draws_are_solved_or_named(plant, growth):
    heavy = replace(plant, outflow_kg_s=[draw * growth for draw in plant.outflow_kg_s])
    state = heavy.solve()
    check(heavy, state)
    unmet = any(
        draw and any(node in island for island in state.islands) for node, draw in enumerate(heavy.outflow_kg_s)
    )
    assert state.feasible or state.choked or unmet


@given(plants(), st.randoms(use_true_random=False))
def test_numbering_and_direction_do_not_matter(plant, shuffler):
    nodes = len(plant.outflow_kg_s)
    number = shuffler.sample(range(nodes), nodes)
    order = shuffler.sample(range(len(plant.pipes)), len(plant.pipes))
    held = {element for element, _ in plant.regulators}
    turned = [element not in held and shuffler.random() < 0.5 for element in order]
    other = Plant(
        pipes=[_moved(plant.pipes[element], number, turn) for element, turn in zip(order, turned, strict=True)],
        outflow_kg_s=[plant.outflow_kg_s[number.index(node)] for node in range(nodes)],
        supplies=[(number[node], pressure) for node, pressure in plant.supplies],
        restrictions=[_moved(row, number, False) for row in plant.restrictions],
        nozzles=[(number[node], *rest) for node, *rest in plant.nozzles],
        regulators=[
            (order.index(element) if element < len(order) else element, set_pa) for element, set_pa in plant.regulators
        ],
    )
    before, after = plant.solve(), other.solve()
    assert after.absolute_pressure_pa[number] == pytest.approx(before.absolute_pressure_pa, abs=20.0, nan_ok=True)
    assert after.nozzle_flow_kg_s == pytest.approx(before.nozzle_flow_kg_s, rel=1e-4, abs=1e-9)


def _moved(row, number, turn):
    start, end, *rest = row
    return (number[end], number[start], *rest) if turn else (number[start], number[end], *rest)


@given(plants(), st.data())
def test_closing_a_valve_is_the_same_as_removing_the_pipe(plant, data):
    index = data.draw(st.integers(0, len(plant.pipes) - 1))
    pipes = list(plant.pipes)
    pipes[index] = (*pipes[index][:-1], True)
    closed = replace(plant, pipes=pipes, regulators=[]).solve()
    del pipes[index]
    if not pipes:
        return
    removed = replace(plant, pipes=pipes, regulators=[]).solve()
    assert closed.absolute_pressure_pa == pytest.approx(removed.absolute_pressure_pa, rel=1e-9, nan_ok=True)
    assert closed.mass_flow_kg_s[index] == 0.0
    assert np.delete(closed.mass_flow_kg_s, index) == pytest.approx(removed.mass_flow_kg_s, abs=1e-9)
    assert closed.islands == removed.islands


@given(plants(regulated=False), st.data())
def test_a_regulator_set_above_every_supply_is_an_open_pipe(plant, data):
    open_state = plant.solve()
    forward = np.flatnonzero(open_state.mass_flow_kg_s > 1e-7).tolist()
    if not forward or not open_state.feasible:
        return
    regulated = replace(plant, regulators=[(data.draw(st.sampled_from(forward)), 1e6)]).solve()
    assert regulated.absolute_pressure_pa == pytest.approx(open_state.absolute_pressure_pa, rel=1e-6, nan_ok=True)
    assert regulated.mass_flow_kg_s == pytest.approx(open_state.mass_flow_kg_s, rel=1e-4, abs=1e-7)


@given(plants(regulated=False), st.data())
def test_sensitivity_is_the_slope_of_the_squared_pressure(plant, data):
    node = data.draw(st.integers(1, len(plant.outflow_kg_s) - 1))
    plant.outflow_kg_s[node] += 0.001
    state = plant.solve()
    quiet = np.abs(np.concatenate([state.mass_flow_kg_s, state.restriction_flow_kg_s])).min() < 1e-5
    if not state.feasible or state.choked or quiet or state.islands:
        return
    step = 1e-7
    squares = []
    for sign in (1.0, -1.0):
        outflow = list(plant.outflow_kg_s)
        outflow[node] += sign * step
        squares.append(replace(plant, outflow_kg_s=outflow).solve().absolute_pressure_pa ** 2)
    slope = (squares[0] - squares[1]) / (2.0 * step)
    found = sensitivity(state, np.arange(len(plant.outflow_kg_s)))
    assert found[:, node] == pytest.approx(slope, rel=5e-3, abs=2e-3 * np.abs(slope).max() + 1e5)


SOUND = {
    "start": [0, 1], "end": [1, 2], "length_m": [10.0, 10.0], "bore_m": [0.02, 0.02], "roughness_m": [1e-5] * 2,
    "loss_coefficient": [0.0] * 2, "node_count": 4, "supply_nodes": [0], "supply_absolute_pa": [8e5],
    "temperature_k": 293.15,
}  # fmt: skip


def test_cases_are_what_they_are_alone():
    devices = {
        "restrictions": Restrictions([1], [3], [4e-8], [0.3]),
        "nozzles": Nozzles([3, 2], [1e-8, 2e-8], [0.5, 0.5], [101_325.0] * 2),
        "regulators": Regulators([1, 2], [5e5, 4e5]),
    }
    draws = [[0.0, 0.001, 0.002, 0.0], [0.0, 0.0, 0.0, 0.0], [0.0, 0.0, 0.004, 0.001], [0.0, 0.0, 5.0, 0.0]]
    together = solve_cases(**SOUND, outflows_kg_s=draws, **devices)
    assert [state.feasible for state in together] == [True, True, True, False]
    for state, draw in zip(together, draws, strict=True):
        alone = solve(**SOUND, outflow_kg_s=draw, **devices)
        for name in ("absolute_pressure_pa", "mass_flow_kg_s", "restriction_flow_kg_s", "nozzle_flow_kg_s"):
            assert getattr(state, name) == pytest.approx(getattr(alone, name), rel=1e-7, abs=1e-9, nan_ok=True)
        assert state.regulators == alone.regulators
        assert [pipe.pipe for pipe in state.choked] == [pipe.pipe for pipe in alone.choked]


def test_no_cases():
    assert solve_cases(**SOUND, outflows_kg_s=np.empty((0, 4))) == ()
