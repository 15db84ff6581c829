import json
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafter.standards import leaks

REFERENCE = json.loads((Path(__file__).parents[1] / "data" / "leaks.json").read_text(encoding="utf-8"))
DECAY = REFERENCE["pressure_decay"]
PSI_PA, CUBIC_FOOT_M3 = 6894.757293168361, 0.3048**3
CFM_M3_S = CUBIC_FOOT_M3 / 60.0
volumes = st.floats(min_value=1e-3, max_value=10.0)
pressures = st.floats(min_value=1.1e5, max_value=20e5)
temperatures = st.floats(min_value=260.0, max_value=320.0)


def lost_scfm(row, volume_ft3=DECAY["volume_ft3"]):
    free_air_psia = DECAY["free_air_psia"]
    start_pa, end_pa = ((row[key] + free_air_psia) * PSI_PA for key in ("start_psig", "end_psig"))
    volume_m3, time_s = volume_ft3 * CUBIC_FOOT_M3, row["minutes"] * 60.0
    leak = leaks.decay_leak_m3_s(volume_m3, start_pa, end_pa, time_s, free_air_pressure_pa=free_air_psia * PSI_PA)
    return leak / CFM_M3_S


@pytest.mark.parametrize("row", DECAY["rows"], ids=lambda r: f"{r['start_psig']} psig")
def test_published_losses_by_pressure_decay(row):
    """Printed in whole scfm: half of one is the last digit."""
    assert lost_scfm(row) == pytest.approx(row["published_scfm"], abs=0.05)


def test_one_volume_explains_all_rows():
    """The volume was not read; were the formula wrong, the seven rows would ask for seven volumes."""
    asked = [DECAY["volume_ft3"] * row["published_scfm"] / lost_scfm(row) for row in DECAY["rows"]]
    assert max(asked) / min(asked) < 1.002


def test_published_line_through_the_losses():
    fit = DECAY["fit"]
    middles = [(row["start_psig"] + row["end_psig"]) / 2.0 for row in DECAY["rows"]]
    slope, intercept = np.polyfit(middles, [lost_scfm(row) for row in DECAY["rows"]], 1)
    assert slope == pytest.approx(fit["slope_scfm_psi"], abs=0.005)
    assert slope * fit["at_psig"] + intercept == pytest.approx(fit["published_scfm"], abs=0.5)
    assert intercept == pytest.approx(fit["intercept_scfm"], abs=0.05)


def test_published_running_times():
    row = REFERENCE["load_unload"]
    share = leaks.load_unload_leak_share(row["loaded_min"] * 60.0, row["unloaded_min"] * 60.0)
    assert share == pytest.approx(row["published_share"], rel=row["tolerance"])
    assert share * row["delivered_cfm"] == pytest.approx(row["published_cfm"], rel=row["tolerance"])


@pytest.mark.parametrize("row", REFERENCE["acceptance"]["rows"])
def test_what_a_tenth_of_a_bar_in_half_an_hour_leaks(row):
    leak = leaks.decay_leak_m3_s(row["litres"] / 1e3, 9.013e5, 8.913e5, 1800.0)
    assert leak * 1e3 == pytest.approx(row["l_s"], abs=5e-5)


def test_one_kelvin_at_8_bar():
    """Ideal gas law: 9.013 bar absolute at 20 degC changes by 0.031 bar for 1 K."""
    assert leaks.temperature_swing_pa(9.013e5, 293.15, 1.0) == pytest.approx(0.031e5, abs=50.0)


@given(volumes, pressures, temperatures, st.floats(min_value=-5.0, max_value=5.0))
def test_a_tight_volume_that_only_warms_or_cools_leaks_nothing(volume_m3, start_pa, temperature_k, change_k):
    end_pa = start_pa + leaks.temperature_swing_pa(start_pa, temperature_k, change_k)
    leak = leaks.decay_leak_m3_s(volume_m3, start_pa, end_pa, 1800.0, temperature_k, temperature_k + change_k)
    assert leak == pytest.approx(0.0, abs=volume_m3 * start_pa * 1e-20 + 1e-15)


@given(volumes, pressures, st.floats(min_value=0.5, max_value=0.999), temperatures, temperatures)
def test_the_correction_is_the_printed_one(volume_m3, start_pa, share, before_k, after_k):
    """V (p1 - p2 T1/T2) / (t p_a), at the test's own temperature before it is counted at 20 degC."""
    end_pa = share * start_pa
    printed = volume_m3 * (start_pa - end_pa * before_k / after_k) / (600.0 * 1e5)
    leak = leaks.decay_leak_m3_s(volume_m3, start_pa, end_pa, 600.0, before_k, after_k)
    assert leak == pytest.approx(printed * 293.15 / before_k, rel=1e-9, abs=1e-12)


def test_energy_of_a_leak_by_hand():
    """4 kW for 10 l/s is 400 kJ for each cubic metre; 1 l/s for an hour is 3.6 m3, 0.4 kWh."""
    assert leaks.specific_energy_j_m3(4000.0, 0.010) == pytest.approx(400e3)
    assert leaks.leak_energy_j(0.001, 4000.0, 0.010, 3600.0) == pytest.approx(0.4 * 3.6e6)
    assert leaks.leak_energy_j(0.05, 4000.0, 0.010, 3600.0) == pytest.approx(4.0 * 3.6e6)
