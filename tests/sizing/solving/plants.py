"""Random networks with everything that may stand in one, and a check of their solutions by other means."""

from __future__ import annotations

from dataclasses import dataclass

import fluids
import numpy as np
from hypothesis import strategies as st

from drafter.sizing.solving import Nozzles, Regulators, RegulatorState, Restrictions, Solution, solve
from drafter.standards import air
from drafter.standards.components import restriction_flow_m3_s
from drafter.standards.friction import friction_factor

TEMPERATURE_K, ATMOSPHERE_PA, ROUGHNESS_M = 293.15, 101_325.0, 7e-6
BORES_M = (0.009, 0.012, 0.016, 0.021, 0.027, 0.035, 0.041)


@dataclass(frozen=True)
class Plant:
    """Rows of: pipes (start, end, length_m, bore_m, loss, closed), draws, supplies (node, pressure), restrictions
    (start, end, C, b), nozzles (node, C, b), regulators (element, set pressure)."""

    pipes: list[tuple[int, int, float, float, float, bool]]
    outflow_kg_s: list[float]
    supplies: list[tuple[int, float]]
    restrictions: list[tuple[int, int, float, float]]
    nozzles: list[tuple[int, float, float]]
    regulators: list[tuple[int, float]]

    def solve(self) -> Solution:
        start, end, length, bore, loss, closed = (list(column) for column in zip(*self.pipes, strict=True))
        nodes, pressures = zip(*self.supplies, strict=True)
        return solve(
            start, end, length, bore, [ROUGHNESS_M] * len(start), loss, len(self.outflow_kg_s), self.outflow_kg_s,
            nodes, pressures, TEMPERATURE_K, closed=closed,
            restrictions=Restrictions(*_columns(self.restrictions, 4)),
            nozzles=Nozzles(*_columns([(*nozzle, ATMOSPHERE_PA) for nozzle in self.nozzles], 4)),
            regulators=Regulators(*_columns(self.regulators, 2)),
        )  # fmt: skip


def _columns(rows: list[tuple[float, ...]], count: int) -> list[list[float]]:
    return [[row[place] for row in rows] for place in range(count)]


@st.composite
def plants(draw: st.DrawFn, regulated: bool = True) -> Plant:
    """Networks of up to nine nodes, most of them working."""
    nodes = draw(st.integers(2, 9))

    def pair() -> tuple[int, int]:
        start = draw(st.integers(0, nodes - 1))
        return start, (start + draw(st.integers(1, nodes - 1))) % nodes

    ends = [(draw(st.integers(0, node - 1)), node) for node in range(1, nodes)]
    ends += [pair() for _ in range(draw(st.integers(0, 3)))]
    pipes = [
        (*way, draw(st.floats(0.2, 25.0)), draw(st.sampled_from(BORES_M)), draw(st.floats(0.0, 5.0)),
         draw(st.integers(0, 9)) == 9)
        for way in ends
    ]  # fmt: skip
    conductance, ratio = st.floats(5e-9, 1.5e-7), st.floats(0.1, 0.55)
    restrictions = [(*pair(), draw(conductance), draw(ratio)) for _ in range(draw(st.integers(0, 2)))]
    nozzles = [
        (draw(st.integers(0, nodes - 1)), draw(conductance), draw(ratio)) for _ in range(draw(st.integers(0, 3)))
    ]
    supplies = [(0, 8e5)]
    if draw(st.booleans()):
        supplies.append((draw(st.integers(1, nodes - 1)), draw(st.floats(6e5, 9e5))))
    elements = st.integers(0, len(pipes) + len(restrictions) - 1)
    chosen = draw(st.lists(elements, max_size=2, unique=True)) if regulated else []
    set_pa = st.one_of(st.floats(2e5, 9e5), st.just(float("inf")))
    draws = [draw(st.one_of(st.just(0.0), st.floats(1e-6, 0.004))) for _ in range(nodes - 1)]
    return Plant(pipes, [0.0, *draws], supplies, restrictions, nozzles, [(number, draw(set_pa)) for number in chosen])


