"""Sheets as paper-space layouts of a DXF, each showing its views through locked viewports."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from drafter.backends.dxf_blocks import Blocks
from drafter.backends.dxf_document import Document
from drafter.backends.dxf_items import draw_items
from drafter.backends.dxf_shapes import Pen
from drafter.backends.dxf_strings import layout_names
from drafter.drawing import Placement, Sheet, Text
from drafter.geometry import Point

_LOCKED = 16384
_FIRST_VIEWPORT = 2  # number 1 is the layout itself
_TO_SCALE_ONE = 16


def add_sheets(document: Document, blocks: Blocks, sheets: list[Sheet], offsets: Mapping[str, Point]) -> None:
    """Add a layout for every sheet in place of the empty one that a new document has.

    ``offsets`` tells how far each view was moved in the model [mm].
    """
    for name, sheet in zip(layout_names([sheet.number for sheet in sheets]), sheets, strict=True):
        layout = document.dxf.layouts.new(name)
        _set_up_page(document, layout, sheet)
        for number, placement in enumerate(sheet.placements, start=_FIRST_VIEWPORT):
            _add_viewport(document, layout, placement, offsets[placement.view], number)
        pen = Pen(document, layout)
        blocks.insert_title_block(pen, sheet)
        draw_items(pen, blocks, [item for item in sheet.items if not (isinstance(item, Text) and item.field)])
    if sheets:
        document.dxf.layouts.delete("Layout1")


def set_up_empty_page(document: Document) -> None:
    """Give the layout of a file without sheets the paper of the set, in the file's own unit."""
    if not document.drawing.sheets:
        return
    sheet, layout = document.drawing.sheets[0], document.dxf.layouts.get("Layout1")
    layout.dxf.paper_width, layout.dxf.paper_height = sheet.width_mm, sheet.height_mm
    layout.dxf.plot_paper_units = 0 if document.drawing.imperial else 1
    layout.reset_limits((0, 0), (document.length(sheet.width_mm), document.length(sheet.height_mm)))


def _set_up_page(document: Document, layout: Any, sheet: Sheet) -> None:
    size = document.length(sheet.width_mm), document.length(sheet.height_mm)
    units = "inch" if document.drawing.imperial else "mm"
    layout.page_setup(size, (0, 0, 0, 0), units, scale=_TO_SCALE_ONE, name="Sheet", device="none_device")
    layout.dxf.layout_flags = 0
    layout.print_lineweights(True)
    layout.reset_extents((0, 0, 0), (*size, 0))
    layout.reset_limits((0, 0), size)
    layout.main_viewport().dxf.layer = document.viewport_layer


def _add_viewport(document: Document, layout: Any, placement: Placement, offset: Point, number: int) -> None:
    view, window = document.drawing.view(placement.view), placement.window
    shown = placement.origin.plus(window.centre.minus(placement.at), view.scale).plus(offset)
    height = window.height / document.unit_mm
    viewport = layout.add_viewport(
        center=document.point(window.centre),
        size=(window.width / document.unit_mm, height),
        view_center_point=document.point(shown),
        view_height=height * view.scale,
        status=number,
        dxfattribs={"layer": document.viewport_layer},
    )
    viewport.dxf.id = number
    viewport.dxf.flags = viewport.dxf.flags | _LOCKED
    viewport.frozen_layers = [document.title_layer]
