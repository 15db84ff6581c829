"""The solver against published examples and independent solutions."""

import json
from pathlib import Path

import numpy as np
import pytest

from drafter.sizing.solving.solver import solve
from drafter.standards import air

DATA = Path(__file__).parents[2] / "data"
PIPE_FLOW = json.loads((DATA / "pipe_flow.json").read_text(encoding="utf-8"))
NETWORKS = json.loads((DATA / "networks.json").read_text(encoding="utf-8"))
INCH_M, FOOT_M, PSI_PA = 0.0254, 0.3048, 6894.757293168361
CFM_M3_S = FOOT_M**3 / 60.0


def one_pipe(mass_flow_kg_s, inlet_pa, bore_m, *, length_m=0.0, roughness_m=0.0, loss=0.0, **gas):
    gas.setdefault("temperature_k", 293.15)
    return solve(
        [0], [1], [length_m], [bore_m], [roughness_m], [loss], 2, [0.0, mass_flow_kg_s], [0], [inlet_pa], **gas
    )


def free_air_kg_s(cfm, basis):
    return air.mass_flow_kg_s(air.to_free_air(cfm * CFM_M3_S, air.find_flow_basis(basis)))


@pytest.mark.parametrize("row", PIPE_FLOW["crane_air_table"]["rows"], ids=lambda r: f"{r['nps']}-{r['cfm']}")
def test_crane_air_table(row):
    table = PIPE_FLOW["crane_air_table"]
    inlet_pa = table["inlet_psia"] * PSI_PA
    state = one_pipe(
        free_air_kg_s(row["cfm"], table["free_air_basis"]),
        inlet_pa,
        row["id_in"] * INCH_M,
        length_m=table["length_ft"] * FOOT_M,
        roughness_m=table["roughness_in"] * INCH_M,
        temperature_k=table["temperature_k"],
    )
    drop_psi = (inlet_pa - state.absolute_pressure_pa[1]) / PSI_PA
    assert drop_psi == pytest.approx(row["published_psi"], rel=table["tolerance"])


def test_methane_example_needs_the_kinetic_term():
    row = PIPE_FLOW["methane"]

    def outlet_pa(inlet_pa):
        state = one_pipe(
            row["mass_flow_kg_s"],
            inlet_pa,
            row["bore_m"],
            loss=row["friction_factor"] * row["length_m"] / row["bore_m"],
            temperature_k=row["temperature_k"],
            gas_constant_j_kg_k=row["molar_gas_constant"] / row["molar_mass_kg_mol"],
        )
        return state.absolute_pressure_pa[1]

    published_pa, tolerance = row["published_inlet_pa"], row["tolerance"]
    assert outlet_pa(published_pa * (1.0 - tolerance)) < row["outlet_pa"]
    assert outlet_pa(published_pa * (1.0 + tolerance)) > row["outlet_pa"]
    assert outlet_pa(row["without_kinetic_inlet_pa"]) < 0.97 * row["outlet_pa"]


def test_discharge_to_atmosphere_needs_the_kinetic_term():
    row = PIPE_FLOW["discharge_to_atmosphere"]

    def outlet_psia(scfm):
        state = one_pipe(
            free_air_kg_s(scfm, row["free_air_basis"]),
            row["inlet_psia"] * PSI_PA,
            row["bore_in"] * INCH_M,
            loss=row["loss_coefficient"],
            temperature_k=row["temperature_k"],
        )
        return state.absolute_pressure_pa[1] / PSI_PA

    assert outlet_psia(row["published_scfm"] * (1.0 - row["tolerance"])) > row["outlet_psia"]
    assert outlet_psia(row["published_scfm"] * (1.0 + row["tolerance"])) < row["outlet_psia"]
    assert not outlet_psia(row["without_kinetic_scfm"]) > 0.8 * row["outlet_psia"]


