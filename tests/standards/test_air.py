import json
import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafter.standards import air

REFERENCE = json.loads((Path(__file__).parents[1] / "data" / "air.json").read_text(encoding="utf-8"))
CFM_M3_S = 0.3048**3 / 60.0
GALLON_M3 = 3.785411784e-3


def rows(name):
    return REFERENCE[name]["rows"]


@pytest.mark.parametrize("row", rows("density"))
def test_density_of_an_ideal_gas(row):
    density = air.density_kg_m3(row["absolute_pa"], row["temperature_k"])
    assert density == pytest.approx(row["kg_m3"], rel=1e-4)


@pytest.mark.parametrize("row", rows("density_of_real_air"))
def test_density_is_near_that_of_real_air(row):
    density = air.density_kg_m3(row["absolute_pa"], row["temperature_k"])
    assert density == pytest.approx(row["kg_m3"], rel=0.003)


def test_free_air_density():
    assert pytest.approx(1.188352, abs=5e-7) == air.FREE_AIR_DENSITY_KG_M3
    assert air.mass_flow_kg_s(0.010) == pytest.approx(0.01188352, abs=1e-8)


@pytest.mark.parametrize("row", rows("viscosity"))
def test_viscosity_is_near_that_of_real_air(row):
    assert air.viscosity_pa_s(row["deg_c"] + 273.15) == pytest.approx(row["value"] * 1e-5, rel=0.006)


@pytest.mark.parametrize("row", rows("altitude"))
def test_pressure_at_altitude(row):
    assert air.atmospheric_pressure_pa(row["m"]) == pytest.approx(row["bar"] * 1e5, abs=6.0)


@pytest.mark.parametrize("row", rows("flow_basis"))
def test_flow_basis(row):
    basis = air.find_flow_basis(row["label"])
    assert basis is not None
    assert air.to_free_air(1.0, basis) == pytest.approx(row["factor"], abs=5e-6)


def test_every_flow_basis_is_checked():
    assert {row["label"] for row in rows("flow_basis")} == {basis.label for basis in air.FlowBasis}
    assert air.find_flow_basis("25 degC, 1 bar") is None


@pytest.mark.parametrize("row", rows("flow_basis_matrix"), ids=lambda r: r["label"])
def test_any_flow_basis_to_any_other(row):
    source = air.find_flow_basis(row["label"])
    for label, factor in zip(REFERENCE["flow_basis_matrix"]["columns"], row["factors"], strict=True):
        ratio = air.to_free_air(1.0, source) / air.to_free_air(1.0, air.find_flow_basis(label))
        assert ratio == pytest.approx(factor, abs=6e-6), label


@pytest.mark.parametrize("row", rows("basis_densities"), ids=lambda r: r["label"])
def test_density_of_each_flow_basis(row):
    basis = air.find_flow_basis(row["label"])
    assert air.density_kg_m3(basis.absolute_pressure_pa, basis.temperature_k) == pytest.approx(row["kg_m3"], rel=6e-4)


def test_intake_air_is_counted_by_its_dry_mass():
    for basis in air.FlowBasis:
        dry = air.intake_to_free_air(1.0, basis.absolute_pressure_pa, basis.temperature_k)
        assert dry == pytest.approx(air.to_free_air(1.0, basis))
    high_and_warm = air.intake_to_free_air(0.010, air.atmospheric_pressure_pa(1500.0), 303.15)
    assert high_and_warm == pytest.approx(0.010 * 0.8456 * 293.15 / 303.15, rel=1e-4)


def test_standard_reference_atmosphere_is_a_little_less_dry_air():
    """ISO 8778 and ISO 6358: 20 degC, 1 bar, 65 % humidity, 1.185 kg/m3 with its water."""
    anr = REFERENCE["anr"]
    dry = air.mass_flow_kg_s(air.intake_to_free_air(1.0, 1e5, 293.15, anr["relative_humidity"]))
    vapour_pa = anr["relative_humidity"] * air.saturation_pressure_pa(293.15)
    moist_kg_m3 = dry * (1.0 + air.humidity_ratio(vapour_pa, 1e5))
    # 1.1816 by the gas law: the standard's print lies nearer to dry air
    assert moist_kg_m3 == pytest.approx(anr["kg_m3"], rel=3e-3)
    assert dry < air.FREE_AIR_DENSITY_KG_M3


def test_line_velocity():
    velocity = air.line_velocity_m_s(0.023, 801_325.0, 293.15, 0.02664)
    assert velocity == pytest.approx(5.149, abs=5e-4)


@pytest.mark.parametrize("row", rows("saturation"))
def test_saturation_pressure(row):
    saturation = air.saturation_pressure_pa(row["deg_c"] + 273.15)
    assert saturation == pytest.approx(row["hpa"] * 100.0, rel=5e-4)


@given(st.floats(min_value=213.15, max_value=333.15))
def test_dew_point_undoes_saturation(temperature_k):
    assert air.dew_point_k(air.saturation_pressure_pa(temperature_k)) == pytest.approx(temperature_k, abs=0.02)


