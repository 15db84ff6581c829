"""Prices of the parts schedule: the first words of an item are its name, the longest name wins."""

from __future__ import annotations

import csv
from io import StringIO
from pathlib import Path

import pytest

from drafter.pipeline import Designed, design
from drafter.report import report_text, to_json
from drafter.takeoff import Takeoff
from drafter.takeoff.csv_text import parts_csv

SITE = (Path(__file__).parents[1] / "data" / "keeps_every_rule.yaml").read_text(encoding="utf-8")
PRICES = """part prices:
  ball valve: 9.5
  ball valve, lockable: 14
  elbow 90°: 1.20
  elbow 90° 1/2: 0.9
  tee: 2
  quick coupling: 6.4
"""


def priced(text: str = PRICES, main: str = "") -> Designed:
    return design(SITE.replace("fall: 1 %", f"fall: 1 %{main}") + text, "yard.yaml")


def takeoff_of(designed: Designed) -> Takeoff:
    assert designed.takeoff is not None, designed.findings
    return designed.takeoff


def by_item(takeoff: Takeoff) -> dict[tuple[str, str], float | None]:
    assert takeoff.bill is not None
    return {(row.item, row.size): price for row, price in zip(takeoff.parts, takeoff.bill.prices, strict=True)}


def test_the_longest_name_wins() -> None:
    prices = by_item(takeoff_of(priced()))
    assert prices["ball valve, lockable, threaded, both ends female", "G 3/4"] == 14.0
    assert {price for (item, _), price in prices.items() if item == "ball valve with union ends for tube"} == {9.5}
    for (item, size), price in prices.items():
        if item == "elbow 90°":
            assert price == (0.9 if size == "1/2" else 1.2)
        if item == "reducing tee":
            assert price is None


def test_the_total_is_that_of_what_is_ordered() -> None:
    takeoff = takeoff_of(priced())
    assert takeoff.bill is not None
    prices = by_item(takeoff)
    expected = sum((prices[row.item, row.size] or 0.0) * row.order for row in takeoff.parts)
    assert takeoff.bill.total == pytest.approx(expected)
    assert takeoff.bill.total > 14.0
    unpriced = [row for row in takeoff.parts if prices[row.item, row.size] is None]
    assert len(takeoff.bill.without) == len(unpriced) > 0


def test_tube_has_the_price_of_its_size() -> None:
    takeoff = takeoff_of(priced("", ", size: 3/4, drop size: 1/2, prices: {3/4: 9.5, 1/2: 6}"))
    prices = by_item(takeoff)
    assert prices["copper tube ASTM B88 type L", "3/4"] == 9.5
    assert takeoff.bill is not None
    tube = {row.size: row.order for row in takeoff.parts if row.group == "tube"}
    assert takeoff.bill.total == pytest.approx(9.5 * tube["3/4"] + 6.0 * tube["1/2"])


def test_a_name_of_nothing_is_found_with_the_near_one() -> None:
    designed = priced("part prices: {bal valve: 9.5, tee: 2}\n")
    (found,) = [finding for finding in designed.findings if finding.rule == "PRICE002"]
    assert "bal valve" in found.message
    assert "did you mean 'ball valve" in found.fix
    assert found.place.line == len(SITE.splitlines()) + 1


def test_without_prices_nothing_is_said_of_them() -> None:
    designed = priced("")
    takeoff = takeoff_of(designed)
    assert takeoff.bill is None
    assert designed.site is not None
    assert "cost" not in parts_csv(takeoff, designed.site.units).splitlines()[0]
    assert "COST OF PARTS" not in report_text(designed.findings, SITE, designed.design, takeoff)


def test_the_lists_and_the_report_show_them() -> None:
    designed = priced()
    takeoff = takeoff_of(designed)
    assert designed.site is not None
    assert takeoff.bill is not None
    rows = list(csv.DictReader(StringIO(parts_csv(takeoff, designed.site.units), newline="")))
    assert sum(float(row["cost"] or 0.0) for row in rows) == pytest.approx(takeoff.bill.total, abs=0.05)
    assert f"total {takeoff.bill.total:.2f}" in report_text(designed.findings, SITE, designed.design, takeoff)
    data = to_json(designed.findings, designed.design, takeoff)
    assert [part["price"] for part in data["parts"]] == list(takeoff.bill.prices)
