from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafter.rules import weak_unit as rule
from drafter.site.model import ServiceUnit, Treatment


@pytest.mark.parametrize("rated_bar, found", [(None, []), (16.0, []), (10.0, []), (9.99, ["error"])])
def test_a_relief_setting_of_10_bar(changed: Any, severities: Any, rated_bar: float | None, found: list[str]) -> None:
    place = changed().network.layout.site.main.place
    unit = Treatment(place=place, kind="filter", rated_pa=None if rated_bar is None else rated_bar * 1e5)
    assert severities(rule, changed(site={"treatment": (unit, replace(unit, rated_pa=None))})) == found


@pytest.mark.parametrize("rated_bar, found", [(10.0, 0), (9.99, 2)])
def test_a_unit_at_the_outlet(changed: Any, severities: Any, rated_bar: float, found: int) -> None:
    place = changed().network.layout.site.main.place
    unit = ServiceUnit(place=place, kind="regulator", rated_pa=rated_bar * 1e5)
    assert severities(rule, changed(outlets={"service": (unit,)})) == ["error"] * found


@pytest.mark.parametrize("rated_to_c, found", [(56.0, []), (45.0, ["error"])])
def test_air_25_k_above_a_room_of_30_degrees(drawn: Any, severities: Any, rated_to_c: float, found: list[str]) -> None:
    design = drawn(f"{{kind: filter, rated to: {rated_to_c} degC}}", plant=", air warmer by: 25 K")
    assert severities(rule, design) == found


def test_the_limit_is_the_warmest_air(drawn: Any, severities: Any) -> None:
    plain = drawn("filter", plant=", air warmer by: 25 K").network
    node = next(node for node in plain.layout.nodes.values() if node.what == "filter")
    air_c = plain.water.warm.before[node.id].temperature_k - 273.15
    for rated_to_c, found in ((air_c, []), (air_c - 0.1, ["error"])):
        design = drawn(f"{{kind: filter, rated to: {rated_to_c:.4f} degC}}", plant=", air warmer by: 25 K")
        assert severities(rule, design) == found


def test_warm_air_at_an_outlet(drawn: Any, severities: Any) -> None:
    design = drawn(outlet=", service: [{kind: filter, rated to: 29 degC}]")
    assert severities(rule, design) == ["error"] * 2
