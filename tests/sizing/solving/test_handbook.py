"""The solver beside the formulas and size tables of handbooks: rules of thumb are upper bounds, not references."""

import json
from pathlib import Path

import fluids
import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from drafter.sizing.solving.pipe_law import choked_flow_kg_s, pipe_law
from drafter.sizing.solving.solver import solve
from drafter.standards import air
from drafter.standards.components import restriction_outlet_pa

DATA = Path(__file__).parents[2] / "data"
HANDBOOK = json.loads((DATA / "handbook.json").read_text(encoding="utf-8"))
CRANE = json.loads((DATA / "pipe_flow.json").read_text(encoding="utf-8"))["crane_air_table"]
INCH_M, FOOT_M, PSI_PA = 0.0254, 0.3048, 6894.757293168361
CFM_M3_S = FOOT_M**3 / 60.0
STEEL_M = 0.0018 * INCH_M


def drop_pa(free_air_m3_s, inlet_pa, bore_m, length_m, roughness_m, temperature_k=293.15):
    mass = air.mass_flow_kg_s(free_air_m3_s)
    state = solve(
        [0], [1], [length_m], [bore_m], [roughness_m], [0.0], 2, [0.0, mass], [0], [inlet_pa],
        temperature_k=temperature_k,
    )  # fmt: skip
    return inlet_pa - state.absolute_pressure_pa[1]


def crane_drop_psi(row):
    flow = air.to_free_air(row["cfm"] * CFM_M3_S, air.find_flow_basis(CRANE["free_air_basis"]))
    inlet_pa, bore_m = CRANE["inlet_psia"] * PSI_PA, row["id_in"] * INCH_M
    return drop_pa(flow, inlet_pa, bore_m, 100.0 * FOOT_M, STEEL_M, CRANE["temperature_k"]) / PSI_PA


@settings(deadline=None)
@given(
    st.floats(min_value=1.0, max_value=60.0),
    st.floats(min_value=1.0, max_value=60.0),
    st.floats(min_value=0.008, max_value=0.05),
)
def test_pipe_of_the_fluids_library(free_air_l_s, length_m, bore_m):
    """The flow that `fluids.isothermal_gas`, with the kinetic term and the density at the inlet, finds for the drop."""
    inlet_pa, area_m2 = 8e5, np.pi / 4.0 * bore_m**2
    mass = air.mass_flow_kg_s(free_air_l_s / 1e3)
    reynolds = mass * bore_m / area_m2 / air.viscosity_pa_s(293.15)
    factor = fluids.friction.Clamond(reynolds, STEEL_M / bore_m, False)
    squared = (mass / area_m2) ** 2 * air.GAS_CONSTANT_J_KG_K * 293.15 * factor * length_m / bore_m / inlet_pa**2
    assume(reynolds > 4000.0 and 0.002 < squared < 0.6 and mass < 400.0 * area_m2)
    outlet_pa = inlet_pa - drop_pa(free_air_l_s / 1e3, inlet_pa, bore_m, length_m, STEEL_M)
    density = air.density_kg_m3(inlet_pa, 293.15)
    flow = fluids.isothermal_gas(density, factor, P1=inlet_pa, P2=outlet_pa, L=length_m, D=bore_m)
    assert flow == pytest.approx(mass, rel=1e-5)


@pytest.mark.parametrize("row", CRANE["rows"], ids=lambda r: f"{r['nps']}-{r['cfm']}")
def test_harris_formula_is_an_upper_bound(row):
    harris, found = HANDBOOK["harris"], crane_drop_psi(row)
    mean_psia = CRANE["inlet_psia"] - found / 2.0
    estimate = 100.0 * row["cfm"] ** 2 / (harris["constant"] * mean_psia * row["id_in"] ** 5.31)
    assert harris["least_over_solution"] < estimate / found < harris["most_over_solution"]


@pytest.mark.parametrize("row", CRANE["rows"], ids=lambda r: f"{r['nps']}-{r['cfm']}")
def test_fifth_power_formula_is_an_upper_bound(row):
    table, found_bar = HANDBOOK["d5p"], crane_drop_psi(row) * PSI_PA / 1e5
    litres = row["cfm"] * CFM_M3_S * 1e3
    bore_mm, inlet_bar = row["id_in"] * 25.4, CRANE["inlet_psia"] * PSI_PA / 1e5
    estimate = table["constant"] * litres**1.85 * 100.0 * FOOT_M / (bore_mm**5 * inlet_bar)
    assert table["least_over_solution"] < estimate / found_bar < table["most_over_solution"]