@pytest.mark.parametrize("pressure", [0.0, -1.0, math.nan])
def test_no_dew_point_without_vapour(pressure):
    with pytest.raises(ValueError, match="vapour pressure above zero"):
        air.dew_point_k(pressure)


@pytest.mark.parametrize("row", rows("dew_point"))
def test_pressure_dew_point_to_atmospheric_and_back(row):
    line_pa = row["bar_g"] * 1e5 + air.STANDARD_ATMOSPHERE_PA
    pressure_dew_point_k = row["PDP_C"] + 273.15
    dew_point_k = air.dew_point_at_pressure_k(pressure_dew_point_k, line_pa, air.STANDARD_ATMOSPHERE_PA)
    assert dew_point_k - 273.15 == pytest.approx(row["ADP_C"], abs=0.01)
    back_k = air.dew_point_at_pressure_k(dew_point_k, air.STANDARD_ATMOSPHERE_PA, line_pa)
    assert back_k == pytest.approx(pressure_dew_point_k, abs=1e-6)


@pytest.mark.parametrize("row", rows("undried_at_8_bar"))
def test_dew_point_of_undried_air(row):
    vapour_pa = row["RH"] * air.saturation_pressure_pa(row["T_C"] + 273.15)
    compressed_pa = vapour_pa * (8e5 + air.STANDARD_ATMOSPHERE_PA) / air.STANDARD_ATMOSPHERE_PA
    assert air.dew_point_k(compressed_pa) - 273.15 == pytest.approx(row["PDP_C"], abs=0.01)


@pytest.mark.parametrize("row", rows("water_taken_in"))
def test_water_taken_in(row):
    temperature_k = (row["deg_f"] + 459.67) / 1.8
    relative_humidity = row["relative_humidity"]
    dry = air.dry_air_kg_s(CFM_M3_S, air.STANDARD_ATMOSPHERE_PA, temperature_k, relative_humidity)
    vapour_pa = relative_humidity * air.saturation_pressure_pa(temperature_k)
    water_kg_s = dry * air.humidity_ratio(vapour_pa, air.STANDARD_ATMOSPHERE_PA)
    gallons_per_hour = water_kg_s * 3600.0 / (1000.0 * GALLON_M3)
    assert gallons_per_hour == pytest.approx(row["published"], abs=1e-4)


def test_water_of_a_day_by_the_published_rule():
    """Rule of thumb: within 5 %, and within 1 % of an independent program."""
    rule = REFERENCE["water_of_a_day"]
    ambient_k, humidity = (rule["deg_f"] + 459.67) / 1.8, rule["relative_humidity"]
    atmosphere_pa = air.STANDARD_ATMOSPHERE_PA
    line_pa = atmosphere_pa + rule["psig"] * 6894.757293168361
    dry = air.dry_air_kg_s(rule["scfm"] * CFM_M3_S, atmosphere_pa, ambient_k, humidity)
    taken_in, cooler, dryer = rule["rows"]

    def fallen_kg_s(row):
        cooled_k = (row["cooled_to_deg_f"] + 459.67) / 1.8
        return air.condensate_kg_s(dry, ambient_k, humidity, atmosphere_pa, line_pa, cooled_k)

    vapour_pa = humidity * air.saturation_pressure_pa(ambient_k)
    water = [dry * air.humidity_ratio(vapour_pa, atmosphere_pa), fallen_kg_s(cooler)]
    water.append(fallen_kg_s(dryer) - water[1])
    for row, rate in zip((taken_in, cooler, dryer), water, strict=True):
        gallons = rate * 86400.0 / 1000.0 / GALLON_M3
        assert gallons == pytest.approx(row["published_gal"], rel=0.05), row["what"]
        assert gallons == pytest.approx(row["computed_gal"], rel=0.01), row["what"]


@pytest.mark.parametrize("row", rows("saturated_water"))
def test_water_in_saturated_air(row):
    temperature_k = row["deg_c"] + 273.15
    grams = air.saturation_pressure_pa(temperature_k) / (461.52 * temperature_k) * 1e3
    assert grams == pytest.approx(row["g_m3"], rel=2e-3, abs=5e-4)
    assert grams == pytest.approx(row.get("published_g_m3", row["g_m3"]), rel=3e-3, abs=5e-4)


@pytest.mark.parametrize("row", rows("condensate"))
def test_condensate_of_a_shift(row):
    ambient_k = row["T_C"] + 273.15
    dry = air.dry_air_kg_s(row["q_l_s"] / 1e3, air.STANDARD_ATMOSPHERE_PA, ambient_k, row["RH"])
    line_pa = row["p_bar_g"] * 1e5 + air.STANDARD_ATMOSPHERE_PA
    rate = air.condensate_kg_s(dry, ambient_k, row["RH"], air.STANDARD_ATMOSPHERE_PA, line_pa, row["cooled_C"] + 273.15)
    assert rate * row["hours"] * 3600.0 * row["load"] == pytest.approx(row["computed"], rel=1e-3)


def test_dry_air_leaves_no_condensate():
    assert air.condensate_kg_s(0.01, 293.15, 0.1, 101_325.0, 201_325.0, 293.15) == 0.0
