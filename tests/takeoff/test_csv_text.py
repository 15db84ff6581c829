"""The lists as CSV: one row an item, units in the header, nothing a spreadsheet would run."""

from __future__ import annotations

import csv
from io import StringIO
from types import SimpleNamespace as Fake
from typing import Any

import pytest

from drafter.quantity import Units
from drafter.takeoff.csv_text import cutting_csv, mark_out_csv, parts_csv

METRIC, IMPERIAL = Units(False), Units(True)


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(text, newline="")))


def part(item: str, quantity: float, unit: str, *tags: str) -> Any:
    return Fake(group="fittings", item=item, size="22", quantity=quantity, order=quantity, unit=unit, tags=tags)


def takeoff(**lists: Any) -> Any:
    return Fake(**{"bill": None, "parts": (), "pieces": (), "bars": (), "marks": ()} | lists)


MARK = Fake(room="shop", wall="north", tag="B-01", what="bracket", from_left_m=1.2192, height_m=2.4384)
PIECE = Fake(number=7, size="22", start="tee", end="A1", centre_to_centre_m=1.0, cut_m=0.8636, make_up=True, bends=())


def test_parts_have_quantity_unit_and_tags() -> None:
    (row,) = rows(parts_csv(takeoff(parts=(part("drain valve", 2.0, "pcs", "D-01", "D-02"),)), METRIC))
    assert row == {
        "group": "fittings",
        "item": "drain valve",
        "size": "22",
        "quantity": "2",
        "to_order": "2",
        "unit": "pcs",
        "tags": "D-01 D-02",
    }


@pytest.mark.parametrize("units, quantity, unit", [(METRIC, "15.24", "m"), (IMPERIAL, "50.0", "ft")])
def test_tube_is_counted_as_the_site_draws(units: Units, quantity: str, unit: str) -> None:
    (row,) = rows(parts_csv(takeoff(parts=(part("tube", 15.24, "m"),)), units))
    assert (row["quantity"], row["unit"]) == (quantity, unit)


def test_pieces_name_the_stock_length_they_come_from_and_where_on_it() -> None:
    bars = (
        Fake(number=1, stock_m=6.0, pieces=(1, 2), starts_m=(0.0, 2.0)),
        Fake(number=2, stock_m=6.096, pieces=(3, 7), starts_m=(0.0, 1.2192)),
    )
    (row,) = rows(cutting_csv(takeoff(pieces=(PIECE,), bars=bars), METRIC))
    assert (row["piece"], row["cut_mm"], row["centre_to_centre_mm"], row["cut_on_site"]) == ("7", "864", "1000", "yes")
    assert (row["stock_length_no"], row["stock_length_mm"], row["begins_at_mm"]) == ("2", "6096", "1219")
    (imperial,) = rows(cutting_csv(takeoff(pieces=(PIECE,), bars=bars), IMPERIAL))
    assert (imperial["stock_length_ft_in"], imperial["begins_at_ft_in"]) == ("20'-0\"", "4'-0\"")


def test_marks_in_millimetres_and_in_feet_and_inches() -> None:
    (metric,) = rows(mark_out_csv(takeoff(marks=(MARK,)), METRIC, 1.0))
    assert (metric["from_left_corner_mm"], metric["height_above_floor_mm"]) == ("1219", "2438")
    (imperial,) = rows(mark_out_csv(takeoff(marks=(MARK,)), IMPERIAL, 1.2192))
    assert (imperial["from_left_corner_ft_in"], imperial["height_above_floor_ft_in"]) == ("4'-0\"", "8'-0\"")
    assert imperial["from_left_corner_mm"] == "1219"


def test_marks_from_the_level_line() -> None:
    (metric,) = rows(mark_out_csv(takeoff(marks=(MARK,)), METRIC, 1.0))
    assert metric["from_level_line_mm"] == "1438"
    (imperial,) = rows(mark_out_csv(takeoff(marks=(MARK,)), IMPERIAL, 1.2192))
    assert (imperial["from_level_line_ft_in"], imperial["from_level_line_mm"]) == ("4'-0\" up", "1219")
    (below,) = rows(mark_out_csv(takeoff(marks=(MARK,)), IMPERIAL, 2.4892))
    assert below["from_level_line_ft_in"] == "0'-2\" down"


@pytest.mark.parametrize("off_m", [0.0, 0.0004, -0.0004])
def test_a_mark_on_the_level_line_is_neither_up_nor_down(off_m: float) -> None:
    (row,) = rows(mark_out_csv(takeoff(marks=(MARK,)), IMPERIAL, MARK.height_m - off_m))
    assert row["from_level_line_ft_in"] == "0'-0\""


def test_pieces_too_short_for_the_vice_are_marked_where_there_are_some() -> None:
    long = Fake(**vars(PIECE) | {"number": 8})
    bars = (Fake(number=1, stock_m=6.0, pieces=(7, 8), starts_m=(0.0, 2.0)),)
    lists = takeoff(pieces=(PIECE, long), bars=bars)
    told = [row["too_short_for_the_vice"] for row in rows(cutting_csv(lists, METRIC, (PIECE,)))]
    assert told == ["nipple chuck, or a bought nipple", ""]
    assert "too_short_for_the_vice" not in rows(cutting_csv(lists, METRIC))[0]


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@now", "\t=1"])
def test_texts_that_look_like_formulas_are_disarmed(text: str) -> None:
    (row,) = rows(parts_csv(takeoff(parts=(part(text, 1.0, "pcs"),)), METRIC))
    assert row["item"] == "'" + text


def test_numbers_below_zero_stay_numbers() -> None:
    low = Fake(**vars(MARK) | {"height_m": -0.25})
    (row,) = rows(mark_out_csv(takeoff(marks=(low,)), METRIC, 1.0))
    assert row["height_above_floor_mm"] == "-250"


def test_texts_with_commas_quotes_and_line_ends_come_back_whole() -> None:
    awkward = 'bracket, "long"\nwith rubber'
    (row,) = rows(parts_csv(takeoff(parts=(part(awkward, 1.0, "pcs"),)), METRIC))
    assert row["item"] == awkward
