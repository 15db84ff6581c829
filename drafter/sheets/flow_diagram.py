"""The flow diagram: rows set on sheets, joined by lines, and by letters where a line goes on on another sheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from drafter.drawing import Circle, Insert, Item, Line, Symbol, Text
from drafter.geometry import Box, Point
from drafter.lettering import wrapped
from drafter.sheets.flow_chains import flow_chain
from drafter.sheets.flow_rows import BRANCH, LETTER, TURN, WRAP, Row, Rows, Segment
from drafter.sheets.flow_signs import ABOVE_LINE_MM, PITCH_MM, SIZES, TEXT_MM, Signs
from drafter.sheets.item_boxes import text_box
from drafter.sheets.paragraph import paragraph
from drafter.sheets.scene import Scene

FLOW_TITLE = "Flow diagram"
TITLE_MM, HEAD_MM = 4.5, 13.0
ROW_GAP_MM = 6.0
FLAG_MM, LEAVES_MM = 3.0, 9.0
"""Radius of the circles round letters; how far below its row a line goes to one."""

FOOT_GAP_MM = 5.0
SIGN_MM, ENTRY_MM, ENTRY_WIDE_MM, LEGEND_HEAD_MM = 15.0, 7.4, 66.0, 5.5
WIDE_MM, KEY_SHARE = 450.0, 0.36
"""On sheets wider than this the key stands beside the legend, with this share of the width."""

KEY = (
    "Over the line: flow of free air in the main when what hangs behind it takes most. Over a take-off: gauge pressure "
    "left in the main there in its outlet's worst case, compressor at cut-in; over a spare tee: as it is now. Below an "
    "outlet: its tag, the free air it takes, the gauge pressure before its coupling. Where no size is written the last "
    "one goes on. Drops leave from the top of the main. C-01 comes with motor, tank, relief valve and drain; its data "
    "plates govern."
)
RING_KEY = " In the ring the air may flow either way; arrows show how it fills."
LETTERS = ". A letter in a circle: the line goes on at the same letter."
CAUTION = (
    "A diagram only: lengths, heights and places stand on plan and elevations. Before work on the line shut V-01, lock "
    "it, and bleed to zero: every drop holds its own air."
)


@dataclass(frozen=True, slots=True)
class FlowPage:
    """What stands on one sheet of the diagram, and where the last one ends below."""

    items: tuple[Item, ...]
    bottom: float


def flow_pages(scene: Scene, area: Box, least_room: float = 0.0) -> list[FlowPage]:
    """Set the diagram on as few sheets as can be, with symbols as large as these allow.

    Args:
        area: room on each sheet [mm on paper].
        least_room: height wanted free below a diagram of one sheet, where that is to be had.
    """
    made = [pages for size in SIZES if (pages := _pages(scene, area, size)) and _fits(pages, area, size)]
    spared = [pages for pages in made if len(pages) == 1 and pages[0].bottom - least_room >= area.bottom]
    fewest = min(len(pages) for pages in made)
    return spared[0] if spared else next(pages for pages in made if len(pages) == fewest)


def _fits(pages: Sequence[FlowPage], area: Box, size: float) -> bool:
    """Whether every row finds room on its sheet; the smallest symbols are taken as they come."""
    boxes = [text_box(item, 1.0) for page in pages for item in page.items if isinstance(item, Text)]
    return size == SIZES[-1] or min(box.bottom for box in boxes) >= area.bottom


def _pages(scene: Scene, area: Box, size: float) -> list[FlowPage]:
    signs = Signs(scene, size)
    rows = Rows(signs, flow_chain(scene), area.left, area.right).rows
    used = _symbols(signs, rows)
    foot = _foot_height(scene, used, area)
    levels = _levels(rows, area, foot)
    last = levels[-1][0]
    low = min(y - row.below for row, (page, y) in zip(rows, levels, strict=True) if page == last)
    alone = low - FOOT_GAP_MM - foot < area.bottom
    count = last + 1 + alone
    joined = list(_Joined(signs, rows, levels).items())
    letters = any(isinstance(item, Circle) for _, item in joined)
    pages = [list(_title(scene, area, number, count, letters)) for number in range(count)]
    for page, item in joined:
        pages[page].append(item)
    top = area.top - HEAD_MM if alone else low - FOOT_GAP_MM
    pages[-1] += _foot(scene, used, area, top)
    return [FlowPage(tuple(items), top - foot) for items in pages]


def _levels(rows: Sequence[Row], area: Box, foot: float) -> list[tuple[int, float]]:
    """The sheet and the height of each row's line; the last keeps room for key and legend where a sheet holds both."""
    found, page, top = list[tuple[int, float]](), 0, area.top - HEAD_MM
    for number, row in enumerate(rows):
        need = row.height + (foot + FOOT_GAP_MM if number + 1 == len(rows) else 0.0)
        if top - need < area.bottom and top < area.top - HEAD_MM:
            page, top = page + 1, area.top - HEAD_MM
        found.append((page, top - row.above))
        top -= row.height + ROW_GAP_MM
    return found