def test_prints_of_one_formula_agree():
    """The older Harris print, and the fifth-power formula in SI and in kgf/cm2, in the units of the newer ones."""
    harris, fifth = HANDBOOK["harris"], HANDBOOK["d5p"]
    assert 3600.0 / (harris["older_constant"] * 14.7) == pytest.approx(harris["constant"], rel=1e-3)
    bar_and_litres = fifth["si_constant"] * (1e-3) ** 1.85 / (1e-3**5 * 1e5 * 1e5)
    assert bar_and_litres == pytest.approx(fifth["constant"], rel=3e-3)
    kgf_bar = 0.980665
    of_kgf = fifth["kgf_constant"] * 0.06**1.85 * kgf_bar**2
    assert of_kgf == pytest.approx(fifth["kgf_constant_in_bar_and_l_s"], rel=1e-4)


@pytest.mark.parametrize("row", HANDBOOK["pipe_size_table"]["rows"], ids=lambda r: f"{r['cfm']} cfm")
def test_a_published_size_table_keeps_two_percent(row):
    table = HANDBOOK["pipe_size_table"]
    inlet_pa = table["psig"] * PSI_PA + air.STANDARD_ATMOSPHERE_PA
    lost = drop_pa(row["cfm"] * CFM_M3_S, inlet_pa, row["id_in"] * INCH_M, row["feet"] * FOOT_M, STEEL_M)
    assert table["least_psi"] < lost / PSI_PA < table["most_psi"]


@pytest.mark.parametrize("row", HANDBOOK["capacity"]["rows"], ids=lambda r: r["tube"])
def test_capacity_at_a_velocity(row):
    table, bore_m = HANDBOOK["capacity"], row["bore_mm"] / 1e3
    inlet_pa = table["gauge_bar"] * 1e5 + air.STANDARD_ATMOSPHERE_PA
    columns = zip(table["velocities_m_s"], row["l_s"], row["mbar_per_10_m"], strict=True)
    for velocity, litres, mbar in columns:
        flow = litres / 1e3
        last_digit = (0.1 if litres < 100.0 else 1.0) / litres
        found_m_s = air.line_velocity_m_s(flow, inlet_pa, 293.15, bore_m)
        assert found_m_s == pytest.approx(velocity, rel=last_digit)
        lost = drop_pa(flow * velocity / found_m_s, inlet_pa, bore_m, 10.0, row["roughness_mm"] / 1e3)
        assert lost / 100.0 == pytest.approx(mbar, abs=1.0)


def test_hoses():
    table = HANDBOOK["hoses"]
    inlet_pa, hose = table["inlet_bar_abs"] * 1e5, table["hose"]
    lost = drop_pa(
        table["free_air_l_s"] / 1e3, inlet_pa, hose["bore_mm"] / 1e3, hose["length_m"], hose["roughness_mm"] / 1e3
    )
    assert lost == pytest.approx(hose["drop_bar"] * 1e5, abs=500.0)
    for row in table["smooth_hoses"]:
        lost = drop_pa(row["free_air_l_s"] / 1e3, inlet_pa, row["bore_mm"] / 1e3, row["length_m"], 1.5e-6)
        assert lost == pytest.approx(row["drop_bar"] * 1e5, abs=60.0)


@pytest.mark.parametrize("row", HANDBOOK["hoses"]["couplings"], ids=lambda r: f"C {r['c_l_s_bar']}")
def test_couplings(row):
    table = HANDBOOK["hoses"]
    inlet_pa, flow = table["inlet_bar_abs"] * 1e5, table["free_air_l_s"] / 1e3
    outlet_pa = restriction_outlet_pa(row["c_l_s_bar"] * 1e-8, row["b"], inlet_pa, flow)
    assert (inlet_pa - outlet_pa) / 1e5 == pytest.approx(row["drop_bar"], abs=0.006)


def test_a_long_tube_as_a_restriction():
    table = HANDBOOK["tube_conductance"]
    bore_m, length_m = table["bore_mm"] / 1e3, table["length_m"]
    printed = 0.029 * bore_m**2 / np.sqrt(length_m / bore_m**1.25 + 510.0)
    assert printed * 1e8 == pytest.approx(table["l_s_bar"], abs=0.005)
    law = pipe_law(
        *(np.array([value]) for value in (length_m, bore_m, 1.5e-6, 0.0)),
        293.15, air.viscosity_pa_s(293.15), air.GAS_CONSTANT_J_KG_K,
    )  # fmt: skip
    choked = choked_flow_kg_s(law, np.array([7e5]))[0] / air.FREE_AIR_DENSITY_KG_M3 / 7e5
    assert choked * 1e8 == pytest.approx(table["solution_l_s_bar"], rel=0.03)
    assert choked == pytest.approx(printed, rel=0.12)
