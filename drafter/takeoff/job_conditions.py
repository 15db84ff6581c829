"""What a job has that asks for tools of its own: what is drilled and cored, how high it is, how short pieces are."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.supports.design import Design
from drafter.takeoff.holding import held_by
from drafter.takeoff.numbers_told import ranges, s
from drafter.takeoff.order_of_work import order_of_work
from drafter.takeoff.pipe_threads import short_pieces
from drafter.takeoff.schedules import Takeoff
from drafter.takeoff.sleeves import passages
from drafter.takeoff.working_height import PLATFORM

_DRILLED = {
    "stud": "wood", "board": "wood", "joist": "wood", "wall": "masonry", "column": "unknown", "ceiling": "unknown",
}  # fmt: skip
"""What is drilled, by what brackets are screwed to; a joist is taken as timber."""


def job_conditions(design: Design, takeoff: Takeoff) -> dict[str, str]:
    """Return the conditions of a job, as tools name them, with what is to be said of each."""
    return dict(_conditions(design, takeoff))


def _conditions(design: Design, takeoff: Takeoff) -> Iterator[tuple[str, str]]:
    places = dict.fromkeys(held_by(bracket)[0] for bracket in design.brackets)
    yield from ((_DRILLED[place], "") for place in places)
    if any(console.on_floor for console in design.consoles):
        yield "stands", ""
    if design.boards:
        yield "boards", f"{len(design.boards)}"
    if any(bracket.hangs for bracket in design.brackets):
        yield "hangers", ""
    through = sorted(passages(design.network), key=lambda passage: passage.sleeve.core_m)
    for condition, met in (
        ("cores", lambda each: not each.deck and not each.framed),
        ("holes", lambda each: each.framed),
        ("decks", lambda each: bool(each.deck)),
    ):
        if cores := dict.fromkeys(each.sleeve.core for each in through if met(each)):
            yield condition, ", ".join(cores)
    if any(PLATFORM in step.care for step in order_of_work(design, takeoff)):
        yield "platform", ""
    short = short_pieces(design.network, takeoff.pieces)
    if short:
        inch = " in" if design.network.material.inch_sized else ""
        sizes = ", ".join(f"{size}{inch}" for size in dict.fromkeys(piece.size for piece in short))
        yield "short", f"piece{s(short)} {ranges(piece.number for piece in short)}, of {sizes}"
