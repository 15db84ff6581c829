"""The neutral drawing as a DXF: views at true size in the model, sheets as layouts.

The document is written with the library's fixed metadata, so that the same drawing always gives the
same bytes, whoever writes it and when.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from io import StringIO
from math import ceil

import ezdxf

from drafter.backends.dxf_blocks import Blocks
from drafter.backends.dxf_document import Document
from drafter.backends.dxf_items import draw_items
from drafter.backends.dxf_shapes import Pen
from drafter.backends.dxf_sheets import add_sheets
from drafter.drawing import Drawing, Item, Sheet, Text, View
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm

GAP_MM = 2000.0
"""Least room between two views in the model."""

_TITLE_MM, _SUBTITLE_MM = 5.0, 3.5
_TITLE_DROP_MM, _SUBTITLE_DROP_MM = 10.0, 16.0


def to_dxf(
    drawing: Drawing,
    views: Sequence[str],
    sheets: Sequence[str] = (),
    version: str = "R2010",
    plain_ordinates: bool = False,
) -> bytes:
    """Return a DXF with the named views and sheets of a drawing.

    The first view stands at its own coordinates, the others to its right, each with its title, so far
    apart that no window of a sheet shows a part of another view. Views that a sheet shows come into the
    model even if not named. One drawing unit is a millimetre, or an inch in an imperial drawing.
    ``plain_ordinates`` writes running dimensions as lines and texts, for readers that do not show
    ordinate dimensions.

    Raises:
        StopIteration: the drawing has no view or sheet of that name.
        ezdxf.DXFError: the version is not known.
    """
    pages = [next(sheet for sheet in drawing.sheets if sheet.number == number) for number in sheets]
    names = dict.fromkeys([*views, *(placement.view for page in pages for placement in page.placements)])
    shown = [drawing.view(name) for name in names]
    with _fixed_metadata():
        document = Document(drawing, version, shown[0].scale, plain_ordinates)
        blocks = Blocks(document, _all_items(shown, pages))
        offsets = _offsets({view.name: _room(view, pages) for view in shown}, document.unit_mm)
        for view in shown:
            pen = Pen(document, document.dxf.modelspace(), view.scale, offsets[view.name])
            draw_items(pen, blocks, view.items)
            draw_items(pen, blocks, _title(view, document))
        add_sheets(document, blocks, pages, offsets)
        _set_extents(document, [_moved(_box(view), offsets[view.name]) for view in shown])
        return _written(document)


def _all_items(views: Sequence[View], sheets: Sequence[Sheet]) -> Iterator[Item]:
    for view in views:
        yield from view.items
    for sheet in sheets:
        yield from sheet.items


@contextmanager
def _fixed_metadata() -> Iterator[None]:
    """Free the library from a user's own settings, and from the clock, while a document is made."""
    ezdxf.options.reset()
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = False


def _box(view: View) -> Box:
    """Return the view's box with the title below it."""
    width = max(text_width_mm(view.title, _TITLE_MM, "bold"), text_width_mm(view.scale_text, _SUBTITLE_MM) + 60.0)
    box = view.box
    right = max(box.right, box.left + width * view.scale)
    return Box(box.left, box.bottom - (_SUBTITLE_DROP_MM + 2.0) * view.scale, right, box.top)


def _title(view: View, document: Document) -> tuple[Text, Text]:
    box, layer = view.box, document.title_layer
    unit = "inch" if document.drawing.imperial else "mm"
    lines = (
        (view.title, _TITLE_MM, _TITLE_DROP_MM),
        (f"{view.scale_text}   1 unit = 1 {unit}", _SUBTITLE_MM, _SUBTITLE_DROP_MM),
    )
    title, subtitle = (
        Text(layer, Point(box.left, box.bottom - drop * view.scale), text, height) for text, height, drop in lines
    )
    return title, subtitle


def _room(view: View, sheets: Sequence[Sheet]) -> Box:
    """Return the box of a view, and all round it that windows of sheets show of the model."""
    room = _box(view)
    for placement in (each for sheet in sheets for each in sheet.placements if each.view == view.name):
        off = [corner.minus(placement.at) for corner in placement.window.corners]
        room = room.joined(Box.around([placement.origin.plus(each, view.scale) for each in off]))
    return room


def _offsets(rooms: Mapping[str, Box], unit_mm: float) -> dict[str, Point]:
    """Return by their names how far views move: columns to the right of the first view, filled from below.

    Moves are whole metres or feet, so that coordinates in a moved view stay easy to read.
    """
    step = 304.8 if unit_mm > 1.0 else 1000.0
    (name, first), *others = rooms.items()
    offsets = {name: Point(0.0, 0.0)}
    left, bottom, right = first.right + GAP_MM, first.bottom, first.right
    for name, box in others:
        if bottom > first.bottom and bottom + box.height > max(first.top, first.bottom + box.height):
            left, bottom = right + GAP_MM, first.bottom
        move = Point(ceil((left - box.left) / step) * step, ceil((bottom - box.bottom) / step) * step)
        offsets[name] = move
        bottom = box.top + move.y + GAP_MM
        right = max(right, box.right + move.x)
    return offsets


def _moved(box: Box, offset: Point) -> Box:
    return Box(box.left + offset.x, box.bottom + offset.y, box.right + offset.x, box.top + offset.y)


def _set_extents(document: Document, boxes: Sequence[Box]) -> None:
    """Tell readers where the model lies, and open it zoomed to the whole."""
    whole = boxes[0]
    for box in boxes[1:]:
        whole = whole.joined(box)
    low, high = document.point(Point(whole.left, whole.bottom)), document.point(Point(whole.right, whole.top))
    model = document.dxf.modelspace()
    model.reset_extents((*low, 0.0), (*high, 0.0))
    model.reset_limits(low, high)
    height = document.length(max(whole.height, whole.width / 1.6) * 1.05)
    document.dxf.set_modelspace_vport(height, document.point(whole.centre))


def _written(document: Document) -> bytes:
    dxf = document.dxf
    for block in dxf.blocks:
        block.units = dxf.units
    for name in sorted(dxf.entitydb.dxf_types_in_use()):
        dxf.classes.add_class(name)
    stream = StringIO(newline="\n")
    dxf.write(stream)
    encoded: bytes = dxf.encode(stream.getvalue())
    return encoded
