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
