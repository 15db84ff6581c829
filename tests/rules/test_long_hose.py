from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import long_hose as rule
from drafter.site.model import Hose


@pytest.mark.parametrize("length_m, found", [(5.0, 0), (15.24, 0), (15.25, 2)])
def test_limits(changed: Any, severities: Any, length_m: float, found: int) -> None:
    assert severities(rule, changed(outlets={"hose": Hose(length_m=length_m)})) == ["note"] * found
