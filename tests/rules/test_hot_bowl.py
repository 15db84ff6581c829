from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafter.rules import hot_bowl as rule
from drafter.site.model.own_limits import OwnLimit


@pytest.mark.parametrize(
    "treatment, rise_k, found",
    [
        ("filter", 15.0, []),
        ("filter", 45.0, ["note"]),
        ("refrigeration dryer", 45.0, []),
        ("aftercooler, filter", 45.0, []),
        ("lubricator", 45.0, ["note"]),
    ],
)
def test_what_stands_in_hot_air(drawn: Any, severities: Any, treatment: str, rise_k: float, found: list[str]) -> None:
    assert severities(rule, drawn(treatment, plant=f", air warmer by: {rise_k} K")) == found


def test_limits(drawn: Any, severities: Any) -> None:
    """At a filter the air is as warm as the rise says; the site's own limit is put just below and above."""
    design = drawn("filter", plant=", air warmer by: 15 K")
    network = design.network
    node = next(node for node in network.layout.nodes.values() if node.what == "filter")
    air_k = network.water.warm.before[node.id].temperature_k
    for limit_k, found in ((air_k, []), (air_k + 1.0, []), (air_k - 0.1, ["note"])):
        own = {rule.RULE.id: OwnLimit(limit=f"{limit_k - 273.15:.4f} degC", reason="test")}
        layout = replace(network.layout, site=replace(network.layout.site, own_limits=own))
        assert severities(rule, replace(design, network=replace(network, layout=layout))) == found


@pytest.mark.parametrize(
    "unit, found",
    [
        ("{kind: filter, bowl: metal}", []),
        ("{kind: filter, bowl: plastic}", ["note"]),
        ("{kind: filter, rated to: 60 degC}", []),
        ("filter", ["note"]),
    ],
)
def test_a_metal_bowl_or_a_label_settles_it(drawn: Any, severities: Any, unit: str, found: list[str]) -> None:
    assert severities(rule, drawn(unit, plant=", air warmer by: 45 K")) == found


def test_a_bowl_at_an_outlet_counts_too(drawn: Any) -> None:
    design = drawn(plant=", air warmer by: 60 K", outlet=", service: [filter]")
    said = [finding.message for finding in rule.check(design)]
    assert len(said) == 2
    assert said[0].startswith("air comes to the filter at A1 at ")
