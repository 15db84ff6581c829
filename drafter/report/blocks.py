"""Titled blocks and columns of a plain-text report."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

FREE_AIR = "free air at 20 degC, 1 bar absolute, dry"


def block(title: str, lines: Iterable[str]) -> str:
    body = [f"  {line}".rstrip() for line in lines]
    return "\n".join([title, *body]) if body else ""


def columns(rows: Sequence[Sequence[str]]) -> list[str]:
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows]


def percent(share: float) -> str:
    return f"{share * 100:.0f} %"
