"""The strip below the drawing on each sheet: title block, scale bar and print check, caution, room for stamps."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from drafter.drawing import Item, Line, Polyline, Text
from drafter.geometry import Box, Point
from drafter.lettering import wrapped
from drafter.sheets.bars import print_and_scale_bars
from drafter.sheets.layers import Layers
from drafter.sheets.paper import Paper
from drafter.sheets.paragraph import paragraph
from drafter.sheets.title_block import SheetHead, low_title_cells, title_cells
from drafter.site.model import Site

STRIP_MM, LOW_STRIP_MM, CAUTION_ROW_MM, BARS_MM = 40.0, 18.0, 10.0, 122.0
NARROWEST_WORDS_MM = 40.0
"""Sheets with less room between bars and title block are narrow: the caution stands in a row above both."""

CAUTION_MM, CAUTION_PITCH_MM, STAMP_MM = 88.0, 3.9, 4.5
STAMPS_MM, WIDE_STAMPS_MM, LOWEST_STAMPS_MM, WIDEST_CAUTION_MM = 60.0, 120.0, 16.0, 120.0
"""Room for stamps and approvals is not kept smaller than this."""

CAUTION = (
    "CAUTION  Compressed air stores energy. Before any work: switch off and lock out the compressor, close its "
    "valve, bleed the line to zero. Eye protection. Never tighten a joint under pressure."
)


def drawing_area(paper: Paper, of_tables: bool = False) -> Box:
    """The room for drawing on a sheet: the frame less its strip.

    Args:
        of_tables: for a sheet that holds no view. Its strip is lower where the paper is narrow: it has no bars, and
            no room for stamps.
    """
    frame, strip = paper.frame, STRIP_MM
    if _is_narrow(paper):
        strip = CAUTION_ROW_MM + (LOW_STRIP_MM if of_tables else STRIP_MM)
    return Box(frame.left, frame.bottom + strip, frame.right, frame.top)


def frame_and_title(
    site: Site, paper: Paper, head: SheetHead, layers: Layers, stamp: str = "", of_tables: bool = False
) -> list[Item]:
    """Draw frame, centring marks and the strip of a sheet; see `drawing_area`."""
    frame, area = paper.frame, drawing_area(paper, of_tables)
    strip = Box(frame.left, frame.bottom, frame.right, area.bottom)
    items = [
        Polyline(layers.frame, frame.corners, True),
        Line(layers.title, Point(strip.left, strip.top), Point(strip.right, strip.top)),
        *_centring(paper, layers),
        *_stamp(stamp, frame.top + STAMP_MM + 0.6, strip, layers),
    ]
    if not _is_narrow(paper):
        return [*items, *_wide_strip(site, paper, head, strip, layers), *_stamp(stamp, strip.top - 1.5, strip, layers)]
    low = replace(strip, top=strip.top - CAUTION_ROW_MM)
    items.append(Line(layers.title, Point(low.left, low.top), Point(low.right, low.top)))
    items += _caution(replace(strip, bottom=low.top), 4.0, layers)
    if of_tables:
        above = strip.top + STAMP_MM + 0.8
        return [*items, *low_title_cells(site, paper, head, low, layers), *_stamp(stamp, above, strip, layers)]
    return [*items, *_narrow_strip(site, paper, head, low, layers), *_stamp(stamp, low.top - 4.0, low, layers)]


def _is_narrow(paper: Paper) -> bool:
    return paper.frame.width - _block_mm(paper) - BARS_MM <= NARROWEST_WORDS_MM


def _block_mm(paper: Paper) -> float:
    return min(180.0, 0.46 * paper.frame.width)


def _stamp(words: str, top: float, strip: Box, layers: Layers) -> Iterator[Item]:
    if words:
        at = Point(strip.left + 6.0, top)
        yield Text(layers.title, at, words, STAMP_MM, "top left", weight="bold")


def _wide_strip(site: Site, paper: Paper, head: SheetHead, strip: Box, layers: Layers) -> Iterator[Item]:
    """The bars, next to them the caution and room for stamps, and the title block."""
    block = replace(strip, left=strip.right - _block_mm(paper))
    bars = replace(strip, right=strip.left + BARS_MM)
    for side in (bars.right, block.left):
        yield Line(layers.title, Point(side, strip.bottom), Point(side, strip.top))
    yield from print_and_scale_bars(site, head.scale, bars, (8.0, 22.0), layers)
    yield from _caution_and_stamps(replace(strip, left=bars.right, right=block.left), layers)
    yield from title_cells(site, paper, head, block, layers)


def _narrow_strip(site: Site, paper: Paper, head: SheetHead, strip: Box, layers: Layers) -> Iterator[Item]:
    """The bars, set low, above them room for stamps, and the title block."""
    block = replace(strip, left=strip.right - _block_mm(paper))
    free = replace(strip, right=block.left, bottom=strip.top - LOWEST_STAMPS_MM)
    yield Line(layers.title, Point(block.left, strip.bottom), Point(block.left, strip.top))
    yield Line(layers.title, Point(free.left, free.bottom), Point(free.right, free.bottom))
    yield from print_and_scale_bars(site, head.scale, strip, (6.5, 12.0), layers)
    yield from _stamps(free, layers)
    yield from title_cells(site, paper, head, block, layers)


def _centring(paper: Paper, layers: Layers) -> list[Item]:
    frame, middle = paper.frame, Point(paper.width_mm / 2, paper.height_mm / 2)
    ends = (
        (Point(frame.left - 5.0, middle.y), Point(frame.left + 3.0, middle.y)),
        (Point(frame.right + 5.0, middle.y), Point(frame.right - 3.0, middle.y)),
        (Point(middle.x, frame.top + 5.0), Point(middle.x, frame.top - 3.0)),
    )
    return [Line(layers.frame, *pair) for pair in ends]


def _caution_and_stamps(box: Box, layers: Layers) -> Iterator[Item]:
    """The caution, and room kept free for stamps: beside it in a wide cell, below it where enough is left."""
    wide = box.width >= CAUTION_MM + STAMPS_MM
    words_mm = min(max(CAUTION_MM, box.width - WIDE_STAMPS_MM), WIDEST_CAUTION_MM)
    room = replace(box, right=box.left + words_mm) if wide else box
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
    at = Point(room.left + 2.5, room.top - below_mm)
    set_in = paragraph(layers.title, at, lines, 2.5, CAUTION_PITCH_MM)
    return [line for line in set_in if line.at.y > room.bottom + 1.0]


def _stamps(free: Box, layers: Layers) -> Iterator[Item]:
    yield Text(layers.title, Point(free.left + 1.2, free.top - 1.0), "stamps and approvals", 1.9, "top left")
