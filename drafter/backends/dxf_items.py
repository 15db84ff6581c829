"""Items of the neutral drawing written into one space of a DXF, each as its native thing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from drafter.backends.dimension_lines import leader_angle
from drafter.backends.dxf_blocks import Blocks
from drafter.backends.dxf_dimensions import draw_dimension, draw_ordinate, draw_plain_ordinate
from drafter.backends.dxf_shapes import Pen
from drafter.drawing import Dimension, Insert, Item, Leader, Link, Ordinate, Polyline, Record, Text


def draw_items(pen: Pen, blocks: Blocks, items: Iterable[Item]) -> None:
    for item in _paragraphs(items):
        match item:
            case list():
                pen.paragraph(item)
            case Dimension():
                draw_dimension(pen, item)
            case Ordinate() if pen.document.plain_ordinates:
                draw_plain_ordinate(pen, item)
            case Ordinate():
                draw_ordinate(pen, item)
            case Insert():
                blocks.insert_symbol(pen, item)
            case Record():
                blocks.insert_record(pen, item)
            case Leader():
                pen.draw(Polyline(item.layer, item.points))
                if item.tip != "none":
                    blocks.insert_tip(pen, item.tip, item.layer, item.points[0], leader_angle(item))
            case Link():
                pass
            case _:
                pen.draw(item)


def _paragraphs(items: Iterable[Item]) -> Iterator[Item | list[Text]]:
    """Yield each item, but the lines of a paragraph together."""
    lines: list[Text] = []
    for item in items:
        if not (isinstance(item, Text) and item.goes_on):
            yield from _joined(lines)
            lines = []
        if isinstance(item, Text):
            lines.append(item)
        else:
            yield item
    yield from _joined(lines)


def _joined(lines: list[Text]) -> list[Text] | list[list[Text]]:
    return [lines] if len(lines) > 1 else lines
