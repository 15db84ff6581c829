from __future__ import annotations

from typing import Any

import pytest

from drafter.finding import Place
from drafter.rules import weak_part as rule
from drafter.site.model import PartRatings, Rated
from drafter.sizing.ratings import warmest_parts_k

PLACE = Place("yard.yaml", 9, 3)
KINDS = ("valves", "drains", "couplings", "fittings", "flexible")


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("rated_bar, found", [(16.0, []), (10.0, []), (9.99, ["error"])])
def test_a_relief_setting_of_10_bar(
    changed: Any, severities: Any, kind: str, rated_bar: float, found: list[str]
) -> None:
    told = PartRatings(**{kind: Rated(place=PLACE, rated_pa=rated_bar * 1e5)})
    assert severities(rule, changed(site={"part_ratings": told})) == found


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("spare_k, found", [(1.0, []), (0.0, []), (-0.2, ["error"])])
def test_the_warmest_air_that_comes_to_it(
    changed: Any, severities: Any, design: Any, kind: str, spare_k: float, found: list[str]
) -> None:
    label = Rated(place=PLACE, rated_pa=16e5, rated_to_k=warmest_parts_k(design.network)[kind] + spare_k)
    assert severities(rule, changed(site={"part_ratings": PartRatings(**{kind: label})})) == found


def test_what_is_not_told_is_not_held_against_anything(design: Any, severities: Any) -> None:
    assert severities(rule, design) == []


def test_air_cools_on_its_way(design: Any) -> None:
    """The valve at the tank gets the tank's air, 25 K above a room of 30 °C; couplings get cooler air."""
    warmest_k = warmest_parts_k(design.network)
    assert warmest_k["valves"] == pytest.approx(328.15, abs=0.1)
    assert 303.15 <= warmest_k["couplings"] < warmest_k["valves"]
