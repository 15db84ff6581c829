"""Sleeves keep clear of the studs of both faces, wherever these stand."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from drafter.layout.graph import RunKind
from drafter.layout.sleeves import CLEAR_OF_STUD_M
from drafter.pipeline import Designed, design

SHOP = (Path(__file__).parents[2] / "example_sites" / "cabinet_shop.yaml").read_text(encoding="utf-8")


def studs_m(designed: Designed, room: str, wall: str) -> list[float]:
    assert designed.site is not None
    studs = designed.site.rooms[room].studs_of(wall)
    assert studs is not None
    length_m = designed.site.wall(room, wall).length_m
    return [studs.first_m + n * studs.spacing_m for n in range(int((length_m - studs.first_m) / studs.spacing_m) + 1)]


@pytest.mark.parametrize("first", ["1 in", "3 in", "4 in", "6 in", "8 in", "11 in", "15 in"])
def test_a_sleeve_that_is_chosen_clears_the_studs_on_both_sides(first: str) -> None:
    text, count = re.subn(r"first: [^,}]+", f"first: {first}", SHOP)
    assert count
    designed = design(text, "shop.yaml")
    assert designed.network is not None
    layout, passed = designed.network.layout, 0
    for run in layout.runs:
        if run.kind is RunKind.SLEEVE:
            for node in (layout.nodes[run.start], layout.nodes[run.end]):
                here = layout.from_left_m(node)
                passed += 1
                gaps = [abs(here - stud) for stud in studs_m(designed, node.room, node.wall)]
                assert min(gaps) >= CLEAR_OF_STUD_M - 1e-6
    assert passed


def test_a_sleeve_given_on_a_stud_is_an_error_that_says_where_it_clears_them() -> None:
    def tried(place: str) -> Designed:
        through = f"fall: 1/8 in per ft, through: [{{room: shop, wall: A-B, from left: {place}}}]"
        return design(SHOP.replace("fall: 1/8 in per ft", through), "shop.yaml")

    (stud,) = [finding for finding in tried("14 ft 7 in").findings if finding.rule == "ROUTE006"]
    assert "a stud stands at 14'-7 1/4\"" in stud.message
    said = re.search(r"it clears them at (\d+)'-(\d+)( \d/\d)?", stud.message)
    assert said is not None
    followed = tried(f"{said[1]} ft {said[2]}{said[3] or ''} in")
    assert not [finding for finding in followed.findings if finding.rule == "ROUTE006"]


@pytest.mark.parametrize(("wall", "place"), [("closet, wall: east", "6 1/2 in"), ("closet, wall: east", "5 ft 8 in")])
def test_a_sleeve_too_near_a_corner_says_from_where_to_where_there_is_room(wall: str, place: str) -> None:
    def tried(at: str) -> list[str]:
        through = f"fall: 1/8 in per ft, through: [{{room: {wall}, from left: {at}}}]"
        found = design(SHOP.replace("fall: 1/8 in per ft", through), "shop.yaml").findings
        return [finding.message for finding in found if finding.rule == "ROUTE006"]

    (message,) = tried(place)
    assert "on this side or behind" in message
    assert "0'-6 1/2\" off the wall round that corner" in message
    low, high = re.findall(r"(\d+)'-(\d+ \d/\d)\"", message.partition("room from ")[2])
    for feet, inches in (low, high):
        assert not [said for said in tried(f"{feet} ft {inches} in") if "corner" in said]


def test_a_sleeve_beside_an_opening_says_how_far_off_it_must_be() -> None:
    walls = "walls: [{wall: east, studs"
    opening = "openings: [{kind: window, wall: east, from left: 2 ft, width: 2 ft, height: 8 ft, sill: 3 ft}]"
    text = re.sub(r"openings: \[\{kind: door, wall: south[^\n]+", opening, SHOP)
    assert walls in text
    text = text.replace(
        "fall: 1/8 in per ft", "fall: 1/8 in per ft, through: [{room: closet, wall: east, from left: 4 ft 6 in}]"
    )
    (finding,) = [each for each in design(text, "shop.yaml").findings if each.rule == "ROUTE006"]
    assert "an opening, 2'-0\" to 4'-0\": 0'-11 13/16\" clear of it" in finding.message
