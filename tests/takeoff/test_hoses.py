"""Hoses that the site file gives are bought, the others are named as left out."""

from __future__ import annotations

from pathlib import Path

from drafter.pipeline import Designed, design
from drafter.takeoff.hoses import not_in_it
from drafter.takeoff.part import HOSES
from drafter.takeoff.rows import Row

COOP = (Path(__file__).parents[2] / "example_sites" / "bicycle_coop.yaml").read_text(encoding="utf-8")
BLOW_GUN = "{tag: A1, wall: north, from left: 7.4 m, tools: [blow gun]"


def coop(hose: str, prices: str = "") -> Designed:
    assert BLOW_GUN in COOP
    return design(COOP.replace(BLOW_GUN, f"{BLOW_GUN}, {hose}") + prices, "coop.yaml")


def hoses_in(designed: Designed) -> list[Row]:
    assert designed.takeoff is not None, designed.findings
    return [row for row in designed.takeoff.parts if row.group == HOSES]


def said(designed: Designed) -> str:
    assert designed.site is not None
    return not_in_it(designed.site)


def test_a_hose_that_is_given_is_a_row_of_its_own() -> None:
    built = coop("hose: {length: 10 m, bore: 13 mm}, coupling: 1/2")
    (row,) = hoses_in(built)
    assert (row.size, row.quantity, row.order, row.tags) == ("10.00 m x 13 mm", 1, 1, ("A1",))
    assert "1/2 body" in row.item
    assert said(built) == "not in it: hoses with plug at A2, A3, the site file gives none; the tools' own plugs"


def test_the_bore_left_out_is_that_of_the_coupling() -> None:
    (row,) = hoses_in(coop("hose: {length: 8 m}, coupling: 3/8"))
    assert row.size == "8.00 m x 10 mm"


def test_none_is_bought_where_none_is_given_or_the_tool_sits_on_the_coupling() -> None:
    assert hoses_in(design(COOP, "coop.yaml")) == []
    built = coop("hose: {length: 0 m}")
    assert hoses_in(built) == []
    assert "A1" not in said(built)


def test_hoses_may_have_a_price() -> None:
    built = coop("hose: {length: 10 m, bore: 13 mm}", "part prices: {hose: 30.00}\n")
    assert built.takeoff is not None
    assert built.takeoff.bill is not None
    assert built.takeoff.bill.total == 30.0
    assert not [finding for finding in built.findings if finding.rule == "PRICE002"]