@pytest.mark.parametrize("row", PIPE_FLOW["single_pipes"]["rows"], ids=lambda row: f"{row['bore_mm']} mm")
def test_single_pipe(row):
    state = one_pipe(
        air.mass_flow_kg_s(row["free_air_l_s"] / 1e3),
        row["inlet_bar_abs"] * 1e5,
        row["bore_mm"] / 1e3,
        length_m=row["length_m"],
        roughness_m=row["roughness_mm"] / 1e3,
        loss=row["loss_coefficient"],
        temperature_k=PIPE_FLOW["single_pipes"]["temperature_k"],
    )
    assert state.converged
    assert not state.choked
    assert state.absolute_pressure_pa[1] == pytest.approx(row["outlet_bar_abs"] * 1e5, abs=2.0)
    assert state.reynolds[0] == pytest.approx(row["reynolds"], rel=1e-4)
    assert state.friction_factor[0] == pytest.approx(row["friction_factor"], abs=1e-6)
    assert state.start_velocity_m_s[0] == pytest.approx(row["inlet_velocity_m_s"], rel=1e-4)
    assert state.end_velocity_m_s[0] == pytest.approx(row["outlet_velocity_m_s"], rel=1e-4)


def test_laminar_pipe():
    row = PIPE_FLOW["laminar_pipe"]
    state = one_pipe(
        air.mass_flow_kg_s(row["free_air_l_s"] / 1e3),
        row["inlet_bar_abs"] * 1e5,
        row["bore_mm"] / 1e3,
        length_m=row["length_m"],
        roughness_m=row["roughness_mm"] / 1e3,
        temperature_k=row["temperature_k"],
    )
    assert state.absolute_pressure_pa[1] == pytest.approx(row["outlet_bar_abs"] * 1e5, abs=0.2)
    assert state.reynolds[0] == pytest.approx(row["reynolds"], rel=1e-3)
    assert state.friction_factor[0] == pytest.approx(row["friction_factor"], rel=1e-3)


def solve_reference(network):
    names = sorted(network["node_bar_abs"])
    number = {name: index for index, name in enumerate(names)}
    pipes = network["pipes"]
    outflow = np.zeros(len(names))
    for name, litres in network["outlets"].items():
        outflow[number[name]] = air.mass_flow_kg_s(litres / 1e3)
    state = solve(
        [number[pipe["from"]] for pipe in pipes],
        [number[pipe["to"]] for pipe in pipes],
        [pipe["length_m"] for pipe in pipes],
        [pipe["bore_mm"] / 1e3 for pipe in pipes],
        [NETWORKS["roughness_mm"] / 1e3] * len(pipes),
        [0.0] * len(pipes),
        len(names),
        outflow,
        [number[network["supply"]["node"]]],
        [network["supply"]["bar_abs"] * 1e5],
        NETWORKS["temperature_k"],
    )
    return state, number, outflow


networks = pytest.mark.parametrize("network", NETWORKS["networks"], ids=lambda network: network["name"])


@networks
def test_node_pressures(network):
    state, number, _ = solve_reference(network)
    assert state.converged
    for name, bar_abs in network["node_bar_abs"].items():
        pressure_bar = state.absolute_pressure_pa[number[name]] / 1e5
        assert pressure_bar == pytest.approx(bar_abs, abs=NETWORKS["node_tolerance_bar"])
        assert pressure_bar == pytest.approx(bar_abs, abs=2e-6)


@networks
def test_pipe_flows(network):
    state, _, outflow = solve_reference(network)
    tolerance = NETWORKS["flow_tolerance_of_supply"] * outflow.sum()
    for pipe, flow, reynolds, factor, start, end in zip(
        network["pipes"], state.mass_flow_kg_s, state.reynolds, state.friction_factor,
        state.start_velocity_m_s, state.end_velocity_m_s, strict=True,
    ):  # fmt: skip
        published = air.mass_flow_kg_s(pipe["flow_l_s"] / 1e3)
        assert flow == pytest.approx(published, abs=tolerance)
        assert reynolds == pytest.approx(pipe["reynolds"], rel=1e-4)
        assert factor == pytest.approx(pipe["friction_factor"], abs=1e-6)
        assert (start if flow > 0.0 else end) == pytest.approx(pipe["upstream_velocity_m_s"], rel=1e-3)


@networks
def test_supply_gives_what_the_outlets_take(network):
    state, _, outflow = solve_reference(network)
    assert state.supplied_kg_s == pytest.approx([outflow.sum()])
