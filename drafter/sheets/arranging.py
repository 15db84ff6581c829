"""Where the schedules go: into room that other pages left free where that saves a sheet, the others on their own."""

from __future__ import annotations

from collections.abc import Sequence

from drafter.geometry import Box
from drafter.sheets.free_room import holds_a_table
from drafter.sheets.layers import Layers
from drafter.sheets.page import NO_SCALE, Page, listed, schedule_title
from drafter.sheets.tables import Placed, Table, flow

SCHEDULE_SERIES = 6


def with_schedules(
    before: Sequence[Page], after: Sequence[Page], tables: Sequence[Table], area: Box, layers: Layers
) -> list[Page]:
    """Set tables in the room that pages left free, and on sheets between them; in room only if that saves a sheet.

    Args:
        before, after: the pages before and after the schedules; these, records to be kept, lend room last.
        area: room on each sheet [mm on paper].
    """
    pages, own = [*before, *after], flow(tables, area, layers)
    chosen: list[tuple[int, Placed]] = []
    for lending in (before, pages) if any(page.free for page in after) else (before,):
        rooms = [(number, room) for number, page in enumerate(lending) for room in page.free if holds_a_table(room)]
        placed = flow(tables, area, layers, [room for _, room in rooms])
        if len(placed) - len(rooms) < len(own):
            own = placed[len(rooms) :]
            chosen = [(number, each) for (number, _), each in zip(rooms, placed, strict=False)]
    for number in dict.fromkeys(number for number, _ in chosen):
        pages[number] = pages[number].with_tables(_together([each for at, each in chosen if at == number]))
    schedules = [
        Page(
            SCHEDULE_SERIES, schedule_title(each.titles), each.items, (), 1.0, NO_SCALE,
            parts=each.titles, contents=listed(each.titles),
        )
        for each in own
    ]  # fmt: skip
    return [*pages[: len(before)], *schedules, *pages[len(before) :]]


def _together(placed: Sequence[Placed]) -> Placed:
    return Placed(
        tuple(item for each in placed for item in each.items), tuple(title for each in placed for title in each.titles)
    )
