"""What must hold for any network."""

from dataclasses import dataclass, replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafter.sizing.solving.solver import solve

BORES_M = (0.009, 0.012, 0.016, 0.021, 0.027, 0.035, 0.041)


@dataclass(frozen=True)
class Pipework:
    """Node 0 is the supply at 8 bar absolute; pipes are (start, end, length_m, bore_m, loss_coefficient)."""

    pipes: tuple[tuple[int, int, float, float, float], ...]
    outflow_kg_s: tuple[float, ...]

    def solve(self):
        start, end, length, bore, loss = zip(*self.pipes, strict=True)
        roughness = [7e-6] * len(start)
        return solve(
            start, end, length, bore, roughness, loss, len(self.outflow_kg_s), self.outflow_kg_s, [0], [8e5], 293.15
        )


@st.composite
def pipework(draw, rings=True):
    nodes = draw(st.integers(min_value=2, max_value=9))
    ends = [(draw(st.integers(0, node - 1)), node) for node in range(1, nodes)]
    for _ in range(draw(st.integers(0, 3)) if rings and nodes > 2 else 0):
        start = draw(st.integers(0, nodes - 1))
        ends.append((start, (start + draw(st.integers(1, nodes - 1))) % nodes))
    pipes = tuple(
        (start, end, draw(st.floats(0.2, 25.0)), draw(st.sampled_from(BORES_M)), draw(st.floats(0.0, 5.0)))
        for start, end in ends
    )
    draws = [draw(st.one_of(st.just(0.0), st.floats(1e-6, 0.004))) for _ in range(nodes - 1)]
    return Pipework(pipes, (0.0, *draws))


def works(network):
    state = network.solve()
    assert state.converged
    return not state.choked


@given(pipework())
def test_what_flows_in_flows_out(network):
    state = network.solve()
    balance = -np.array(network.outflow_kg_s)
    balance[0] += state.supplied_kg_s[0]
    for (start, end, *_), flow in zip(network.pipes, state.mass_flow_kg_s, strict=True):
        balance[start] -= flow
        balance[end] += flow
    assert np.abs(balance).max() <= 1e-12
    assert state.supplied_kg_s[0] == pytest.approx(sum(network.outflow_kg_s), abs=1e-12)


@given(pipework())
def test_every_pipe_obeys_its_law(network):
    state = network.solve()
    for index, (start, end, length_m, bore_m, loss) in enumerate(network.pipes):
        start_pa, end_pa = state.absolute_pressure_pa[[start, end]]
        if np.isnan(start_pa) or np.isnan(end_pa):
            continue
        flow = state.mass_flow_kg_s[index]
        flux_squared = (flow / (np.pi / 4.0 * bore_m**2)) ** 2 * 287.055 * 293.15
        resistance = state.friction_factor[index] * length_m / bore_m + loss
        drop = flux_squared * (np.sign(flow) * resistance + 2.0 * np.log(start_pa / end_pa))
        assert start_pa**2 - end_pa**2 == pytest.approx(drop, rel=1e-6, abs=1e-9 * 8e5**2)


@given(pipework())
def test_pressure_falls_along_the_flow(network):
    state = network.solve()
    for (start, end, *_), flow in zip(network.pipes, state.mass_flow_kg_s, strict=True):
        start_pa, end_pa = state.absolute_pressure_pa[[start, end]]
        if abs(flow) > 1e-6 and not np.isnan(start_pa + end_pa):
            assert (start_pa > end_pa) == (flow > 0.0)


@given(pipework(), st.randoms(use_true_random=False))
def test_numbering_and_direction_do_not_matter(network, shuffler):
    nodes = len(network.outflow_kg_s)
    numbers = [0, *shuffler.sample(range(1, nodes), nodes - 1)]
    order = shuffler.sample(range(len(network.pipes)), len(network.pipes))
    turned = [shuffler.random() < 0.5 for _ in order]
    pipes = []
    for index, turn in zip(order, turned, strict=True):
        start, end, *rest = network.pipes[index]
        ends = (numbers[end], numbers[start]) if turn else (numbers[start], numbers[end])
        pipes.append((*ends, *rest))
    outflow = [0.0] * nodes
    for node, draw in enumerate(network.outflow_kg_s):
        outflow[numbers[node]] = draw
    before, after = network.solve(), Pipework(tuple(pipes), tuple(outflow)).solve()
    assert after.absolute_pressure_pa[numbers] == pytest.approx(before.absolute_pressure_pa, abs=0.1, nan_ok=True)
    signs = np.where(turned, -1.0, 1.0)
    assert signs * after.mass_flow_kg_s == pytest.approx(before.mass_flow_kg_s[order], abs=1e-7)


@given(pipework(rings=False), st.data())
def test_a_larger_bore_never_lowers_a_pressure_in_a_tree(network, data):
    if not works(network):
        return
    index = data.draw(st.integers(0, len(network.pipes) - 1))
    start, end, length_m, bore_m, loss = network.pipes[index]
    wider = (start, end, length_m, bore_m * data.draw(st.floats(1.0, 3.0)), loss)
    pipes = (*network.pipes[:index], wider, *network.pipes[index + 1 :])
    before, after = network.solve(), replace(network, pipes=pipes).solve()
    assert not after.choked
    assert (after.absolute_pressure_pa >= before.absolute_pressure_pa - 0.01).all()


@given(pipework(rings=False), st.data())
def test_more_draw_never_raises_a_pressure_in_a_tree(network, data):
    node = data.draw(st.integers(1, len(network.outflow_kg_s) - 1))
    outflow = list(network.outflow_kg_s)
    outflow[node] += data.draw(st.floats(0.0, 0.01))
    before, after = network.solve(), replace(network, outflow_kg_s=tuple(outflow)).solve()
    known = ~np.isnan(after.absolute_pressure_pa)
    assert (after.absolute_pressure_pa[known] <= before.absolute_pressure_pa[known] + 0.01).all()


@given(pipework(), st.floats(min_value=1.0, max_value=1000.0))
def test_any_draw_is_solved_and_never_raises(network, growth):
    state = replace(network, outflow_kg_s=tuple(draw * growth for draw in network.outflow_kg_s)).solve()
    assert state.converged
    assert state.feasible == (not np.isnan(state.absolute_pressure_pa).any())
    assert state.feasible or state.choked
    assert all(abs(pipe.mass_flow_kg_s) > pipe.limit_kg_s * (1.0 - 1e-6) for pipe in state.choked)
