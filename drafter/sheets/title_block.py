"""Frame, title block, scale bar and print check of a sheet; fields after ISO 7200 (from memory)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from drafter.drawing import Area, Item, Line, Polyline, Text
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm, wrapped
from drafter.sheets.layers import Layers
from drafter.sheets.paper import Paper
from drafter.site.model import Site

STRIP_MM, CAUTION_ROW_MM, BARS_MM = 40.0, 10.0, 122.0
NARROWEST_WORDS_MM = 40.0
"""Sheets with less room between bars and title block have the caution in a row above them."""

CHECK_MM = 100.0
CHECK_INCHES = 4
CAUTION_MM, CAUTION_PITCH_MM = 88.0, 3.9
STAMPS_MM, WIDEST_STAMPS_MM, LOWEST_STAMPS_MM = 60.0, 120.0, 16.0
"""Room for stamps and approvals is not kept smaller than this."""

CAUTION = (
    "CAUTION  Compressed air stores energy. Before any work: switch off and lock out the compressor, close its "
    "valve, bleed the line to zero. Eye protection. Never tighten a joint under pressure."
)


@dataclass(frozen=True, slots=True)
class SheetHead:
    """What the title block of one sheet says besides the site's own data."""

    number: str
    title: str
    scale_text: str
    scale: float
    index: int
    count: int


def drawing_area(paper: Paper) -> Box:
    """The room for drawing on a sheet: the frame less the strip of the title block."""
    frame = paper.frame
    return Box(frame.left, frame.bottom + STRIP_MM + _caution_row_mm(paper), frame.right, frame.top)


def _block_mm(paper: Paper) -> float:
    return min(180.0, 0.46 * paper.frame.width)


def _caution_row_mm(paper: Paper) -> float:
    wide = paper.frame.width - _block_mm(paper) - BARS_MM > NARROWEST_WORDS_MM
    return 0.0 if wide else CAUTION_ROW_MM


def sheet_fields(site: Site, head: SheetHead) -> tuple[tuple[str, str], ...]:
    """The title block's entries for programs."""
    data = site.drawing
    return (
        ("OWNER", data.client or site.name),
        ("DRAWING", data.number),
        ("REVISION", data.revision),
        ("DATE", data.date),
        ("SHEET", head.number),
        ("SHEETS", f"{head.index} of {head.count}"),
        ("TITLE", site.name),
        ("SUBTITLE", head.title),
        ("SCALE", head.scale_text),
        ("CREATOR", data.drawn_by),
        ("APPROVED", data.approved_by),
    )


def frame_and_title(site: Site, paper: Paper, head: SheetHead, layers: Layers, stamp: str = "") -> list[Item]:
    """Draw frame, centring marks, title block, bars, caution and room for stamps of a sheet."""
    frame, row = paper.frame, _caution_row_mm(paper)
    block = Box(frame.right - _block_mm(paper), frame.bottom, frame.right, frame.bottom + STRIP_MM)
    items: list[Item] = [
        Polyline(layers.frame, frame.corners, True),
        Line(layers.title, Point(frame.left, block.top), Point(frame.right, block.top)),
        Line(layers.title, Point(block.left, block.bottom), Point(block.left, block.top)),
        *_centring(paper, layers),
        *_cells(site, paper, head, block, layers),
    ]
    beside = Box(frame.left, frame.bottom, block.left, block.top)
    items += _low_bars(site, head, beside, layers) if row else _bars_and_words(site, head, beside, layers)
    if row:
        items.append(Line(layers.title, Point(frame.left, block.top + row), Point(frame.right, block.top + row)))
        items += _caution(Box(frame.left, block.top, frame.right, block.top + row), 4.0, layers)
    if stamp:
        below = block.top - (4.0 if row else 1.5)
        items.append(Text(layers.title, Point(frame.left + 6.0, below), stamp, 4.5, "top left", weight="bold"))
    return items


def _bars_and_words(site: Site, head: SheetHead, beside: Box, layers: Layers) -> Iterator[Item]:
    """The bars, and next to them the caution and room for stamps."""
    bars = replace(beside, right=beside.left + BARS_MM)
    yield from _bars(site, head, bars, 8.0, 22.0, layers)
    yield Line(layers.title, Point(bars.right, bars.bottom), Point(bars.right, bars.top))
    yield from _caution_and_stamps(replace(beside, left=bars.right), layers)


def _low_bars(site: Site, head: SheetHead, beside: Box, layers: Layers) -> Iterator[Item]:
    """The bars, set low, and above them room for stamps."""
    yield from _bars(site, head, beside, 6.5, 12.0, layers)
    low = beside.top - LOWEST_STAMPS_MM
    yield Line(layers.title, Point(beside.left, low), Point(beside.right, low))
    yield from _stamps(beside, layers)


def _centring(paper: Paper, layers: Layers) -> list[Item]:
    frame, middle = paper.frame, Point(paper.width_mm / 2, paper.height_mm / 2)
    ends = (
        (Point(frame.left - 5.0, middle.y), Point(frame.left + 3.0, middle.y)),
        (Point(frame.right + 5.0, middle.y), Point(frame.right - 3.0, middle.y)),
        (Point(middle.x, frame.top + 5.0), Point(middle.x, frame.top - 3.0)),
    )
    return [Line(layers.frame, *pair) for pair in ends]