@dataclass(frozen=True)
class _Joined:
    """Draws the rows at their levels, with the lines that join them."""

    signs: Signs
    rows: Sequence[Row]
    levels: Sequence[tuple[int, float]]

    def items(self) -> Iterator[tuple[int, Item]]:
        letters = iter(f"{chr(65 + number % 26)}{number // 26 or ''}" for number in range(len(self.rows) * 2))
        for index, row in enumerate(self.rows):
            page, y = self.levels[index]
            for item in self._row(row, y):
                yield page, item
            yield from self._link(index, letters)
            if row.closes is not None:
                yield from self._upright(row.closes, index, row.ring_row, letters)

    def _line(self, a: Point, b: Point) -> Line:
        return Line(self.signs.scene.layers.main, a, b)

    def _row(self, row: Row, y: float) -> Iterator[Item]:
        at = row.start
        for placed in row.places:
            half = self.signs.room(placed.station).half
            if abs(placed.x - at) > half:
                yield self._line(Point(at, y), Point(placed.x - row.way * half, y))
                yield from self._words(placed.segment, at, placed.x - row.way * half, y, row.way)
            yield from self.signs.items(placed.station, Point(placed.x, y), row.way)
            at = placed.x + row.way * half
        if abs(row.end - at) > 1e-6:
            yield self._line(Point(at, y), Point(row.end, y))
            yield from self._words(row.last, at, row.end, y, row.way)

    def _words(self, segment: Segment, start: float, end: float, y: float, way: int) -> Iterator[Item]:
        """What is written at a stretch of line: in the middle of what the station before it leaves free."""
        layers, middle = self.signs.scene.layers, (start + end) / 2
        if segment.flow:
            yield Text(layers.text, Point(middle, y + 1.8), segment.flow, TEXT_MM, "bottom")
        if segment.pressure:
            yield Text(layers.text, Point(middle, y + ABOVE_LINE_MM), segment.pressure, TEXT_MM, "bottom")
        for number, words in enumerate(segment.sizes):
            yield Text(layers.text, Point(middle, y - 1.8 - number * PITCH_MM), words, TEXT_MM, "top")
        if segment.arrow:
            angle = 0.0 if segment.arrow * way > 0 else 180.0
            yield self.signs.scene.insert(layers.sign, "flow_arrow", Point(middle, y), angle, 0.45)

    def _link(self, index: int, letters: Iterator[str]) -> Iterator[tuple[int, Item]]:
        """The line that a row begins with, from the row it goes on from."""
        row, (page, y) = self.rows[index], self.levels[index]
        if row.link in (BRANCH, TURN):
            yield from self._upright(row.source_x, row.source, index, letters)
        elif row.link == LETTER:
            yield from self._flags(row.source_x, row.start, row.source, index, next(letters))
        elif row.link == WRAP:
            source = self.rows[row.source]
            from_page, from_y = self.levels[row.source]
            lane, back = source.lane, y + row.above + ROW_GAP_MM / 2
            if from_page != page:
                letter = next(letters)
                end = Point(row.source_x + self.signs.room(source.places[-1].station).near + 1.0, from_y)
                yield from_page, self._line(Point(row.source_x, from_y), end)
                yield from ((from_page, item) for item in self._flag(end.plus(Point(FLAG_MM, 0.0)), letter))
                yield page, self._line(Point(row.start, y + 6.0), Point(row.start, y))
                yield from ((page, item) for item in self._flag(Point(row.start, y + 6.0 + FLAG_MM), letter))
                return
            corners = (
                Point(row.source_x + self._out(source), from_y), Point(lane, from_y), Point(lane, back),
                Point(row.start, back), Point(row.start, y),
            )  # fmt: skip
            yield from ((page, self._line(a, b)) for a, b in pairwise(corners))

    def _out(self, row: Row) -> float:
        return self.signs.room(row.places[-1].station).half

    def _upright(self, x: float, upper: int, lower: int, letters: Iterator[str]) -> Iterator[tuple[int, Item]]:
        """An upright line between two rows, or a letter at either end where they stand on two sheets."""
        (page, top), (other, bottom) = sorted((self.levels[upper], self.levels[lower]), key=lambda at: (at[0], -at[1]))
        if page == other:
            yield page, self._line(Point(x, top), Point(x, bottom))
            return
        first, second = (upper, lower) if self.levels[upper][0] < self.levels[lower][0] else (lower, upper)
        yield from self._flags(x, x, first, second, next(letters))

    def _flags(self, x: float, other_x: float, first: int, second: int, letter: str) -> Iterator[tuple[int, Item]]:
        """A letter below where a line leaves a row, and one above where it goes on in another."""
        (page, top), (other, bottom) = self.levels[first], self.levels[second]
        yield page, self._line(Point(x, top), Point(x, top - LEAVES_MM))
        yield from ((page, item) for item in self._flag(Point(x, top - LEAVES_MM - FLAG_MM), letter))
        yield other, self._line(Point(other_x, bottom), Point(other_x, bottom + 6.0))
        yield from ((other, item) for item in self._flag(Point(other_x, bottom + 6.0 + FLAG_MM), letter))

    def _flag(self, at: Point, letter: str) -> Iterator[Item]:
        layers = self.signs.scene.layers
        yield Circle(layers.tag, at, FLAG_MM)
        yield Text(layers.tag, at, letter, TEXT_MM, "centre", weight="bold")


