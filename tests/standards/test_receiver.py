import json
from pathlib import Path

import pytest

from drafter.standards import receiver

REFERENCE = json.loads((Path(__file__).parents[1] / "data" / "receiver.json").read_text(encoding="utf-8"))
PSI_PA, CUBIC_FOOT_M3 = 6894.757293168361, 0.3048**3


def test_a_warm_receiver_holds_less():
    cold = receiver.usable_free_air_m3(0.27, 8e5, 6e5)
    assert cold == pytest.approx(0.54)
    assert receiver.usable_free_air_m3(0.27, 8e5, 6e5, 2 * 293.15) == pytest.approx(cold / 2)


@pytest.mark.parametrize("row", REFERENCE["minimum_volume"]["rows"])
def test_minimum_volume(row):
    volume_m3 = receiver.minimum_volume_m3(row["compressor_l_s"] / 1e3, row["starts_per_hour"], row["band_bar"] * 1e5)
    assert volume_m3 * 1e3 == pytest.approx(row["litres"])


@pytest.mark.parametrize("row", REFERENCE["stored_energy"]["rows"])
def test_stored_energy(row):
    energy_j = receiver.stored_energy_j(row["litres"] / 1e3, row["gauge_bar"] * 1e5)
    assert energy_j / 1e3 == pytest.approx(row["kj"], abs=5e-4)


def test_stored_energy_by_another_formula():
    row = REFERENCE["other_energy_formula"]
    gauge_pa = row["start_psia"] * PSI_PA - 101_325.0
    energy_j = receiver.stored_energy_j(row["cubic_feet"] * CUBIC_FOOT_M3, gauge_pa)
    foot_pound_j = 0.3048 * 0.45359237 * 9.80665
    assert energy_j / foot_pound_j == pytest.approx(row["foot_pounds"], rel=row["tolerance"])
