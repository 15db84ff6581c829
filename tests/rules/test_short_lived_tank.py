from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import short_lived_tank as rule


@pytest.mark.parametrize("lasts_s, found", [(float("inf"), []), (30.0, []), (29.9, ["note"])])
def test_half_a_minute(changed: Any, severities: Any, lasts_s: float, found: list[str]) -> None:
    assert severities(rule, changed(supply={"tank_lasts_s": lasts_s})) == found
