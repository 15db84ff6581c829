"""The block, the object and the schedule for the leak test say the same numbers."""

from __future__ import annotations

from pathlib import Path

import pytest

from drafter.drawing import Text
from drafter.pipeline import Designed, compose_drawing, design
from drafter.report.leak_test import leak_test_data, leak_test_text
from drafter.sheets.leak_test import cautions_at_test, leak_rows
from drafter.sizing.network import Network

SITE = (
    (Path(__file__).parent / "data" / "keeps_every_rule.yaml")
    .read_text(encoding="utf-8")
    .replace("use: 1 %", "use: 10 %")
)
IMPERIAL = SITE.replace("[8 m, 6 m]", "[26 ft, 20 ft]").replace("ceiling: 3 m", "ceiling: 10 ft").replace(
    "from left: 3 m", "from left: 10 ft"
)  # fmt: skip


@pytest.fixture(scope="module")
def designed() -> Designed:
    return design(SITE, "yard.yaml")


@pytest.fixture(scope="module")
def network(designed: Designed) -> Network:
    assert designed.network is not None
    return designed.network


def network_of(text: str) -> Network:
    made = design(text, "yard.yaml").network
    assert made is not None
    return made


def test_lines_add_up_to_what_the_piping_holds(network: Network) -> None:
    data = leak_test_data(network)
    volumes = sum(line["volume_l"] for line in data["lines"])
    assert volumes == pytest.approx(data["piping_alone"]["volume_l"], abs=0.001)
    assert data["with_tank"]["volume_l"] == pytest.approx(volumes + 80.0, abs=0.001)
    assert sum(line["length_m"] for line in data["lines"]) == pytest.approx(
        sum(map(network.layout.length_m, network.layout.runs)), abs=0.001
    )


def test_the_block_says_what_the_object_says(network: Network) -> None:
    text, data = leak_test_text(network), leak_test_data(network)
    assert f"as one hole of {data['allowed_leak_as_hole_mm']:.2f} mm" in text
    assert f"{data['allowed_leak_kwh_per_year']:.0f} kWh" in text
    assert f"1 K colder takes {data['change_bar_per_k']:.3f} bar" in text
    assert f"tank {data['tank_stored_energy_kj']:.0f} kJ, piping {data['piping_stored_energy_kj']:.0f} kJ" in text
    assert f"as {data['tnt_equivalent_g']:.0f} g of TNT" in text
    assert f"people keep {data['stand_off_m']:.0f} m (98 ft)" in text
    assert f"in {data['piping_alone']['timed_fall_at_allowed_leak_s']:.0f} s, with the tank in" in text
    for opening in data["openings"]:
        assert f"{opening['free_air_l_s']:.1f} l/s, down to 2.00 bar in {opening['time_s']:.0f} s" in text
    assert all(caution in text for caution in cautions_at_test(network.layout.site.units))


def test_the_schedule_has_every_row_and_caution(designed: Designed, network: Network) -> None:
    shown = " ".join(
        item.text for sheet in compose_drawing(designed).sheets for item in sheet.items if isinstance(item, Text)
    )
    assert "TEST AND LEAKS" in shown
    for what, value in leak_rows(network):
        assert what in shown
        assert value.split(",")[0] in shown
    assert all(caution.split()[0] in shown for caution in cautions_at_test(network.layout.site.units))


def test_inch_pound_sites_get_inch_pound_numbers() -> None:
    text = leak_test_text(network_of(IMPERIAL))
    assert " cfm, with the tank " in text
    assert "1 °F colder takes 0.26 psi" in text
    assert "(time x 14.5 psi)" in text
    assert " l/min" not in text
    assert " mm" not in text
    assert "as one hole of 0.0" in text


def test_no_leakage_allowed_for_leaves_its_rows_out() -> None:
    made = network_of(f"{SITE}demand: {{leakage: 0 %}}\n")
    text, data = leak_test_text(made), leak_test_data(made)
    assert "leakage allowed for" not in text
    assert "may lose in 30 min" in text
    assert data["compressor_unloaded_s"] is data["piping_alone"]["timed_fall_at_allowed_leak_s"] is None


def test_a_compressor_that_the_leak_outruns_never_stands() -> None:
    made = network_of(SITE.replace("free air: 8 l/s", "free air: 0.1 l/s"))
    assert "never stands" in leak_test_text(made)
    assert leak_test_data(made)["compressor_loaded_s"] is None


def test_a_fall_of_all_the_pressure_is_called_all(network: Network) -> None:
    assert network.leaks.piping_test.target_fall_pa == pytest.approx(network.leaks.test_gauge_pa)
    assert "loses all, with the tank 2." in leak_test_text(network)


def test_a_compressor_that_never_outruns_the_leakage_says_so_in_report_and_sheets() -> None:
    tiny = SITE.replace("free air: 8 l/s", "free air: 0.3 l/s").replace("use: 10 %", "use: 50 %")
    designed = design(tiny + "demand: {leakage: 50 %}\n", "yard.yaml")
    assert designed.network is not None
    assert designed.network.leaks.loaded_s == float("inf")
    assert "compressor with nothing in use" in leak_test_text(designed.network)
    assert "never stands" in leak_test_text(designed.network)
    drawing = compose_drawing(designed)
    said = " ".join(item.text for sheet in drawing.sheets for item in sheet.items if isinstance(item, Text))
    assert "C-01: never resting" in said


def test_a_night_of_leaks_and_an_hour_of_a_torn_hose_have_their_price() -> None:
    """The compressor's 4 kW for an hour are 4 kWh; a night of 14 h is 14 parts of the year's 8766 h."""
    plain = network_of(SITE)
    rows = dict(leak_rows(network_of(SITE + "\nenergy price: 0.50\n")))
    power_kw = plain.layout.site.compressor.power_w / 1e3
    assert rows["an hour of that, the set running on"] == f"{power_kw:.1f} kWh, which costs {power_kw * 0.5:.2f}"
    night_kwh = plain.leaks.target_energy_j_year / 3.6e6 * 14.0 / 8766.0
    (night,) = [value for what, value in rows.items() if what.startswith("a night of that, 14.0 h")]
    assert float(night.split(" kWh")[0]) == pytest.approx(night_kwh, abs=0.051)
    assert float(night.split("costs ")[1]) == pytest.approx(night_kwh * 0.5, abs=0.0051)
    assert dict(leak_rows(plain))["an hour of that, the set running on"] == f"{power_kw:.1f} kWh"
