from __future__ import annotations

from typing import Any

import pytest

from drafter.rules import weak_hose as rule
from drafter.site.model import Hose


@pytest.mark.parametrize("rated_bar, found", [(None, 0), (20.0, 0), (10.0, 0), (9.99, 2)])
def test_a_relief_setting_of_10_bar(changed: Any, severities: Any, rated_bar: float | None, found: int) -> None:
    hose = Hose(rated_pa=None if rated_bar is None else rated_bar * 1e5)
    assert severities(rule, changed(outlets={"hose": hose})) == ["error"] * found
