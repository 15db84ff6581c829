from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import frequent_starts as rule


@pytest.mark.parametrize("starts, found", [(0.0, []), (10.0, []), (10.1, ["note"])])
def test_ten_starts_an_hour(changed: Any, severities: Any, starts: float, found: list[str]) -> None:
    assert severities(rule, changed(motor={"busiest_hour_starts": starts})) == found


@pytest.mark.parametrize("starts, found", [(10, []), (11, ["warning"])])
def test_a_work_pattern_is_held_to_it(changed: Any, severities: Any, starts: int, found: list[str]) -> None:
    design = changed(motor={"busiest_hour_starts": starts}, works=[("A1", 0.0, 30.0)])
    assert severities(rule, design) == found


def test_a_set_that_unloads_keeps_its_motor_running(changed: Any, severities: Any) -> None:
    design = changed(motor={"busiest_hour_starts": 40.0}, compressor={"control": "load-unload"})
    assert severities(rule, design) == []


def test_the_tank_that_would_do_is_named(changed: Any) -> None:
    """Mass balance at half demand: 8 l/s x 360 s / 4 is 720 l at 20 degC, more with the tank's air at 30 degC."""
    (finding,) = rule.check(changed(motor={"busiest_hour_starts": 40.0}))
    assert "with 745 l it is no more" in finding.fix


@pytest.mark.parametrize("loads, found", [(60.0, []), (60.1, ["note"])])
def test_a_set_that_unloads_is_loaded_up_to_sixty_times(
    changed: Any, severities: Any, loads: float, found: list[str]
) -> None:
    design = changed(motor={"busiest_hour_starts": loads}, compressor={"control": "load-unload"})
    assert severities(rule, design) == found
