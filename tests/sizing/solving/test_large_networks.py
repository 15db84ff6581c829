"""Large networks: sparse and dense steps agree, everything hangs together, another library finds the same."""

import json
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from networks import grid, piping, tree

from drafter.sizing.solving import linear_step, sensitivity
from drafter.sizing.solving.reach import component_labels

OTHER = json.loads((Path(__file__).parents[2] / "data" / "pandapipes.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize("shape", [tree(300), grid(400)], ids=["tree", "grid"])
def test_sparse_and_dense_steps_agree(shape, monkeypatch):
    network = piping(shape)
    sparse = network.solve()
    by_draw = sensitivity(sparse, [5, 0, 40])
    monkeypatch.setattr(linear_step, "SPARSE_ABOVE", 10_000)
    dense = network.solve()
    assert sparse.absolute_pressure_pa == pytest.approx(dense.absolute_pressure_pa, rel=1e-10)
    assert sparse.mass_flow_kg_s == pytest.approx(dense.mass_flow_kg_s, rel=1e-6, abs=1e-9)
    assert by_draw == pytest.approx(sensitivity(dense, [5, 0, 40]), rel=1e-5)
    assert (by_draw[1] == 0.0).all()


@pytest.mark.parametrize("shape", [tree(10_000, children=1), tree(10_000), grid(10_000)], ids=["line", "tree", "mesh"])
def test_ten_thousand_pipes(shape):
    network = piping(shape, drop_pa=1e5)
    state = network.solve()
    assert state.converged
    assert state.feasible
    balance = network.outflow_kg_s.copy()
    np.add.at(balance, network.start, state.mass_flow_kg_s)
    np.subtract.at(balance, network.end, state.mass_flow_kg_s)
    assert balance[0] == pytest.approx(network.outflow_kg_s.sum())
    assert np.abs(balance[1:]).max() < 1e-12


@given(st.integers(1, 40), st.lists(st.tuples(st.integers(0, 39), st.integers(0, 39)), max_size=60))
def test_labels_are_the_lowest_number_of_each_component(count, pairs):
    pairs = [(one % count, other % count) for one, other in pairs]
    expected = list(range(count))
    for _ in range(count):
        for one, other in pairs:
            expected[one] = expected[other] = min(expected[one], expected[other])
    start, end = (np.array([pair[side] for pair in pairs], np.intp) for side in (0, 1))
    assert component_labels(start, end, count).tolist() == expected


def test_small_networks_do_without_scipy():
    """Its import takes longer than a whole small job."""
    program = (
        "import sys; from drafter.sizing.solving import solve; "
        "solve([0], [1], [5.0], [0.02], [1e-5], [0.0], 2, [0.0, 0.01], [0], [8e5], 293.15); "
        "sys.exit('scipy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0


def other_network(row):
    shape = {"tree": tree, "grid": grid}[row["shape"]](row["pipes"])
    return piping(shape, drop_pa=row["drop_pa"], seed=row["seed"])


@pytest.mark.parametrize("row", OTHER["networks"], ids=lambda row: f"{row['shape']}-{row['pipes']}")
def test_pressures_another_library_finds(row):
    network = other_network(row)
    assert network.outflow_kg_s.sum() == pytest.approx(row["draw_kg_s"], rel=1e-9)
    lost_pa = 8e5 - network.solve().absolute_pressure_pa
    assert lost_pa == pytest.approx(8e5 - np.array(row["absolute_pressure_pa"]), rel=OTHER["tolerance"], abs=5.0)


@pytest.mark.filterwarnings("ignore")
def test_the_stored_pressures_are_those_of_the_library():
    pytest.importorskip("pandapipes")
    from pandapipes_network import colebrook_pressures_pa, pandapipes_network

    row = OTHER["networks"][0]
    found = colebrook_pressures_pa(pandapipes_network(other_network(row)))
    assert found == pytest.approx(row["absolute_pressure_pa"], abs=1.0)
