"""The record of a leak test: readings in, leak, verdict, cost and a page for the folder out."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path
from typing import Any

import pypdf
import pytest

from drafter.cli import main
from drafter.leak_testing import READ, leak_test_of
from drafter.sheets.leak_verdict import verdict_words
from drafter.site import read
from drafter.sizing.leak_result import LeakResult, Verdict

SITE = (Path(__file__).parent / "data" / "keeps_every_rule.yaml").read_text(encoding="utf-8")
PRICED = f"{SITE}energy price: 0.30\n"
ATMOSPHERE_BAR = 1.01325


def given(**values: Any) -> Namespace:
    return Namespace(**(dict.fromkeys(READ) | {"with_tank": False, "date": "", "by": "", "before": ""} | values))


def result(text: str = SITE, **values: Any) -> LeakResult:
    test = leak_test_of(text.encode(), "yard.yaml", given(**values))
    assert test.findings == ()
    return test.results[-1]


def fall(bar: float, minutes: float = 30.0, begun_bar: float = 8.5, **more: Any) -> LeakResult:
    return result(start_pa=begun_bar * 1e5, end_pa=(begun_bar - bar) * 1e5, time_s=minutes * 60.0, **more)


def test_a_fall_by_hand() -> None:
    """V (p1 - p2) / (t p_a): 100 kPa over 1800 s."""
    leak = fall(0.2)
    assert leak.leak_m3_s == pytest.approx(leak.volume_m3 * 0.2 / 1800.0, rel=1e-9)
    mean_bar = ATMOSPHERE_BAR + 8.4
    assert leak.at_cut_out_m3_s == pytest.approx(leak.leak_m3_s * (8.5 + ATMOSPHERE_BAR) / mean_bar, rel=1e-6)


def test_the_tank_is_counted_where_it_was_under_test() -> None:
    alone, both = fall(0.2), fall(0.2, with_tank=True)
    assert both.volume_m3 - alone.volume_m3 == pytest.approx(0.08)
    assert both.leak_m3_s / alone.leak_m3_s == pytest.approx(both.volume_m3 / alone.volume_m3)


@pytest.mark.parametrize(
    "fall_bar, minutes, verdict",
    [
        (0.0, 30.0, Verdict.TIGHT),
        (0.1, 30.0, Verdict.TIGHT),
        (0.1001, 30.0, Verdict.ALLOWED),
        (0.2, 60.0, Verdict.TIGHT),
        (-0.01, 30.0, Verdict.NOTHING),
        (3.0, 1.0, Verdict.LEAKS),
    ],
)
def test_verdicts(fall_bar: float, minutes: float, verdict: Verdict) -> None:
    assert fall(fall_bar, minutes).verdict is verdict


def test_air_that_cools_is_not_taken_for_a_leak() -> None:
    """From 293.15 to 290.15 K a tight volume at 9.51325 bar absolute falls by 0.0974 bar."""
    cooled = 9.51325 * 3.0 / 293.15
    assert cooled == pytest.approx(0.0974, abs=1e-4)
    leak = fall(cooled, start_k=293.15, end_k=290.15)
    assert leak.leak_m3_s == pytest.approx(0.0, abs=1e-12)
    assert leak.corrected_fall_pa == pytest.approx(0.0, abs=1e-3)
    warmed = fall(0.0, start_k=293.15, end_k=297.15)
    assert warmed.corrected_fall_pa == pytest.approx(9.51325e5 * (1 - 293.15 / 297.15), rel=1e-9)
    assert warmed.verdict is Verdict.ALLOWED


def test_where_one_kelvin_decides_it_is_said() -> None:
    """1 K changes 9.513 bar absolute by 0.032 bar."""
    near, far, read_too = fall(0.09), fall(0.05), fall(0.09, start_k=293.15, end_k=293.15)
    assert near.swing_pa_per_k == pytest.approx(0.0325e5, rel=0.01)
    assert [each.temperature_decides for each in (near, far, read_too)] == [True, False, False]


@pytest.mark.parametrize(
    "loaded_min, unloaded_min, share, verdict",
    [
        (8.0, 48.0, 0.14286, Verdict.ALLOWED),
        (1.0, 9.0, 0.1, Verdict.TIGHT),
        (1.0, 8.9, 0.10101, Verdict.ALLOWED),
        (2.0, 8.0, 0.2, Verdict.ALLOWED),
        (3.0, 8.0, 0.27273, Verdict.LEAKS),
    ],
)
def test_running_times(loaded_min: float, unloaded_min: float, share: float, verdict: Verdict) -> None:
    """8 min loaded and 48 unloaded leak 14.2 % of the capacity: a published training example."""
    leak = result(f"{SITE}demand: {{leakage: 0 %}}\n", loaded_s=loaded_min * 60.0, unloaded_s=unloaded_min * 60.0)
    assert leak.share == pytest.approx(share, abs=1e-5)
    assert leak.leak_m3_s == pytest.approx(share * 0.008, rel=1e-3)
    assert leak.verdict is verdict


def test_cost_by_hand(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A fifth of 8 l/s by a set of 4 kW: 0.8 kW, 7008 kWh a year, 2102.40 at 0.30; 250 days of 8 h: 1600 kWh."""
    file = tmp_path / "yard.yaml"
    file.write_text(PRICED, encoding="utf-8")
    arguments = ["leak-test", str(file), "--loaded", "2 min", "--unloaded", "8 min", "--into", str(tmp_path)]
    assert main(arguments) == 1
    out = capsys.readouterr().out
    assert "7008 kWh, which costs 2102.40" in out
    assert "1600 kWh, which costs 480.00" in out
    assert out.splitlines()[-1].split("verdict")[1].strip().startswith("DOES NOT PASS")


