import json
import math
from pathlib import Path

import fluids
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafter.standards import air, orifice

REFERENCE = json.loads((Path(__file__).parents[1] / "data" / "leaks.json").read_text(encoding="utf-8"))
PSI_PA, CFM_M3_S = 6894.757293168361, 0.3048**3 / 60.0
ATMOSPHERE_PA = air.STANDARD_ATMOSPHERE_PA


def discharged_scfm(table, diameter_in, psig, coefficient):
    """Discharge to the table's atmosphere, counted at the table's own free air; the air comes at its temperature."""
    free_pa, temperature_k = table["free_air_psia"] * PSI_PA, (table["free_air_deg_f"] + 459.67) / 1.8
    inside_pa = free_pa + psig * PSI_PA
    flow = orifice.orifice_free_air_m3_s(diameter_in * 0.0254, inside_pa, free_pa, coefficient, temperature_k)
    return flow * air.FREE_AIR_DENSITY_KG_M3 / air.density_kg_m3(free_pa, temperature_k) / CFM_M3_S


@pytest.mark.parametrize("row", REFERENCE["orifice_table"]["rows"], ids=lambda r: f"{r['diameter_in']}-{r['psig']}")
def test_printed_orifice_table(row):
    table = REFERENCE["orifice_table"]
    flow = discharged_scfm(table, row["diameter_in"], row["psig"], 1.0)
    assert flow == pytest.approx(row["published_scfm"], rel=table["tolerance"])


@pytest.mark.parametrize("row", REFERENCE["leak_table"]["rows"], ids=lambda r: str(r["psig"]))
def test_printed_leak_table(row):
    table = REFERENCE["leak_table"]
    for diameter_in, published in zip(table["diameters_in"], row["published_scfm"], strict=True):
        coarse = diameter_in in table["two_digit_sizes_in"]
        tolerance = table["tolerance_of_two_digit_values" if coarse else "tolerance"]
        flow = discharged_scfm(table, diameter_in, row["psig"], table["discharge_coefficient"])
        assert flow == pytest.approx(published, rel=tolerance), diameter_in


@pytest.mark.parametrize("row", REFERENCE["sharp_edged_holes"]["rows"], ids=lambda r: f"{r['mm']} mm")
def test_sharp_edged_holes(row):
    for gauge_bar, litres in zip(REFERENCE["sharp_edged_holes"]["gauge_bar"], row["l_s"], strict=True):
        flow = orifice.orifice_free_air_m3_s(row["mm"] / 1e3, gauge_bar * 1e5 + ATMOSPHERE_PA, ATMOSPHERE_PA)
        assert flow * 1e3 == pytest.approx(litres, abs=6e-4)


@pytest.mark.parametrize("row", REFERENCE["hole_conductance"]["rows"], ids=lambda r: f"{r['mm']} mm")
def test_conductance_of_an_ideal_nozzle(row):
    conductance = orifice.hole_conductance_m3_s_pa(row["mm"] / 1e3, 1.0)
    assert conductance * 1e8 == pytest.approx(row["l_s_bar"], rel=4e-3)


def test_critical_ratio_is_that_of_the_fluids_library():
    assert pytest.approx(fluids.P_critical_flow(1.0, 1.4), rel=1e-12) == orifice.CRITICAL_RATIO


@settings(deadline=None)
@given(st.floats(min_value=1.02, max_value=1.88), st.floats(min_value=250.0, max_value=330.0))
def test_subsonic_discharge_by_enthalpy(ratio, temperature_k):
    """Mass flow from the speed by the energy equation and the density after isentropic expansion, step by step."""
    inside_pa = ratio * 1e5
    outlet_k = fluids.isentropic_T_rise_compression(temperature_k, inside_pa, 1e5, 1.4)
    speed = math.sqrt(2.0 * 287.055 * 3.5 * (temperature_k - outlet_k))
    mass_flow = math.pi / 4.0 * 0.002**2 * 1e5 / (287.055 * outlet_k) * speed
    flow = orifice.orifice_free_air_m3_s(0.002, inside_pa, 1e5, 1.0, temperature_k)
    assert flow * air.FREE_AIR_DENSITY_KG_M3 == pytest.approx(mass_flow, rel=1e-9)


def test_nothing_escapes_without_pressure():
    assert orifice.orifice_free_air_m3_s(0.01, 1e5, 1e5) == 0.0
    assert orifice.orifice_free_air_m3_s(0.01, 0.9e5, 1e5) == 0.0
    with pytest.raises(ValueError, match="nothing leaks from 100000"):
        orifice.equivalent_hole_m(0.001, 1e5, 1e5)


@settings(deadline=None)
@given(st.floats(min_value=1e-5, max_value=0.05), st.floats(min_value=1.01, max_value=20.0))
def test_equivalent_hole_undoes_the_discharge(diameter_m, ratio):
    flow = orifice.orifice_free_air_m3_s(diameter_m, ratio * 1e5, 1e5)
    assert orifice.equivalent_hole_m(flow, ratio * 1e5, 1e5) == pytest.approx(diameter_m, rel=1e-9)


@settings(deadline=None)
@given(st.floats(min_value=1.0, max_value=20.0), st.floats(min_value=1.0, max_value=1.5))
def test_more_pressure_never_lets_less_escape(ratio, growth):
    less, more = (orifice.orifice_free_air_m3_s(0.001, r * 1e5, 1e5) for r in (ratio, ratio * growth))
    assert more >= less
