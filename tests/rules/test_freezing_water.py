from __future__ import annotations

from typing import Any

import pytest

from drafter.layout.run_words import all_run_words
from drafter.rules import freezing_water as rule


@pytest.mark.parametrize(
    "treatment, coldest_deg_c, found",
    [
        ("", 10.0, []),
        ("", 5.0, []),
        ("", 4.9, ["warning"]),
        ("filter", 4.9, ["warning"]),
        ("refrigeration dryer", 4.9, []),
        ("refrigeration dryer", 3.0, []),
        ("refrigeration dryer", 2.9, ["warning"]),
        ("{kind: refrigeration dryer, dew point: 7 degC}", 4.9, ["warning"]),
        ("refrigeration dryer, {kind: regulator, set: 5 bar}", -1.0, []),
        ("refrigeration dryer, {kind: regulator, set: 5 bar}", -4.0, ["warning"]),
        ("desiccant dryer", -39.0, []),
        ("{kind: desiccant dryer, dew point: -15 degC}", -14.0, []),
        ("{kind: desiccant dryer, dew point: -15 degC}", -16.0, ["warning"]),
    ],
)
def test_limits_in_a_shed(drawn: Any, severities: Any, treatment: str, coldest_deg_c: float, found: list[str]) -> None:
    assert severities(rule, drawn(treatment, coldest=f"{coldest_deg_c} degC")) == found


def test_it_names_the_room_and_its_runs(drawn: Any) -> None:
    design = drawn(coldest="-6 degC")
    (finding,) = rule.check(design)
    layout = design.network.layout
    runs = [run for run in layout.runs if run.room == "shed"]
    assert finding.subject == "shed"
    assert all(words in finding.message for words in all_run_words(layout, runs)[:4])
    assert f"{sum(map(layout.length_m, runs)):.2f} m" in finding.message
    assert "falls to -6 °C" in finding.message
    assert "freezes" in finding.message
    assert "desiccant dryer" in finding.fix


def test_before_the_dryer_the_air_is_wet(drawn: Any) -> None:
    """With the compressor in the cold, a dryer does not save the pipes between it and the tank."""
    design = drawn("desiccant dryer", shop="-20 degC")
    (finding,) = rule.check(design)
    assert "in the line at the compressor on" in finding.message
    assert "the main" not in finding.message
