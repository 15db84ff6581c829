"""The legend: just the symbols and lines that the views use, each with what it means."""

from __future__ import annotations

from collections.abc import Iterable

from drafter.drawing import Arc, Insert, Item, Line, Text, View
from drafter.geometry import Box, Point
from drafter.lettering import wrapped
from drafter.sheets.scene import Scene

SIGN_MM = 15.0
TEXT_MM = 2.5
PITCH_MM = 3.9
SYMBOL_SCALE = 0.45
BENT_WORDS = "the tube itself bent, no fitting"


def legend(scene: Scene, views: Iterable[View], area: Box) -> tuple[list[Item], float]:
    """Draw the legend from the top of an area; return its items and where it ends."""
    layers = scene.layers
    used = sorted({item.symbol for view in views for item in view.items if isinstance(item, Insert)})
    items: list[Item] = [Text(layers.legend, Point(area.left, area.top - 3.5), "LEGEND", 3.5, weight="bold")]
    y = area.top - 8.0
    for layer, words in (
        (layers.main, "main line"),
        (layers.drop, "drop, swan neck, drip leg"),
        (layers.keep, "keep-clear space"),
        (layers.above, "above: door tracks, decks"),
        (layers.reach, "end of a hose, with its outlet's tag"),
        (layers.unreached, "hatched: floor that no hose gets to"),
        (layers.reach_place, "place to be reached, or side of a thing"),
        (layers.board, "backing board between studs"),
        (layers.stud, "stud or joist, its number"),
    ):
        if any(getattr(item, "layer", "") == layer for view in views for item in view.items):
            items.append(Line(layer, Point(area.left, y - 2.0), Point(area.left + SIGN_MM - 2.0, y - 2.0)))
            items.append(Text(layers.legend, Point(area.left + SIGN_MM, y - 2.0), words, TEXT_MM, "left"))
            y -= 4.4
    bent = [i for view in views for i in view.items if isinstance(i, Arc) and i.layer in (layers.main, layers.drop)]
    if bent:
        end, radius = Point(area.left + SIGN_MM - 5.0, y - 1.0), 2.2
        items.append(Line(layers.main, Point(area.left, end.y), end))
        items.append(Arc(layers.main, Point(end.x, end.y - radius), radius, 0.0, 90.0))
        items.append(Text(layers.legend, Point(area.left + SIGN_MM, y - 2.0), BENT_WORDS, TEXT_MM, "left"))
        y -= 4.6
    for name in used:
        symbol = scene.symbols[name]
        scale = min(SYMBOL_SCALE, (SIGN_MM - 3.0) / symbol.size[0], 6.5 / symbol.size[1])
        lines = wrapped(symbol.title, area.width - SIGN_MM, TEXT_MM)
        height = max(symbol.size[1] * scale, TEXT_MM + (len(lines) - 1) * PITCH_MM) + 1.1
        middle = y - height / 2
        items.append(scene.insert(layers.legend, name, Point(area.left + (SIGN_MM - 2.0) / 2, middle), scale=scale))
        first = middle + (len(lines) - 1) * PITCH_MM / 2
        for number, line in enumerate(lines):
            at = Point(area.left + SIGN_MM, first - number * PITCH_MM)
            items.append(Text(layers.legend, at, line, TEXT_MM, "left"))
        y -= height
    return items, y
