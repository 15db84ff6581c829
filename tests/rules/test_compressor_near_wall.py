from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import compressor_near_wall as rule


@pytest.mark.parametrize("gap_m, found", [(0.5, []), (0.3, []), (0.299, ["note"]), (0.0, ["note"])])
def test_limits(changed: Any, severities: Any, gap_m: float, found: list[str]) -> None:
    assert severities(rule, changed(compressor={"off_wall_m": gap_m})) == found
