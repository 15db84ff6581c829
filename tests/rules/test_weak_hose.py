from __future__ import annotations

from typing import Any

import pytest

from drafter.finding import Place
from drafter.rules import weak_hose as rule
from drafter.site.model import Hose
from drafter.sizing.ratings import air_at

PLACE = Place("yard.yaml", 9, 3)


@pytest.mark.parametrize("rated_bar, found", [(None, 0), (20.0, 0), (10.0, 0), (9.99, 2)])
def test_a_relief_setting_of_10_bar(changed: Any, severities: Any, rated_bar: float | None, found: int) -> None:
    hose = Hose(place=PLACE, rated_pa=None if rated_bar is None else rated_bar * 1e5)
    assert severities(rule, changed(outlets={"hose": hose})) == ["error"] * found


@pytest.mark.parametrize("spare_k, found", [(1.0, 0), (0.0, 0), (-0.2, 2)])
def test_the_warmest_air_at_the_outlet(changed: Any, severities: Any, spare_k: float, found: int) -> None:
    network = changed().network
    coldest_k = min(air_at(network, node) for node in network.layout.couplings)
    warmest_k = max(air_at(network, node) for node in network.layout.couplings)
    hose = Hose(place=PLACE, rated_to_k=(coldest_k if spare_k < 0.0 else warmest_k) + spare_k)
    assert severities(rule, changed(outlets={"hose": hose})) == ["error"] * found