def check(plant: Plant, state: Solution) -> None:
    """Hold every element against a formula that the solver does not use, and every node against its balance."""
    assert state.converged
    balance = np.array(plant.outflow_kg_s)
    regulators = dict(zip([number for number, _ in plant.regulators], state.regulators, strict=True))
    choked = {pipe.pipe for pipe in state.choked}
    pressure = state.absolute_pressure_pa
    idle = max(1e-7, 1e-5 * np.abs(state.mass_flow_kg_s).max())
    for number, (start, end, length_m, bore_m, loss, closed) in enumerate(plant.pipes):
        flow = state.mass_flow_kg_s[number]
        _carry(balance, start, end, flow)
        if closed:
            assert flow == 0.0
        elif number not in choked and regulators.get(number, RegulatorState.OPEN) is RegulatorState.OPEN:
            _check_pipe(flow, pressure[start], pressure[end], length_m, bore_m, loss, idle)
    for number, (start, end, conductance, ratio) in enumerate(plant.restrictions, len(plant.pipes)):
        flow = state.restriction_flow_kg_s[number - len(plant.pipes)]
        _carry(balance, start, end, flow)
        if regulators.get(number, RegulatorState.OPEN) is RegulatorState.OPEN:
            _check_restriction(flow, pressure[start], pressure[end], conductance, ratio)
    for (node, conductance, ratio), flow in zip(plant.nozzles, state.nozzle_flow_kg_s, strict=True):
        balance[node] += flow
        _check_restriction(flow, pressure[node], ATMOSPHERE_PA, conductance, ratio)
    _check_regulators(plant, state)
    for (node, _), supplied in zip(plant.supplies, state.supplied_kg_s, strict=True):
        balance[node] -= supplied
    alone = [node for island in state.islands for node in island]
    assert np.abs(np.delete(balance, alone)).max(initial=0.0) < 1e-11


def _carry(balance: np.ndarray, start: int, end: int, flow: float) -> None:
    balance[start] += flow
    balance[end] -= flow


def _check_pipe(
    flow: float, start_pa: float, end_pa: float, length_m: float, bore_m: float, loss: float, idle: float
) -> None:
    """Put both pressures into the library's isothermal flow, friction from its own Colebrook formula."""
    high, low = max(start_pa, end_pa), min(start_pa, end_pa)
    if np.isnan(start_pa + end_pa) or abs(flow) < idle:
        return
    assert (start_pa > end_pa) == (flow > 0.0)
    reynolds = 4.0 * abs(flow) / (np.pi * bore_m * air.viscosity_pa_s(TEMPERATURE_K))
    if 2300.0 < reynolds < 4000.0:
        factor = float(friction_factor(reynolds, ROUGHNESS_M / bore_m))
    else:
        factor = 64.0 / reynolds if reynolds < 3000.0 else fluids.friction.Colebrook(reynolds, ROUGHNESS_M / bore_m)
    density = air.density_kg_m3(high, TEMPERATURE_K)
    with_fittings = factor + loss * bore_m / length_m
    found = fluids.isothermal_gas(density, with_fittings, P1=high, P2=low, L=length_m, D=bore_m)
    assert abs(found / abs(flow) - 1.0) < 1e-6 + 2e-11 * high / (high - low)


def _check_restriction(flow: float, start_pa: float, end_pa: float, conductance: float, ratio: float) -> None:
    high, low = max(start_pa, end_pa), min(start_pa, end_pa)
    if np.isnan(start_pa + end_pa):
        return
    found = restriction_flow_m3_s(conductance, ratio, high, low, TEMPERATURE_K)
    most = air.mass_flow_kg_s(conductance * high)
    assert abs(air.mass_flow_kg_s(found) - abs(flow)) < 1e-6 * most + 1e-5 * most * (high - low < 1e-8 * high)
    assert abs(flow) < 1e-5 * most or (start_pa > end_pa) == (flow > 0.0)


def _check_regulators(plant: Plant, state: Solution) -> None:
    flows = np.concatenate([state.mass_flow_kg_s, state.restriction_flow_kg_s])
    for (number, set_pa), kind in zip(plant.regulators, state.regulators, strict=True):
        start, end, *rest = [*plant.pipes, *plant.restrictions][number]
        before, behind, flow = state.absolute_pressure_pa[start], state.absolute_pressure_pa[end], flows[number]
        if np.isnan(before + behind) or rest[-1] is True:
            continue
        if kind is RegulatorState.SHUT:
            assert abs(flow) < 1e-8
            assert behind > min(before, set_pa) * (1.0 - 1e-6)
        elif kind is RegulatorState.HOLDING:
            assert flow > -1e-8
            assert abs(behind / set_pa - 1.0) < 1e-6
            assert before > behind * (1.0 - 1e-6)
        else:
            assert flow > -1e-8
            assert behind < set_pa * (1.0 + 1e-6)
