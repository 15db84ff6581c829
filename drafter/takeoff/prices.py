"""Prices of the parts schedule: which price of the site file is meant for which row, and what all of it costs."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from drafter.finding import Finding, Severity
from drafter.reader import nearest_hint
from drafter.site.model import Site
from drafter.takeoff.part import TUBE
from drafter.takeoff.rows import Row


@dataclass(frozen=True, slots=True)
class Bill:
    """What the parts cost.

    Attributes:
        prices: of each row, each or a metre; None where there is none.
        total: of the rows that have a price, as ordered.
        without: items without a price.
    """

    prices: tuple[float | None, ...]
    total: float
    without: tuple[str, ...]


def bill(rows: Sequence[Row], site: Site) -> Bill | None:
    """Return what the parts cost by the prices of the site file; None where it gives none."""
    if not site.part_prices and not site.main.prices:
        return None
    prices = tuple(_price(row, site) for row in rows)
    total = sum(price * row.order for price, row in zip(prices, rows, strict=True) if price is not None)
    without = [f"{row.item} {row.size}".strip() for price, row in zip(prices, rows, strict=True) if price is None]
    return Bill(prices, total, tuple(without))


def price_findings(rows: Sequence[Row], site: Site) -> Iterator[Finding]:
    """Yield PRICE002 for each name that no row of the parts schedule begins with."""
    known = list(dict.fromkeys(_begins(row) for row in rows))
    for name in site.part_prices or ():
        if not any(_fits(name, row) for row in rows):
            yield Finding(
                "PRICE002",
                Severity.WARNING,
                site.where("part_prices"),
                f"no part of this job is called '{name}'",
                "parts",
                fix=f"{nearest_hint(name, known)}write the first words of an item of the schedule, or drop it",
            )


def _price(row: Row, site: Site) -> float | None:
    """The price whose name has the most words of the row; of tube, before that, the price of its size."""
    if row.group == TUBE and site.main.prices and row.size in site.main.prices:
        return site.main.prices[row.size]
    given: Mapping[str, float] = site.part_prices or {}
    fitting = [name for name in given if _fits(name, row)]
    return given[max(fitting, key=lambda name: len(_words(name)))] if fitting else None


def _fits(name: str, row: Row) -> bool:
    """Whether a name is the first words of the item, or those with the size behind them."""
    words, size = _words(name), _words(row.size)
    if size and words[-len(size) :] == size:
        item = words[: -len(size)]
        if item and _words(row.item)[: len(item)] == item:
            return True
    return _words(row.item)[: len(words)] == words


def _begins(row: Row) -> str:
    return row.item.partition(",")[0]


def _words(text: str) -> list[str]:
    return re.sub(r"[,°]", " ", text.lower()).split()