def test_without_a_price_it_is_asked_for(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "yard.yaml"
    file.write_text(SITE, encoding="utf-8")
    assert (
        main(["leak-test", str(file), "--from", "8.5bar", "--to", "8.45bar", "--for", "30min", "--into", str(tmp_path)])
        == 0
    )
    assert "energy price" in capsys.readouterr().out


def test_readings_of_the_site_file_and_the_page_for_the_folder(tmp_path: Path) -> None:
    entry = (
        "leak test:\n  - {date: 2026-03-02, by: R. Okafor, from: 8.5 bar, to: 8.46 bar, for: 30 min,"
        " air at start: 20 degC, air at end: 20 degC}\n"
    )
    file = tmp_path / "yard.yaml"
    file.write_text(PRICED + entry, encoding="utf-8")
    assert main(["leak-test", str(file), "--into", str(tmp_path)]) == 0
    more = ["--loaded", "3 min", "--unloaded", "8 min", "--date", "2026-03-09"]
    assert main(["leak-test", str(file), "--into", str(tmp_path), *more]) == 1
    pages = pypdf.PdfReader(tmp_path / "yard" / "leak-test.pdf").pages
    text = " ".join(page.extract_text() for page in pages)
    for words in ("2026-03-02", "R. Okafor", "2026-03-09", "PASSES", "DOES NOT PASS", "witness", "local code"):
        assert words in text, words


@pytest.mark.parametrize("rated, stamped", [("16 bar", False), ("9.9 bar", True)])
def test_the_page_of_a_design_with_errors_is_stamped(
    rated: str, stamped: bool, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "yard.yaml"
    file.write_text(f"{SITE}ratings: {{valves: {rated}}}\n", encoding="utf-8")
    readings = ["--from", "8.5bar", "--to", "8.45bar", "--for", "30min"]
    assert main(["leak-test", str(file), *readings, "--into", str(tmp_path)]) == 0
    words = "NOT FOR CONSTRUCTION - 1 ERROR"
    assert capsys.readouterr().out.startswith(words) is stamped
    (page,) = pypdf.PdfReader(tmp_path / "yard" / "leak-test.pdf").pages
    assert (words in page.extract_text()) is stamped


@pytest.mark.parametrize(
    "more, rule",
    [
        ([], "LEAK003"),
        (["--from", "8 bar", "--to", "7 bar"], "LEAK001"),
        (["--loaded", "2 min"], "LEAK001"),
        (["--from", "8 bar", "--to", "7.9 bar", "--for", "30 min", "--air-at-end", "20 degC"], "LEAK001"),
        (
            ["--from", "8 bar", "--to", "7.9 bar", "--for", "30 min", "--loaded", "2 min", "--unloaded", "9 min"],
            "LEAK001",
        ),
    ],
)
def test_readings_that_say_nothing(
    more: list[str], rule: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "yard.yaml"
    file.write_text(SITE, encoding="utf-8")
    assert main(["leak-test", str(file), "--into", str(tmp_path / "out"), *more]) == 2
    assert f"error {rule}:" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


def test_a_reading_without_a_unit_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["leak-test", "x.yaml", "--from", "8"]) == 2
    assert "'8' has no unit" in capsys.readouterr().err


def test_a_site_file_that_cannot_be_read_says_why(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "yard.yaml"
    file.write_text(SITE.replace("8 l/s", "8 litres"), encoding="utf-8")
    assert main(["leak-test", str(file), "--loaded", "2 min", "--unloaded", "9 min"]) == 2
    assert "UNIT001" in capsys.readouterr().err


def test_in_a_site_file_a_bad_reading_is_found_with_its_line() -> None:
    text = f"{SITE}leak test:\n  - {{from: 8 bar, to: 7.9 bar}}\n"
    _, findings = read(text, "yard.yaml")
    (found,) = [finding for finding in findings if finding.rule == "LEAK001"]
    assert found.place.line == text.count("\n")


def test_verdicts_are_said_in_words() -> None:
    units = leak_test_of(SITE.encode(), "yard.yaml", given(loaded_s=60.0, unloaded_s=600.0)).network.layout.site.units  # type: ignore[union-attr]
    assert verdict_words(fall(0.04), units) == "PASSES: tight as new work is to be"
    assert "could turn this" in verdict_words(fall(0.09), units)
    assert verdict_words(fall(-0.1), units).startswith("TELLS NOTHING")
    assert "times what was allowed for" in verdict_words(fall(3.0, 1.0), units)
