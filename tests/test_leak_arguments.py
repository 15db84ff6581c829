"""What is given of a leak test at the command line is held to the bounds of the site file, in the same words."""

from __future__ import annotations

import pytest

from drafter.arguments import arguments_parser, minus_joined
from drafter.cli import main
from drafter.site import read

WHOLE = "site: Yard\nleak test:\n  - {%s: %s}\n"


@pytest.mark.parametrize(
    "option, key, written, words",
    [
        ("--for", "for", "0min", "'0min' is too small; write 10 s or more"),
        ("--for", "for", "9.9 s", "'9.9 s' is too small; write 10 s or more"),
        ("--for", "for", "15 d", "'15 d' is too large; write 14 d or less"),
        ("--loaded", "loaded", "0s", "'0s' is too small; write 10 s or more"),
        ("--unloaded", "unloaded", "0s", "'0s' is too small; write 10 s or more"),
        ("--from", "from", "0.02bar", "'0.02bar' is too small; write 0.1 bar or more"),
        ("--from", "from", "8", "'8' has no unit"),
        ("--to", "to", "-1bar", "'-1bar' is too small; write 0 bar or more"),
        ("--air-at-start", "air at start", "20 K", "'20 K', which is -253 degC, is too small; write -40 degC or more"),
        ("--air-at-end", "air at end", "-41degC", "'-41degC' is too small; write -40 degC or more"),
        ("--air-at-end", "air at end", "61 degC", "'61 degC' is too large; write 60 degC or less"),
        ("--date", "date", "02/03/2026", "'02/03/2026' is no date; write year, month and day, such as 2026-03-02"),
        ("--date", "date", "31-31-99", "'31-31-99' is no date"),
        ("--date", "date", "2026-02-30", "'2026-02-30' is no date"),
    ],
)
def test_bad_values_are_refused_as_in_the_site_file(
    option: str, key: str, written: str, words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["leak-test", "x.yaml", option, written]) == 2
    assert words in capsys.readouterr().err
    _, findings = read(WHOLE % (key, written), "yard.yaml")
    assert any(words.partition(";")[0] in finding.message for finding in findings)


@pytest.mark.parametrize(
    "option, name, written, value",
    [
        ("--for", "time_s", "10 s", 10.0),
        ("--for", "time_s", "14 d", 14 * 86400.0),
        ("--from", "start_pa", "0.1 bar", 0.1e5),
        ("--to", "end_pa", "0 bar", 0.0),
        ("--air-at-start", "start_k", "-40degC", 233.15),
        ("--air-at-end", "end_k", "60 degC", 333.15),
        ("--air-at-end", "end_k", "293.15 K", 293.15),
        ("--date", "date", "2026-03-02", "2026-03-02"),
        ("--by", "by", "R. Okafor", "R. Okafor"),
    ],
)
def test_values_at_the_bounds_are_taken(option: str, name: str, written: str, value: float | str) -> None:
    asked = arguments_parser().parse_args(minus_joined(["leak-test", "x.yaml", option, written]))
    taken = getattr(asked, name)
    assert taken == (pytest.approx(value) if isinstance(value, float) else value)


def test_only_numbers_below_zero_are_joined_to_the_option_before() -> None:
    assert minus_joined(["a.yaml", "--to", "-.5bar", "--json", "--by", "-x", "-1"]) == [
        "a.yaml", "--to=-.5bar", "--json", "--by", "-x", "-1",
    ]  # fmt: skip
