from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

from drafter.layout.reach import over_floor_m
from drafter.pipeline import design as whole_design
from drafter.rules import place_out_of_reach as rule
from drafter.supports import Design

SITE = (Path(__file__).parents[1] / "data" / "keeps_every_rule.yaml").read_text(encoding="utf-8")
FAR = "{name: bay 1, wall: west, from left: 3 m, off wall: 0.2 m}"


def drawn(place: str, hose: str = "5 m") -> Design:
    text = SITE.replace("use: 1 %}]", f"use: 1 %}}], hose: {{length: {hose}}}")
    made = whole_design(f"{text}places: [{place}]\n", "yard.yaml").design
    assert made is not None
    return made


def test_without_places_nothing_is_said(design: Any, severities: Any) -> None:
    assert severities(rule, design) == []


def test_at_the_limit_it_is_reached(severities: Any) -> None:
    """The plain way in the room of 8 by 6 m, from the coupling at 1.2 m to work at 1 m."""
    made = drawn(FAR)
    coupling = next(node.at for node in made.network.layout.couplings if node.tag == "A2")
    need_m = math.hypot(coupling.x - 0.2, coupling.y - 3.0) + abs(coupling.z - 1.0)
    assert over_floor_m(need_m, coupling.z) == pytest.approx(need_m - 0.2)
    for more_m, found in ((0.002, []), (-0.002, ["warning"])):
        assert severities(rule, drawn(FAR, f"{need_m + more_m:.4f} m")) == found


def test_it_says_by_how_much_and_which_hose_would_do(severities: Any) -> None:
    made = drawn(FAR, "2 m")
    assert severities(rule, made) == ["warning"]
    (found,) = rule.check(made)
    (place,) = made.network.layout.reach.places
    tag, more_m = place.remedy or ("", 0.0)
    assert (tag, found.subject, found.place) == ("A2", "bay 1", place.entry.where("from_left_m"))
    hose_m = math.ceil((2.0 + more_m) * 10) / 10
    assert f"hang a hose of {hose_m:.2f} m at A2" in found.fix
    assert severities(rule, drawn(FAR, f"{hose_m} m")) == []


def test_a_place_behind_a_shut_door_has_no_way() -> None:
    room = "\n  store: {size: [3 m, 3 m], ceiling: 3 m, behind: {room: shop, wall: south, from left: 0 m}}\ncompressor:"
    text = SITE.replace("\ncompressor:", room).replace("{wall: north", "{room: shop, wall: north")
    text = text.replace(", wall: east", ", room: shop, wall: east").replace("A2, wall", "A2, room: shop, wall")
    place = "places: [{name: rack, room: store, wall: south, from left: 1 m, off wall: 1 m}]\n"
    made = whole_design(text + place, "yard.yaml")
    assert made.design is not None, made.findings
    (found,) = rule.check(made.design)
    assert found.measured == "no way"
    assert "doors are taken as shut" in found.message
