from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import fast_air_in_drop as rule


@pytest.mark.parametrize(
    "velocity_m_s, found",
    [(5.0, None), (10.0, None), (10.01, "note"), (15.0, "note"), (15.01, "warning")],
)
def test_limits(changed: Any, severities: Any, velocity_m_s: float, found: str | None) -> None:
    assert severities(rule, changed(pipes={"velocity_m_s": velocity_m_s})) == ([found] * 2 if found else [])


def test_each_drop_is_named(changed: Any) -> None:
    found = rule.check(changed(pipes={"velocity_m_s": 12.0}))
    assert [finding.subject for finding in found] == ["A1", "A2"]
