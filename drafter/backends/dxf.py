"""The neutral drawing as a DXF: views at true size in the model, sheets as layouts.

The document is written with the library's fixed metadata, so that the same drawing always gives the
same bytes, whoever writes it and when.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drafter.backends.dxf_blocks import Blocks
from drafter.backends.dxf_document import Document
from drafter.backends.dxf_items import draw_items
from drafter.backends.dxf_shapes import Pen
from drafter.backends.dxf_sheets import add_sheets, set_up_empty_page
from drafter.backends.dxf_written import fixed_metadata, written
from drafter.backends.view_places import drawn_box, lines_below, offsets_of, room_of, title_of, whole_of
from drafter.drawing import PLAIN, Drawing, Item, Scheme, Sheet, Text, View
from drafter.geometry import Box, Point

MODEL_ONLY = "Do running dimensions stand crossed, or does a sheet lie on the drawing? Open model.dxf instead."


def to_dxf(
    drawing: Drawing,
    views: Sequence[str],
    sheets: Sequence[str] = (),
    version: str = "R2010",
    plain_ordinates: bool = False,
    scheme: Scheme = PLAIN,
    plot_style: str = "",
) -> bytes:
    """Return a DXF with the named views and sheets of a drawing.

    The first view stands at its own coordinates, the others to its right, each with its title, so far
    apart that no window of a sheet shows a part of another view. Views that a sheet shows come into the
    model even if not named. One drawing unit is a millimetre, or an inch in an imperial drawing.
    ``scheme`` gives layers other names and looks; ``plain_ordinates`` writes running dimensions as lines
    and texts, for readers that draw dimensions in their own way. ``plot_style`` names the table of pens that the model
    and the layouts are printed with; without one they print as their layers look.

    Raises:
        StopIteration: the drawing has no view or sheet of that name.
        ezdxf.DXFError: the version is not known.
    """
    pages = [next(sheet for sheet in drawing.sheets if sheet.number == number) for number in sheets]
    names = dict.fromkeys([*views, *(placement.view for page in pages for placement in page.placements)])
    shown = [drawing.view(name) for name in names]
    with fixed_metadata():
        document = Document(drawing, version, shown[0].scale, plain_ordinates, scheme)
        blocks = Blocks(document, _all_items(shown, pages))
        offsets = offsets_of({view.name: room_of(view, pages) for view in shown}, document.unit_mm)
        boxes: list[Box] = []
        for view in shown:
            pen = Pen(document, document.dxf.modelspace(), view.scale, offsets[view.name], view.to_scale)
            words: list[Text] = [*title_of(view, drawing.imperial)]
            if view is shown[0]:
                hint = [MODEL_ONLY] if pages and not plain_ordinates else []
                words += lines_below(view, [*drawing.below, *hint])
            draw_items(pen, blocks, [*view.items, *words])
            boxes.append(drawn_box(view, words, drawing.symbols, offsets[view.name]))
        add_sheets(document, blocks, pages, offsets)
        if not pages:
            set_up_empty_page(document)
        _set_extents(document, whole_of(boxes))
        if plot_style:
            for layout in document.dxf.layouts:
                layout.set_plot_style(plot_style)
        return written(document)


def _all_items(views: Sequence[View], sheets: Sequence[Sheet]) -> Iterator[Item]:
    for view in views:
        yield from view.items
    for sheet in sheets:
        yield from sheet.items


def _set_extents(document: Document, whole: Box) -> None:
    """Tell readers where the model lies, and open it zoomed to the whole."""
    low, high = document.point(Point(whole.left, whole.bottom)), document.point(Point(whole.right, whole.top))
    model = document.dxf.modelspace()
    model.reset_extents((*low, 0.0), (*high, 0.0))
    model.reset_limits(low, high)
    height = document.length(max(whole.height, whole.width / 1.6) * 1.05)
    document.dxf.set_modelspace_vport(height, document.point(whole.centre))
