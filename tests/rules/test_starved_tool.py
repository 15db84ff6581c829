from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import starved_tool as rule


def test_without_a_pattern_nothing_is_said(design: Any, severities: Any) -> None:
    assert severities(rule, design) == []


@pytest.mark.parametrize("length_s, found", [(60.0, []), (1500.0, ["warning", "warning"])])
def test_two_guns_take_more_than_is_delivered(changed: Any, severities: Any, length_s: float, found: list[str]) -> None:
    design = changed(works=[("A1", 0.0, length_s), ("A2", 0.0, length_s)])
    assert severities(rule, design) == found


def test_a_run_is_found_from_the_first_moment_it_is_short(changed: Any, severities: Any) -> None:
    """At the limit of the first pass: both guns run as long as the tank lasts, then 2 s longer."""
    lasts_s = changed(works=[("A1", 0.0, 1500.0), ("A2", 0.0, 1500.0)]).network.tank.work.shortages[0].at_s
    for more_s, short in ((-0.1, False), (2.0, True)):
        design = changed(works=[("A1", 0.0, lasts_s + more_s), ("A2", 0.0, lasts_s + more_s)])
        tank = design.network.tank
        assert bool(tank.work.shortages) is short
        assert len(severities(rule, design)) == len(tank.hardest.shortages)
        assert short <= bool(tank.hardest.shortages)


def test_a_later_pass_that_begins_with_less_is_judged_too(changed: Any) -> None:
    lasts_s = changed(works=[("A1", 0.0, 1500.0), ("A2", 0.0, 1500.0)]).network.tank.work.shortages[0].at_s
    design = changed(works=[("A1", 0.0, lasts_s - 0.1), ("A2", 0.0, lasts_s - 0.1)])
    tank = design.network.tank
    assert tank.work.shortages == ()
    assert tank.later is not None
    assert tank.later.stretches[0].start_pa < tank.tank.cut_out_pa
    assert all("repeated without a pause" in finding.message for finding in rule.check(design))
    assert list(rule.check(design))


def test_an_outlet_low_at_cut_in_is_left_to_its_own_rule(changed: Any, severities: Any) -> None:
    works = [("A1", 0.0, 1500.0), ("A2", 0.0, 1500.0)]
    assert severities(rule, changed(works=works, flows={"tool_pressure_pa": 3e5})) == []
