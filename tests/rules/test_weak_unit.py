from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafter.rules import weak_unit as rule
from drafter.site.model import Treatment


@pytest.mark.parametrize("rated_bar, found", [(None, []), (16.0, []), (10.0, []), (9.99, ["error"])])
def test_a_relief_setting_of_10_bar(changed: Any, severities: Any, rated_bar: float | None, found: list[str]) -> None:
    place = changed().network.layout.site.main.place
    unit = Treatment(place=place, kind="filter", rated_pa=None if rated_bar is None else rated_bar * 1e5)
    assert severities(rule, changed(site={"treatment": (unit, replace(unit, rated_pa=None))})) == found
