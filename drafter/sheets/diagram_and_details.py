"""The sheets of the flow diagram and of the typical details: one for both where they fit on it."""

from __future__ import annotations

from drafter.drawing import Item
from drafter.geometry import Box
from drafter.sheets.details import DETAILS_TITLE, detail_pages, row_height, row_of_details
from drafter.sheets.flow_diagram import FLOW_TITLE, flow_pages
from drafter.sheets.scene import Scene

GAP_MM = 6.0
DETAIL_SERIES, DIAGRAM_SERIES = 5, 6
"""Kinds of sheets by the US National CAD Standard (from memory): details; schedules and diagrams."""


def diagram_and_details(scene: Scene, area: Box) -> list[tuple[int, str, tuple[Item, ...]]]:
    """Return kind, title and items of each sheet.

    Args:
        area: room on each sheet [mm on paper].
    """
    diagram = flow_pages(scene, area, row_height(scene, area.width) + GAP_MM)
    below = Box(area.left, area.bottom, area.right, diagram[-1].bottom - GAP_MM)
    sheets = [(DIAGRAM_SERIES, FLOW_TITLE, page.items) for page in diagram]
    if (row := row_of_details(scene, below)) is not None:
        series, title, items = sheets[-1]
        sheets[-1] = series, f"{title} and details", (*items, *row)
        return sheets
    return [*((DETAIL_SERIES, DETAILS_TITLE, tuple(items)) for items in detail_pages(scene, area)), *sheets]
