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


HARD = {
    "two wide nozzles behind a short pipe": Plant(
        [(0, 1, 1.0, 0.009, 0.0, False), (0, 2, 0.2, 0.009, 0.0, False)],
        [0.0, 0.0, 0.0], [(0, 8e5)], [], [(2, 1.2e-7, 0.5), (2, 1.2e-7, 0.5)], [],
    ),
    "a draw beside two wide nozzles behind a regulator": Plant(
        [(0, 1, 0.24890443917345179, 0.009, 0.0, False)],
        [0.0, 0.0019283103469355232], [(0, 8e5)], [],
        [(1, 1.4179684511604775e-07, 0.2620528769294853), (1, 9.897334500069661e-08, 0.4514043586647867)],
        [(0, 841634.9884926203)],
    ),
    "a regulator on one of two short pipes": Plant(
        [(0, 1, 0.5, 0.009, 0.0, False), (0, 2, 0.7, 0.012, 0.0, False), (0, 2, 0.24660518, 0.009, 0.0, False)],
        [0.0, 0.000316227441412964, 0.003611023133946522], [(0, 8e5)], [],
        [(2, 1.286319094741287e-07, 0.33194434101635206), (2, 1.1619990444490835e-07, 0.5413713069325555)],
        [(1, 501379.22001602146)],
    ),
    "a regulator that feeds a ring through a nozzle's node": Plant(
        [(0, 1, 0.20886160174487567, 0.009, 0.0, False), (1, 2, 10.128571218552688, 0.012, 1.0585102328074216, False),
         (2, 3, 0.9776481272077432, 0.009, 0.0, False), (2, 1, 25.0, 0.012, 3.4655371385240086, False)],
        [0.0, 0.004, 0.0, 0.0], [(0, 8e5)],
        [(2, 1, 4.636644745987235e-08, 0.3004049504219752), (1, 3, 7.032270993064218e-08, 0.47161767333029403)],
        [(1, 1.0788454452593917e-07, 0.1327152995312197), (0, 3.9889585831036993e-08, 0.43923262679213326),
         (3, 3.1188762618149616e-08, 0.55), (2, 1.4500661266505747e-07, 0.3943908912908626)],
        [(3, 553489.8487959763), (1, 384323.2779690092)],
    ),
    "a nozzle that a restriction feeds at hardly more than it blows into": Plant(
        [(0, 1, 1.1, 0.027, 2.3021, True), (0, 2, 1.1324, 0.027, 2.4591, False), (2, 3, 0.2, 0.009, 0.0, False),
         (2, 4, 3.5181, 0.009, 1.6154, False), (0, 5, 4.8943, 0.009, 1.8797, False)],
        [0.0, 0.00204, 1e-5, 0.00204, 0.0, 0.0], [(0, 8e5)], [(1, 2, 1.22e-8, 0.1)], [(1, 1.4041e-7, 0.55)], [],
    ),
    "more drawn than the thin pipes to two regulators carry": Plant(
        [(0, 1, 2.1133, 0.035, 0.0078, False), (1, 2, 10.365, 0.004, 0.5285, False), (1, 3, 0.0563, 0.012, 5.0, False),
         (2, 4, 0.02, 0.009, 0.0548, False), (0, 5, 0.15068, 0.004, 5.0, False), (0, 6, 11.6107, 0.006, 0.0, False),
         (5, 3, 23.608, 0.006, 4.9213, False), (2, 1, 5.2389, 0.012, 1.4651, False)],
        [0.0, 0.01709, 0.00042829, 0.0, 0.0, 0.0, 0.0], [(0, 8e5)], [], [], [(6, 643876.7), (7, 362119.5)],
    ),
}  # fmt: skip


@pytest.mark.parametrize("plant", HARD.values(), ids=HARD)
def test_plants_in_which_newtons_method_once_crept_or_circled(plant):
    check(plant, plant.solve())


@given(st.floats(0.001, 2.0), st.floats(3e-7, 1e-4))
def test_however_wide_the_nozzle_a_choked_pipe_feeds_it_its_limit(length_m, conductance):
    plant = Plant([(0, 1, length_m, 0.009, 0.0, False)], [0.0, 0.0], [(0, 8e5)], [], [(1, conductance, 0.5)], [])
    state = plant.solve()
    check(plant, state)
    assert state.feasible
    (choked,) = state.choked
    assert choked.mass_flow_kg_s == pytest.approx(choked.limit_kg_s, rel=1e-6)


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
