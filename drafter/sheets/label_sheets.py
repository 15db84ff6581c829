"""Sheets of markers, tags and signs at their true size, to print, cut out and put up."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from drafter.drawing import Area, Circle, Drawing, Item, Polyline, Sheet, Text
from drafter.geometry import Box, Point
from drafter.lettering import Weight, text_width_mm, wrapped
from drafter.sheets.layers import Layers, before_number
from drafter.sheets.markers import PipeMarker, Tag, pipe_markers, tags
from drafter.sheets.paper import paper
from drafter.sheets.title_block import SheetHead, sheet_fields
from drafter.sheets.title_strip import drawing_area, frame_and_title
from drafter.sizing.network import Network
from drafter.standards.rule_sets import label_size, rule_set

TITLE = "Labels"
CONTENTS = "COMPRESSED AIR"
MARGIN_MM, GAP_MM, PAD_MM = 3.0, 5.0, 4.0
CAPTION_MM, CAPTION_PITCH_MM = 2.2, 3.6
SMALL_LETTERS_MM = 6.0
"""Of markers on pipe that the standard hangs a tag at (value of our own)."""

TAG_MM, TAG_NAME_MM, TAG_TEXT_MM, TAG_PITCH_MM, HOLE_MM = (79.0, 30.0), 7.0, 2.8, 4.6, 4.0
SIGN_MM, SIGN_HEAD_MM, SIGN_TEXT_MM = (121.0, 50.0), 7.0, 4.5
ARROW_LONG, ARROW_HEAD, ARROW_SHAFT = 2.4, 1.2, 0.4
"""Length of the arrow, of its head, and width of its shaft, in heights of the letters."""


@dataclass(frozen=True, slots=True)
class _Cell:
    """Something to cut out: its size [mm], and what draws it from its upper left corner."""

    width: float
    height: float
    draw: Callable[[Point], Iterable[Item]]


def labels_drawing(network: Network, stamp: str = "") -> Drawing:
    """Compose the sheets of labels, on A4 or Letter, whatever the paper of the set.

    Args:
        stamp: of a design with errors.
    """
    site = network.layout.site
    layers, page = Layers(site.drawing.discipline), paper("Letter" if site.imperial else "A4")
    area = drawing_area(page, of_tables=True).grown(-MARGIN_MM)
    words = list(_how_to(network, area, layers))
    cells = [
        *(_sign(*each, layers) for each in _signs(network)),
        *(_tag(tag, layers) for tag in tags(network)),
        *(_marker(marker, area.width, layers) for marker in pipe_markers(network)),
    ]
    filled = _filled(cells, area, area.top - words[-1].at.y + GAP_MM)
    sheets = []
    for index, items in enumerate(filled, 1):
        number = f"{before_number(site.drawing.discipline)}8{50 + index}"
        head = SheetHead(number, TITLE, "1:1", 1.0, index, len(filled))
        framed = frame_and_title(site, page, head, layers, stamp, of_tables=True)
        everything = (*framed, *(words if index == 1 else ()), *items)
        fields = sheet_fields(site, page, head)
        sheets.append(Sheet(head.number, TITLE, page.width_mm, page.height_mm, everything, (), fields))
    data = site.drawing
    return Drawing(
        site.name, "Labels of a compressed-air piping installation", data.drawn_by or data.installer, data.date,
        site.imperial, layers.definitions(), {}, (), tuple(sheets), stamp=stamp,
    )  # fmt: skip


def _how_to(network: Network, area: Box, layers: Layers) -> Iterable[Text]:
    chosen = rule_set(network.layout.site.rule_set)
    said = (
        "Print at 100 % on weatherproof stock and cut along the thin lines. Markers go where one reads them from the "
        "floor, arrows the way the air flows; tags hang by their hole. Sizes after ASME A13.1. Its colours, "
        f"{chosen.label_colours} ({chosen.label_source}), are for the stock, or for markers to be made after these. "
        "The local code decides what is marked and how."
    )
    y = area.top
    for line in wrapped(said, area.width, CAPTION_MM + 0.3):
        y -= CAPTION_PITCH_MM + 0.5
        yield Text(layers.note, Point(area.left, y), line, CAPTION_MM + 0.3)


def _signs(network: Network) -> list[tuple[str, tuple[str, ...]]]:
    units = network.layout.site.units
    leaks = network.leaks
    test = units.pressure(max([leaks.test_gauge_pa, *(part.gauge_pa for part in leaks.before)]))
    return [
        ("LEAVING? CLOSE V-01", ("Stop the compressor and close V-01 at the tank.", "Beside the way out.")),
        (
            "PRESSURE TEST: KEEP OUT",
            (
                f"The pipes are under up to {test}. Nobody but the tester, until this is taken down.",
                "At each door while the test lasts.",
            ),
        ),
    ]


def _framed(at: Point, width: float, height: float, layers: Layers) -> Polyline:
    return Polyline(layers.table, Box(at.x, at.y - height, at.x + width, at.y).corners, True)


def _sign(head: str, lines: Sequence[str], layers: Layers) -> _Cell:
    width, height = SIGN_MM
    inner, (*told, where) = width - 2 * PAD_MM, lines
    set_in: list[tuple[str, float, Weight]] = [(head, SIGN_HEAD_MM, "bold")]
    set_in += [(words, SIGN_TEXT_MM, "regular") for words in told]
    rows = [(line, mm, weight) for words, mm, weight in set_in for line in wrapped(words, inner, mm, weight)]

    def draw(at: Point) -> Iterator[Item]:
        yield _framed(at, width, height, layers)
        y = at.y - 2 * PAD_MM
        for line, letters, weight in rows:
            yield Text(layers.text, Point(at.x + width / 2, y), line, letters, "top", weight=weight)
            y -= 1.7 * letters
        yield Text(layers.text, Point(at.x + PAD_MM, at.y - height + PAD_MM), where, CAPTION_MM)

    return _Cell(width, height, draw)


def _tag(tag: Tag, layers: Layers) -> _Cell:
    width, least = TAG_MM
    inner = width - 2 * PAD_MM
    lines = [line for words in tag.lines for line in wrapped(words, inner, TAG_TEXT_MM)]
    height = max(least, TAG_NAME_MM + 2 * PAD_MM + 3.0 + len(lines) * TAG_PITCH_MM)
    name = wrapped(tag.name, inner - HOLE_MM - PAD_MM, TAG_NAME_MM, "bold")[0]

    def draw(at: Point) -> Iterator[Item]:
        left, y = at.x + PAD_MM, at.y - PAD_MM
        yield _framed(at, width, height, layers)
        yield Circle(layers.table, Point(at.x + width - PAD_MM - HOLE_MM / 2, y - HOLE_MM / 2), HOLE_MM / 2)
        yield Text(layers.text, Point(left, y), name, TAG_NAME_MM, "top left", weight="bold")
        y -= TAG_NAME_MM + 3.0
        for line in lines:
            yield Text(layers.text, Point(left, y), line, TAG_TEXT_MM, "top left")
            y -= TAG_PITCH_MM

    return _Cell(width, height, draw)


def _marker(marker: PipeMarker, widest: float, layers: Layers) -> _Cell:
    """A marker of two rows, contents above pressure and arrow; where it goes stands below it."""
    asked = label_size(marker.size.outside_m)
    wanted = asked.letters_m * 1000.0 or SMALL_LETTERS_MM
    letters = min(wanted, wanted * (widest - 2 * PAD_MM) / _words_mm(marker, wanted))
    width = min(widest, max(asked.field_m * 1000.0, _words_mm(marker, letters) + 2 * PAD_MM))
    pad = max(PAD_MM, letters / 3.0)
    field = 2 * letters + 3 * pad
    caption = f"{marker.place[:1].upper()}{marker.place[1:]}; {marker.size.name}"
    if letters < wanted:
        caption += f"; letters {letters:.0f} mm high for want of paper, to be {wanted:.0f} mm"
    below = wrapped(caption, width, CAPTION_MM)

    def draw(at: Point) -> Iterator[Item]:
        yield _framed(at, width, field, layers)
        yield Text(layers.text, Point(at.x + width / 2, at.y - pad), CONTENTS, letters, "top", weight="bold")
        yield from _second_row(marker, Point(at.x + width / 2, at.y - 2 * pad - letters), letters, layers)
        y = at.y - field - CAPTION_PITCH_MM
        for line in below:
            yield Text(layers.text, Point(at.x, y), line, CAPTION_MM)
            y -= CAPTION_PITCH_MM

    return _Cell(width, field + len(below) * CAPTION_PITCH_MM + 1.0, draw)


def _words_mm(marker: PipeMarker, letters: float) -> float:
    """Width of the wider row."""
    arrows = 2 if marker.toward == "both" else 1
    second = text_width_mm(marker.pressure, letters, "bold") + arrows * (ARROW_LONG + 1.0) * letters
    return max(text_width_mm(CONTENTS, letters, "bold"), second)


def _second_row(marker: PipeMarker, top: Point, letters: float, layers: Layers) -> Iterator[Item]:
    words = text_width_mm(marker.pressure, letters, "bold")
    gap, arrow = letters, ARROW_LONG * letters
    left, right = marker.toward in ("left", "both"), marker.toward != "left"
    x = top.x - (words + (left + right) * (arrow + gap)) / 2.0
    y = top.y - letters / 2.0
    if left:
        yield _arrow(Point(x + arrow, y), -1.0, letters, layers)
        x += arrow + gap
    yield Text(layers.text, Point(x, top.y), marker.pressure, letters, "top left", weight="bold")
    if right:
        yield _arrow(Point(x + words + gap, y), 1.0, letters, layers)


def _arrow(tail: Point, way: float, letters: float, layers: Layers) -> Area:
    shaft, head, half = ARROW_SHAFT * letters / 2, (ARROW_LONG - ARROW_HEAD) * letters, letters / 2
    outline = [
        (0.0, -shaft), (head, -shaft), (head, -half), (ARROW_LONG * letters, 0.0), (head, half), (head, shaft),
        (0.0, shaft),
    ]  # fmt: skip
    return Area(layers.text, tuple(Point(tail.x + way * along, tail.y + across) for along, across in outline))


def _filled(cells: Sequence[_Cell], area: Box, used_mm: float) -> list[list[Item]]:
    """Set cells in rows, in their order, sheet by sheet; ``used_mm`` is taken at the top of the first."""
    sheets: list[list[Item]] = [[]]
    top, x, row = area.top - used_mm, area.left, 0.0
    for cell in cells:
        if x > area.left and x + cell.width > area.right + 1e-6:
            top, x, row = top - row - GAP_MM, area.left, 0.0
        if top - cell.height < area.bottom - 1e-6 and sheets[-1]:
            sheets.append([])
            top, x, row = area.top, area.left, 0.0
        sheets[-1] += cell.draw(Point(x, top))
        x, row = x + cell.width + GAP_MM, max(row, cell.height)
    return sheets
