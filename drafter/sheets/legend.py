"""The legend: just the symbols and lines that the views use, each with what it means."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from drafter.drawing import Arc, Area, Circle, Insert, Item, Line, Polyline, Text, View
from drafter.geometry import Box, Point
from drafter.lettering import wrapped
from drafter.sheets.paragraph import paragraph
from drafter.sheets.plan_within import DATUM_MM
from drafter.sheets.scene import Scene, wave

SIGN_MM = 15.0
TEXT_MM = 2.5
PITCH_MM = 3.9
HEAD_MM = 8.0
LINE_MM, BENT_MM, HATCH_MM, HANGER_MM = 4.4, 4.6, 3.2, 4.5
COLUMN_MM = 62.0
"""The narrowest column where several stand side by side."""

SYMBOL_SCALE = 0.45
SELF_TOLD = {"north_arrow", "pressure_gauge"}
"""Signs that have their words beside them."""

BENT_WORDS = "the tube itself bent, no fitting"


@dataclass(frozen=True, slots=True)
class _Entry:
    """A sign with its words: how high it stands, and what draws it below a corner."""

    height_mm: float
    draw: Callable[[Point], Iterator[Item]]


def legend(scene: Scene, views: Sequence[View], area: Box) -> tuple[list[Item], float]:
    """Draw the legend from the top of an area, in columns where it is wide; return its items and where it ends."""
    count = max(1, int(area.width // COLUMN_MM))
    width_mm = area.width / count
    entries = [*_lines(scene, views), *_other_signs(scene, views), *_symbols(scene, views, width_mm)]
    items: list[Item] = [Text(scene.layers.legend, Point(area.left, area.top - 3.5), "LEGEND", 3.5, weight="bold")]
    share_mm = sum(entry.height_mm for entry in entries) / count
    lowest = y = top = area.top - HEAD_MM
    column = 0
    for entry in entries:
        if top - y >= share_mm and column + 1 < count:
            column, y = column + 1, top
        items += entry.draw(Point(area.left + column * width_mm, y))
        y -= entry.height_mm
        lowest = min(lowest, y)
    return items, lowest


def _lines(scene: Scene, views: Iterable[View]) -> Iterator[_Entry]:
    layers = scene.layers
    used = {getattr(item, "layer", "") for view in views for item in view.items}
    for layer, words in (
        (layers.main, "main line"),
        (layers.drop, "drop, swan neck, drip leg"),
        (layers.behind, "pipe behind a column"),
        (layers.keep, "keep-clear space"),
        (layers.above, "above: door tracks, decks"),
        (layers.reach, "end of a hose, with its outlet's tag"),
        (layers.unreached, "hatched: floor that no hose gets to"),
        (layers.reach_place, "place to be reached, or side of a thing"),
        (layers.board, "backing board between studs"),
        (layers.stud, "stud or joist, its number"),
    ):
        if layer in used:
            yield _Entry(LINE_MM, partial(_line, scene, layer, words))


def _line(scene: Scene, layer: str, words: str, at: Point) -> Iterator[Item]:
    y = at.y - 2.0
    yield Line(layer, Point(at.x, y), Point(at.x + SIGN_MM - 2.0, y))
    yield _words(scene, Point(at.x, y), words)


def _other_signs(scene: Scene, views: Iterable[View]) -> Iterator[_Entry]:
    """Signs that are neither a line alone nor a symbol."""
    layers, items = scene.layers, [item for view in views for item in view.items]
    used = {getattr(item, "layer", "") for item in items}
    if any(isinstance(item, Arc) and item.layer in (layers.main, layers.drop) for item in items):
        yield _Entry(BENT_MM, partial(_bent_tube, scene))
    if layers.hose in used:
        yield _Entry(LINE_MM, partial(_hose, scene))
    if layers.wall_hatch in used:
        yield _Entry(HATCH_MM + 1.2, partial(_hatching, scene))
    if any(isinstance(item, Circle) and item.layer == layers.dims for item in items):
        yield _Entry(LINE_MM, partial(_datum_of_wall, scene))
    if any(bracket.hangs for bracket in scene.design.brackets):
        yield _Entry(HANGER_MM + 1.4, partial(_hanger, scene))


def _words(scene: Scene, at: Point, words: str) -> Text:
    return Text(scene.layers.legend, Point(at.x + SIGN_MM, at.y), words, TEXT_MM, "left")


def _hose(scene: Scene, at: Point) -> Iterator[Item]:
    y = at.y - 2.0
    yield Polyline(scene.layers.hose, wave(Point(at.x, y), Point(at.x + SIGN_MM - 2.0, y), 1.2))
    yield _words(scene, Point(at.x, y), "flexible connection")


def _hatching(scene: Scene, at: Point) -> Iterator[Item]:
    box = Box(at.x, at.y - HATCH_MM, at.x + SIGN_MM - 2.0, at.y)
    yield Area(scene.layers.wall_hatch, box.corners, fill="hatch")
    yield Polyline(scene.layers.wall, box.corners, True)
    yield _words(scene, Point(at.x, box.centre.y), "wall, column, deck")


def _datum_of_wall(scene: Scene, at: Point) -> Iterator[Item]:
    middle = Point(at.x + (SIGN_MM - 2.0) / 2, at.y - 2.0)
    yield Circle(scene.layers.dims, middle, DATUM_MM)
    yield _words(scene, Point(at.x, middle.y), "a wall is measured from here")


def _hanger(scene: Scene, at: Point) -> Iterator[Item]:
    middle = Point(at.x + (SIGN_MM - 2.0) / 2, at.y - HANGER_MM)
    yield Line(scene.layers.bracket, middle, Point(middle.x, at.y))
    yield scene.insert(scene.layers.bracket, "bracket", middle, scale=SYMBOL_SCALE)
    yield _words(scene, Point(at.x, at.y - HANGER_MM / 2), "hanger: rod from joist or ceiling")


def _bent_tube(scene: Scene, at: Point) -> Iterator[Item]:
    layers, end, radius = scene.layers, Point(at.x + SIGN_MM - 5.0, at.y - 1.0), 2.2
    yield Line(layers.main, Point(at.x, end.y), end)
    yield Arc(layers.main, Point(end.x, end.y - radius), radius, 0.0, 90.0)
    yield _words(scene, Point(at.x, at.y - 2.0), BENT_WORDS)


def _symbols(scene: Scene, views: Iterable[View], width_mm: float) -> Iterator[_Entry]:
    used = {item.symbol for view in views for item in view.items if isinstance(item, Insert)}
    for name in sorted(used - SELF_TOLD):
        symbol = scene.symbols[name]
        scale = min(SYMBOL_SCALE, (SIGN_MM - 3.0) / symbol.size[0], 6.5 / symbol.size[1])
        lines = wrapped(symbol.title, width_mm - SIGN_MM, TEXT_MM)
        height = max(symbol.size[1] * scale, TEXT_MM + (len(lines) - 1) * PITCH_MM) + 1.1
        yield _Entry(height, partial(_symbol, scene, name, scale, lines, height))


def _symbol(scene: Scene, name: str, scale: float, lines: Sequence[str], height: float, at: Point) -> Iterator[Item]:
    layer, middle = scene.layers.legend, at.y - height / 2
    yield scene.insert(layer, name, Point(at.x + (SIGN_MM - 2.0) / 2, middle), scale=scale)
    first = middle + (len(lines) - 1) * PITCH_MM / 2
    yield from paragraph(layer, Point(at.x + SIGN_MM, first), lines, TEXT_MM, PITCH_MM, "left")
