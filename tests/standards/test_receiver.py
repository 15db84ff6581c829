import json
import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafter.standards import receiver

REFERENCE = json.loads((Path(__file__).parents[1] / "data" / "receiver.json").read_text(encoding="utf-8"))
PSI_PA, CFM_M3_S, CUBIC_FOOT_M3 = 6894.757293168361, 0.3048**3 / 60.0, 0.3048**3


def test_volume_of_the_published_surge():
    row = REFERENCE["draw_down_volume"]
    arguments = (row["start_psig"] * PSI_PA, row["end_psig"] * PSI_PA, row["drawn_cfm"] * CFM_M3_S)
    supplied, free_air_pa = row["supplied_cfm"] * CFM_M3_S, row["free_air_psia"] * PSI_PA
    volume_m3 = receiver.draw_down_volume_m3(row["minutes"] * 60.0, *arguments, supplied, free_air_pa)
    assert volume_m3 / CUBIC_FOOT_M3 == pytest.approx(row["published_ft3"], rel=1e-9)
    assert volume_m3 / (231 * 0.0254**3) == pytest.approx(row["published_gal"], abs=0.05)
    assert volume_m3 == pytest.approx(row["published_m3"], abs=0.005)
    time_s = receiver.draw_down_time_s(volume_m3, *arguments, supplied, free_air_pa)
    assert time_s == pytest.approx(row["minutes"] * 60.0)


@pytest.mark.parametrize("row", REFERENCE["draw_down_time"]["rows"])
def test_draw_down_time(row):
    time_s = receiver.draw_down_time_s(
        row["litres"] / 1e3,
        row["start_bar"] * 1e5,
        row["end_bar"] * 1e5,
        row["drawn_l_s"] / 1e3,
        row["supplied_l_s"] / 1e3,
        row["free_air_bar"] * 1e5,
    )
    assert time_s == pytest.approx(row["seconds"], rel=1e-4)


def test_a_compressor_that_keeps_up_never_draws_the_receiver_down():
    assert receiver.draw_down_time_s(0.1, 8e5, 6e5, 0.004, 0.004) == math.inf
    assert receiver.draw_down_volume_m3(60.0, 8e5, 6e5, 0.004, 0.005) == 0.0


def test_a_warm_receiver_holds_less():
    cold = receiver.usable_free_air_m3(0.27, 8e5, 6e5)
    assert cold == pytest.approx(0.54)
    assert receiver.usable_free_air_m3(0.27, 8e5, 6e5, 2 * 293.15) == pytest.approx(cold / 2)


@pytest.mark.parametrize("row", REFERENCE["minimum_volume"]["rows"])
def test_minimum_volume(row):
    volume_m3 = receiver.minimum_volume_m3(row["compressor_l_s"] / 1e3, row["starts_per_hour"], row["band_bar"] * 1e5)
    assert volume_m3 * 1e3 == pytest.approx(row["litres"])


def test_cycle_time_of_450_litres():
    """10 l/s, 2 bar: 360 s at half demand, 562.5 s at a fifth and at four fifths (mass balance)."""
    assert receiver.cycle_time_s(0.45, 2e5, 0.010, 0.005) == pytest.approx(360.0)
    assert receiver.cycle_time_s(0.45, 2e5, 0.010, 0.002) == pytest.approx(562.5)
    assert receiver.cycle_time_s(0.45, 2e5, 0.010, 0.008) == pytest.approx(562.5)


@pytest.mark.parametrize("demand", [0.0, 0.010, 0.020])
def test_no_cycle_without_demand_or_without_rest(demand):
    assert receiver.cycle_time_s(0.45, 2e5, 0.010, demand) == math.inf


@given(st.floats(min_value=0.01, max_value=0.99), st.floats(min_value=1.0, max_value=30.0))
def test_minimum_volume_holds_the_starts_at_any_demand(share, starts_per_hour):
    volume_m3 = receiver.minimum_volume_m3(0.01, starts_per_hour, 1.5e5)
    assert receiver.cycle_time_s(volume_m3, 1.5e5, 0.01, 0.01 * share) >= 3600.0 / starts_per_hour * (1 - 1e-12)


def test_pump_up():
    row = REFERENCE["pump_up"]
    flow = receiver.pump_up_free_air_m3_s(
        row["litres"] / 1e3, 0.0, row["rise_bar"] * 1e5, row["seconds"],
        free_air_pressure_pa=row["free_air_bar"] * 1e5,
    )  # fmt: skip
    assert flow * 1e3 == pytest.approx(row["l_s"], abs=5e-4)


@pytest.mark.parametrize("row", REFERENCE["stored_energy"]["rows"])
def test_stored_energy(row):
    energy_j = receiver.stored_energy_j(row["litres"] / 1e3, row["gauge_bar"] * 1e5)
    assert energy_j / 1e3 == pytest.approx(row["kj"], abs=5e-4)


def test_draw_down_in_inch_pound_units():
    row = REFERENCE["draw_down_inch_pound"]
    volume_m3, free_air_pa = row["gallons"] * 231 * 0.0254**3, row["free_air_psia"] * PSI_PA
    start_pa, end_pa = row["start_psi"] * PSI_PA, row["end_psi"] * PSI_PA
    usable = receiver.usable_free_air_m3(volume_m3, start_pa, end_pa, free_air_pressure_pa=free_air_pa)
    assert usable / CUBIC_FOOT_M3 == pytest.approx(row["usable_scf"], abs=0.005)
    drawn, supplied = row["drawn_cfm"] * CFM_M3_S, row["supplied_cfm"] * CFM_M3_S
    time_s = receiver.draw_down_time_s(volume_m3, start_pa, end_pa, drawn, supplied, free_air_pa)
    assert time_s == pytest.approx(row["seconds"], abs=0.05)


def test_stored_energy_by_another_formula():
    row = REFERENCE["other_energy_formula"]
    gauge_pa = row["start_psia"] * PSI_PA - 101_325.0
    energy_j = receiver.stored_energy_j(row["cubic_feet"] * CUBIC_FOOT_M3, gauge_pa)
    foot_pound_j = 0.3048 * 0.45359237 * 9.80665
    assert energy_j / foot_pound_j == pytest.approx(row["foot_pounds"], rel=row["tolerance"])