def _title(scene: Scene, area: Box, number: int, count: int, letters: bool) -> Iterator[Item]:
    words = "FLOW DIAGRAM FROM COMPRESSOR TO OUTLETS" + (f", {number + 1} OF {count}" if count > 1 else "")
    layer = scene.layers.note
    yield Text(layer, Point(area.left, area.top - TITLE_MM), words, TITLE_MM, weight="bold")
    goes_on = "NOT TO SCALE" + (LETTERS if letters else "")
    yield Text(layer, Point(area.left, area.top - TITLE_MM - 4.5), goes_on, TEXT_MM)


def _symbols(signs: Signs, rows: Iterable[Row]) -> list[str]:
    """The symbols that the diagram uses, in the order of flow."""
    items = [
        item for row in rows for placed in row.places for item in signs.items(placed.station, Point(0.0, 0.0), row.way)
    ]
    arrows = ["flow_arrow"] if any(placed.segment.arrow for row in rows for placed in row.places) else []
    return list(dict.fromkeys([*(item.symbol for item in items if isinstance(item, Insert)), *arrows]))


def _key(scene: Scene) -> tuple[str, ...]:
    return KEY + (RING_KEY if scene.site.main.arrangement == "ring" else ""), CAUTION


def _parts_of_foot(area: Box) -> tuple[float, float, int]:
    """Width of the key; where the legend begins, beside it on a wide sheet, and in how many columns."""
    wide = area.width > WIDE_MM
    key = KEY_SHARE * area.width if wide else area.width
    left = area.left + (key + 10.0 if wide else 0.0)
    return key, left, max(1, int((area.right - left) // ENTRY_WIDE_MM))


def _foot_height(scene: Scene, used: Sequence[str], area: Box) -> float:
    width, left, columns = _parts_of_foot(area)
    key = sum(len(wrapped(words, width, TEXT_MM)) for words in _key(scene)) * PITCH_MM
    entries = LEGEND_HEAD_MM + -(-len(used) // columns) * ENTRY_MM
    return max(key, entries) if left > area.left else key + 1.5 + entries


def _foot(scene: Scene, used: Sequence[str], area: Box, top: float) -> Iterator[Item]:
    """The key, the caution, and the legend of just the symbols used, in columns."""
    layers, y = scene.layers, top
    width, left, columns = _parts_of_foot(area)
    for words in _key(scene):
        lines = wrapped(words, width, TEXT_MM)
        yield from paragraph(layers.note, Point(area.left, y), lines, TEXT_MM, PITCH_MM, "top left")
        y -= len(lines) * PITCH_MM
    y = top if left > area.left else y - 1.5
    yield Text(
        layers.legend, Point(left, y), "LEGEND, symbols based on the standard named", TEXT_MM, "top left", weight="bold"
    )
    first, each = y - LEGEND_HEAD_MM, (area.right - left) / columns
    for number, name in enumerate(used):
        symbol = scene.symbols[name]
        scale = min(0.4, (SIGN_MM - 3.0) / symbol.size[0], (ENTRY_MM - 0.8) / symbol.size[1])
        at = Point(left + number % columns * each, first - (number // columns + 0.5) * ENTRY_MM)
        words = f"{symbol.title} ({_standard(symbol)})"
        yield scene.insert(layers.legend, name, at.plus(Point((SIGN_MM - 2.0) / 2, 0.0)), scale=scale)
        yield Text(layers.legend, at.plus(Point(SIGN_MM, 0.0)), words, TEXT_MM, "left")


def _standard(symbol: Symbol) -> str:
    """The standard that a symbol follows, without year and number."""
    if not symbol.standard.startswith("based on "):
        return "own sign"
    return symbol.standard.removeprefix("based on ").partition(" (")[0].partition(":")[0]
