"""What a leak test comes to where it began too low or too high, ended empty or risen, or has two yardsticks."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path
from typing import Any

import pypdf
import pytest

from drafter.cli import main
from drafter.layout import lay_out
from drafter.leak_testing import READ, LeakTest, leak_test_of
from drafter.report.leak_result import leak_result_text
from drafter.sheets.leak_result import leak_drawing, result_rows
from drafter.site import read
from drafter.site.checks.leak_test import lowering_tags
from drafter.sizing.before_regulator import parts_before
from drafter.sizing.leak_result import LeakResult, Verdict
from drafter.standards.materials import material

SIZE = material("copper tube").sizes[0]
SITE = (Path(__file__).parent / "data" / "keeps_every_rule.yaml").read_text(encoding="utf-8")
"""Cut-out and so the leak test at 8.5 bar, relief valve at 10 bar, tank rated for 11 bar."""


def worked_out(text: str = SITE, **values: Any) -> LeakTest:
    given = Namespace(**(dict.fromkeys(READ) | {"with_tank": False, "date": None, "by": None, "before": None} | values))
    test = leak_test_of(text.encode(), "yard.yaml", given)
    assert test.findings == ()
    return test


def fall(begun_bar: float, end_bar: float, minutes: float = 30.0, **more: Any) -> LeakTest:
    return worked_out(start_pa=begun_bar * 1e5, end_pa=end_bar * 1e5, time_s=minutes * 60.0, **more)


def rows(test: LeakTest) -> dict[str, str]:
    assert test.network is not None
    return dict(result_rows(test.network, test.results[-1]))


def verdict(test: LeakTest) -> Verdict:
    return test.results[-1].verdict


@pytest.mark.parametrize("begun_bar, fall_bar", [(0.1, 0.1), (0.5, 0.05), (1.0, 0.1), (8.0, 0.05), (8.074, 0.0)])
def test_a_test_begun_low_says_nothing_of_the_working_pressure(begun_bar: float, fall_bar: float) -> None:
    test = fall(begun_bar, begun_bar - fall_bar)
    assert verdict(test) in (Verdict.LOW, Verdict.EMPTY)
    assert not rows(test)["verdict"].startswith("PASSES")
    assert "l/min" in rows(test)["it leaks"]
    if begun_bar > 0.1:
        assert rows(test)["verdict"].startswith("TELLS NOTHING of the line at its working pressure")
        assert rows(test)["verdict"].endswith("Test again at 8.50 bar")


def test_five_percent_short_of_the_tests_pressure_still_counts() -> None:
    """0.95 of 8.5 bar is 8.075 bar."""
    assert verdict(fall(8.075, 8.05)) is Verdict.TIGHT
    assert verdict(fall(8.07, 8.045)) is Verdict.LOW


def test_much_lost_at_a_low_pressure_does_not_pass() -> None:
    assert verdict(fall(6.0, 3.0, 1.0)) is Verdict.LEAKS


def test_what_is_accepted_is_held_against_the_leak_at_the_tests_pressure() -> None:
    """From 8.1 bar the holes that lose 0.1 bar from 8.5 bar lose 0.1 x 9.11325 / 9.51325 = 0.0958 bar."""
    assert fall(8.1, 8.05).results[0].accepted_fall_pa == pytest.approx(0.095795e5, rel=1e-4)
    assert verdict(fall(8.1, 8.1 - 0.0957)) is Verdict.TIGHT
    assert verdict(fall(8.1, 8.1 - 0.0959)) is not Verdict.TIGHT
    assert verdict(fall(8.5, 8.4)) is Verdict.TIGHT


@pytest.mark.parametrize(
    "begun_bar, with_tank, words",
    [
        (10.0, False, []),
        (10.0, True, []),
        (10.01, False, ["10.01 bar", "the relief valve's setting (10.00 bar)"]),
        (11.0, True, ["the relief valve's setting (10.00 bar)"]),
        (11.1, True, ["the relief valve's setting (10.00 bar)", "the tank's rating (11.00 bar)"]),
    ],
)
def test_above_the_relief_valve_or_the_tanks_rating_is_an_error(
    begun_bar: float, with_tank: bool, words: list[str]
) -> None:
    test = fall(begun_bar, begun_bar - 0.02, with_tank=with_tank)
    assert (verdict(test) is Verdict.OVER) == bool(words)
    said = rows(test)["verdict"]
    assert said.startswith("ERROR: it was under " if words else "PASSES")
    assert all(each in said for each in words)
    assert ("the tank's rating" in said) == (begun_bar > 11.0)
    if words:
        assert "Bleed to zero, have what was under it looked at" in said


def test_above_what_pipe_and_units_are_rated_for_is_an_error() -> None:
    unit = f"{SITE}treatment:\n  - {{kind: filter, rated: 9 bar}}\n"
    high = worked_out(unit, start_pa=9.1e5, end_pa=9.08e5, time_s=1800.0)
    assert "the rating of the filter (9.00 bar)" in rows(high)["verdict"]
    low = worked_out(unit.replace("rated: 9 bar", "rated: 8 bar"), start_pa=8.5e5, end_pa=8.48e5, time_s=1800.0)
    assert "then test at" not in rows(low)["verdict"]
    assert "test again only when nothing under test is rated below 8.50 bar" in rows(low)["verdict"]
    assert verdict(worked_out(unit, start_pa=9e5, end_pa=8.98e5, time_s=1800.0)) is not Verdict.OVER
    soft = SITE.replace("material: copper tube", "material: polyamide tube").replace("warmest: 30", "warmest: 40")
    pipe = worked_out(soft, start_pa=9.9e5, end_pa=9.88e5, time_s=1800.0)
    assert "the rating of polyamide tube" in rows(pipe)["verdict"]


def test_what_lies_before_a_regulator_is_held_against_its_own_pressure() -> None:
    text = f"{SITE}treatment: [filter, {{kind: regulator, set: 6.5 bar}}]\n"
    part = worked_out(text, start_pa=8.5e5, end_pa=8.49e5, time_s=1800.0, before="T-02")
    (result,) = part.results
    assert part.network is not None
    (before,) = part.network.leaks.before
    assert (result.volume_m3, result.test_gauge_pa) == (before.volume_m3, 8.5e5)
    assert verdict(part) is Verdict.TIGHT
    assert rows(part)["under test"].startswith("V-01 to T-02, ")
    assert "LEAK TEST, V-01 to T-02" in leak_result_text(part.network, part.results)
    low = worked_out(text, start_pa=6.5e5, end_pa=6.49e5, time_s=1800.0, before="T-02")
    assert verdict(low) is Verdict.LOW
    assert verdict(worked_out(text, start_pa=6.5e5, end_pa=6.49e5, time_s=1800.0)) is Verdict.TIGHT


@pytest.mark.parametrize(
    "treatment, entry, words",
    [
        ("filter, {kind: regulator, set: 6.5 bar}", "before: T-01", "called T-01; write T-02"),
        ("filter", "before: T-01", "called T-01; leave 'before' out"),
        ("filter, {kind: regulator, set: 9.5 bar}", "before: T-02", "leave 'before' out"),
        ("{kind: regulator, set: 7 bar}, {kind: regulator, set: 6 bar}", "before: T-03", "write T-01 or T-02"),
        ("{kind: regulator, set: 7 bar}", "before: T-01, under test: with tank", "tested alone"),
        ("{kind: regulator, set: 7 bar}", "before: T-01", ""),
    ],
)
def test_a_part_ends_at_a_regulator_that_there_is(treatment: str, entry: str, words: str) -> None:
    text = f"{SITE}treatment: [{treatment}]\nleak test: [{{from: 8.5 bar, to: 8.4 bar, for: 30 min, {entry}}}]\n"
    site, findings = read(text, "yard.yaml")
    found = [f"{finding.message}; {finding.fix}" for finding in findings if finding.rule == "LEAK004"]
    assert len(found) == bool(words)
    assert all(words in each for each in found)
    if site is not None and (layout := lay_out(site)[0]) is not None:
        tags = [part.regulator for part in parts_before(layout, dict.fromkeys(layout.run_by_id, SIZE))]
        assert sorted(tags) == sorted(lowering_tags(site))


def test_an_error_is_told_before_everything_on_screen_and_page(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "yard.yaml"
    file.write_text(SITE + "leak test: [{from: 8.5 bar, to: 8.49 bar, for: 30 min}]\n", encoding="utf-8")
    asked = ["leak-test", str(file), "--from", "10.5bar", "--to", "10.45bar", "--for", "30min", "--into", str(tmp_path)]
    assert main(asked) == 1
    assert capsys.readouterr().out.startswith("LEAK TEST, piping: ERROR: it was under 10.50 bar")
    page = pypdf.PdfReader(tmp_path / "yard" / "leak-test.pdf").pages[0].extract_text()
    assert -1 < page.find("ERROR") < page.find("PASSES")


def test_in_a_site_file_a_test_above_what_holds_it_is_warned_of() -> None:
    for tank, begun, words in (
        ("with tank", "11.1 bar", "the tank was under 11.10 bar, above the 11.00 bar it is rated for"),
        ("piping", "10.1 bar", "the piping was under 10.10 bar, above the 10.00 bar"),
        ("piping", "10 bar", ""),
    ):
        entry = f"leak test: [{{from: {begun}, to: 9.9 bar, for: 30 min, under test: {tank}}}]\n"
        _, findings = read(SITE + entry, "yard.yaml")
        found = [finding.message for finding in findings if finding.rule == "LEAK002"]
        assert len(found) == bool(words)
        assert all(words in message for message in found)


def test_a_rise_after_correction_is_called_so() -> None:
    test = fall(8.5, 8.45, start_k=293.15, end_k=288.15)
    assert verdict(test) is Verdict.NOTHING
    said = rows(test)
    assert "corrected for the air's temperature the pressure rose by 0.114 bar" in said["verdict"]
    assert "Measure again with steady air" in said["verdict"]
    assert "it leaks" not in said
    assert not any("-" in value for what, value in said.items() if what != "verdict")
    plain = rows(fall(8.5, 8.6))
    assert "the pressure rose by 0.100 bar: the air warmed" in plain["verdict"]
    assert plain["rise at one temperature"] == "0.100 bar"


@pytest.mark.parametrize("end_bar, empty", [(0.0, True), (0.05, True), (0.06, False)])
def test_a_line_found_empty_leaks_at_least_so_much(end_bar: float, empty: bool) -> None:
    test = fall(8.5, end_bar)
    assert (verdict(test) is Verdict.EMPTY) == empty
    assert ("at least" in rows(test)["verdict"]) == empty
    assert rows(test)["it leaks"].startswith("at least") == empty
    assert rows(test)["verdict"].startswith("DOES NOT PASS")


def of_share(share: float) -> LeakTest:
    return worked_out(f"{SITE}demand: {{leakage: 50 %}}\n", loaded_s=share * 1e5, unloaded_s=(1.0 - share) * 1e5)


def test_times_are_held_against_capacity_and_the_sites_allowance() -> None:
    network = of_share(0.05).network
    assert network is not None
    allowed = network.leaks.target_m3_s / network.supply.delivered_m3_s
    assert 0.0 < allowed < 0.1
    assert verdict(of_share(allowed)) is Verdict.TIGHT
    assert "no more than the" in rows(of_share(allowed))["verdict"]
    half = of_share(allowed * 1.2)
    assert verdict(half) is Verdict.HALF
    assert rows(half)["verdict"].startswith("DOES NOT PASS the site file's allowance")
    assert "1.2 times the" in rows(half)["verdict"]
    assert "by the compressor's capacity it passes as well kept" in rows(half)["verdict"]


def test_numbers_have_no_exponent_and_no_needless_digits() -> None:
    assert rows(fall(8.5, 8.5))["read"] == "8.50 bar, after 30 min 8.50 bar"
    assert rows(of_share(0.9999))["of what is delivered"] == "100 %"


@pytest.mark.parametrize("dates, shown", [([None], ""), (["2026-05-04"], "2026-05-04"), (["2026-05-04", None], "")])
def test_the_page_has_the_tests_date_or_none(dates: list[str | None], shown: str) -> None:
    entries = [f"{{from: 8.5 bar, to: 8.49 bar, for: 30 min{f', date: {date}' if date else ''}}}" for date in dates]
    test = worked_out(f"{SITE}drawing: {{date: 2026-03-02}}\nleak test: [{', '.join(entries)}]\n")
    assert test.network is not None
    drawing = leak_drawing(test.network, test.results)
    assert drawing.date == shown
    assert all(dict(sheet.fields)["DATE"] == shown for sheet in drawing.sheets)
    assert "2026-03-02" not in str(drawing)
    assert "2026-03-02" not in leak_result_text(test.network, test.results)


def test_results_keep_what_they_were_made_of() -> None:
    result: LeakResult = fall(8.5, 8.45).results[0]
    assert (result.test_gauge_pa, result.passed) == (8.5e5, ())


@pytest.mark.parametrize(
    "begun_bar, before, found",
    [(6.5, None, Verdict.TIGHT), (6.8, None, Verdict.TIGHT), (8.5, None, Verdict.BEFORE), (8.5, "T-01", Verdict.TIGHT)],
)
def test_more_than_a_regulator_lets_through_says_nothing_of_the_line_behind_it(
    begun_bar: float, before: str | None, found: Verdict
) -> None:
    text = f"{SITE}treatment: [{{kind: regulator, set: 6.5 bar}}]\n"
    begun_pa = begun_bar * 1e5
    test = worked_out(text, start_pa=begun_pa, end_pa=begun_pa - 1000.0, time_s=1800.0, before=before)
    assert verdict(test) is found
    told = rows(test)["verdict"]
    assert told.startswith("TELLS NOTHING of the line behind T-01" if found is Verdict.BEFORE else "PASSES")


def test_a_line_that_leaks_before_a_regulator_leaks_all_the_same() -> None:
    text = f"{SITE}treatment: [{{kind: regulator, set: 6.5 bar}}]\n"
    assert verdict(worked_out(text, start_pa=8.5e5, end_pa=3e5, time_s=1800.0)) is Verdict.LEAKS