def _cells(site: Site, paper: Paper, head: SheetHead, block: Box, layers: Layers) -> list[Item]:
    data = site.drawing
    rows = (
        (13.0, ((0.68, "site", site.name, 4.5), (0.32, "drawing number", data.number, 3.5))),
        (
            10.0,
            (
                (0.50, "sheet title", head.title, 3.5),
                (0.20, "sheet", head.number, 3.5),
                (0.15, "of", f"{head.index} / {head.count}", 3.0),
                (0.15, "revision", data.revision, 3.5),
            ),
        ),
        (
            8.5,
            (
                (0.40, "for", data.client, 2.5),
                (0.26, "scale", head.scale_text, 2.5),
                (0.20, "date", data.date, 2.5),
                (0.14, "paper", paper.name, 2.5),
            ),
        ),
        (
            8.5,
            (
                (0.30, "address", data.address, 2.5),
                (0.18, "drawn by", data.drawn_by, 2.5),
                (0.18, "checked by", data.checked_by, 2.5),
                (0.18, "approved by", data.approved_by, 2.5),
                (0.16, "installer", data.installer, 2.5),
            ),
        ),
    )
    items: list[Item] = []
    top = block.top
    for height, cells in rows:
        left, bottom = block.left, top - height
        for share, label, value, size in cells:
            width = share * block.width
            items += _cell(Box(left, bottom, left + width, top), label, value, size, layers)
            left += width
            if left < block.right - 0.1:
                items.append(Line(layers.table, Point(left, bottom), Point(left, top)))
        if bottom > block.bottom + 0.1:
            items.append(Line(layers.table, Point(block.left, bottom), Point(block.right, bottom)))
        top = bottom
    return items


def _cell(box: Box, label: str, value: str, size: float, layers: Layers) -> list[Item]:
    items: list[Item] = [Text(layers.title, Point(box.left + 1.2, box.top - 1.0), label, 1.9, "top left")]
    room, lines = box.width - 2.4, [value]
    while size > 2.0 and text_width_mm(value, size) > room:
        size = max(2.0, size - 0.5)
    if text_width_mm(value, size) > room:
        size = 1.85
        lines = wrapped(value, room, size)[:2]
    base = box.bottom + (1.3 if len(lines) == 1 else 0.75 + size + 0.6)
    for number, line in enumerate(lines):
        if line:
            items.append(Text(layers.title, Point(box.left + 1.2, base - number * (size + 0.6)), line, size))
    return items


def _bars(site: Site, head: SheetHead, box: Box, check_mm: float, scale_mm: float, layers: Layers) -> Iterator[Item]:
    """The print-check bar, and a scale bar where the sheet has one scale, so high above the frame [mm]."""
    left, y = box.left + 6.0, box.bottom + check_mm
    length = CHECK_INCHES * 25.4 if site.imperial else CHECK_MM
    name = f"{CHECK_INCHES} in" if site.imperial else f"{CHECK_MM:.0f} mm"
    yield Line(layers.title, Point(left, y), Point(left + length, y))
    yield Line(layers.title, Point(left, y - 1.5), Point(left, y + 1.5))
    yield Line(layers.title, Point(left + length, y - 1.5), Point(left + length, y + 1.5))
    yield Text(layers.title, Point(left, y - 5.0), f"This bar measures {name} when printed at 100 %.", 2.2)
    if head.scale > 1:
        yield from _scale_bar(site, head, Point(left, box.bottom + scale_mm), layers)


def _scale_bar(site: Site, head: SheetHead, at: Point, layers: Layers) -> list[Item]:
    unit = 304.8 if site.imperial else 1000.0
    steps = (1, 2, 4, 8, 16, 32) if site.imperial else (0.2, 0.5, 1, 2, 5, 10)
    division = next((s for s in steps if s * unit / head.scale >= 14.0), steps[-1])
    step = division * unit / head.scale
    items: list[Item] = []
    for i in range(4):
        box = Box(at.x + i * step, at.y, at.x + (i + 1) * step, at.y + 2.0)
        items.append(Polyline(layers.title, box.corners, True))
        if i % 2 == 0:
            items.append(Area(layers.title, box.corners))
        items.append(Text(layers.title, Point(box.left, at.y + 3.2), f"{i * division:g}", 2.2, "bottom"))
    last = f"{4 * division:g} {'ft' if site.imperial else 'm'}"
    items.append(Text(layers.title, Point(at.x + 4 * step, at.y + 3.2), last, 2.2, "bottom"))
    items.append(Text(layers.title, Point(at.x, at.y + 8.0), f"Scale {head.scale_text}", 2.5, weight="bold"))
    return items


def _caution_and_stamps(box: Box, layers: Layers) -> Iterator[Item]:
    """The caution, and room kept free for stamps: beside it in a wide cell, below it where enough is left."""
    wide = box.width >= CAUTION_MM + STAMPS_MM
    room = replace(box, right=max(box.left + CAUTION_MM, box.right - WIDEST_STAMPS_MM)) if wide else box
    lines = _caution(room, 6.5, layers)
    yield from lines
    free = replace(box, left=room.right) if wide else replace(box, top=lines[-1].at.y - 2.5)
    if free.width >= STAMPS_MM and free.height >= LOWEST_STAMPS_MM:
        yield from _stamps(free, layers)
        if wide:
            yield Line(layers.title, Point(free.left, free.top), Point(free.left, free.bottom))
        else:
            yield Line(layers.title, Point(free.left, free.top), Point(free.right, free.top))


def _caution(room: Box, below_mm: float, layers: Layers) -> list[Text]:
    """The caution in as many lines as a room is high, the first so far below its top [mm]."""
    lines = wrapped(CAUTION, room.width - 5.0, 2.5)
    places = [Point(room.left + 2.5, room.top - below_mm - i * CAUTION_PITCH_MM) for i in range(len(lines))]
    return [
        Text(layers.title, at, line, 2.5) for at, line in zip(places, lines, strict=True) if at.y > room.bottom + 1.0
    ]


def _stamps(free: Box, layers: Layers) -> Iterator[Item]:
    yield Text(layers.title, Point(free.left + 1.2, free.top - 1.0), "stamps and approvals", 1.9, "top left")
