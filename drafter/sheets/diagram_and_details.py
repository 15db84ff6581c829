"""The sheets of the flow diagram and of the typical details: one for both where they fit on it."""

from __future__ import annotations

from dataclasses import replace

from drafter.geometry import Box
from drafter.sheets.details import DETAILS_TITLE, detail_pages, row_height, row_of_details
from drafter.sheets.flow_diagram import FLOW_TITLE, FlowPage, flow_pages
from drafter.sheets.page import NO_SCALE, Page
from drafter.sheets.placing import Ground
from drafter.sheets.revision_marks import marks_of_tags
from drafter.sheets.scene import Scene

GAP_MM = 6.0
DETAIL_SERIES, DIAGRAM_SERIES = 5, 6
"""Kinds of sheets by the US National CAD Standard (from memory): details; schedules and diagrams."""


def diagram_and_details(scene: Scene, area: Box) -> list[Page]:
    """Return the sheets; the last of the diagram holds the details too where they find room below it.

    Args:
        area: room on each sheet [mm on paper].
    """
    diagram = [_marked(scene, page) for page in flow_pages(scene, area, row_height(scene, area.width) + GAP_MM)]
    below = Box(area.left, area.bottom, area.right, diagram[-1].bottom - GAP_MM)
    row = row_of_details(scene, below)
    title = FLOW_TITLE if row is None else f"{FLOW_TITLE} and details"
    pages = [Page(DIAGRAM_SERIES, FLOW_TITLE, page.items, (), 1.0, NO_SCALE) for page in diagram[:-1]]
    items, free = (*diagram[-1].items, *(row or ())), (below,) if row is None else ()
    pages.append(Page(DIAGRAM_SERIES, title, items, (), 1.0, NO_SCALE, free))
    if row is not None:
        return pages
    made = detail_pages(scene, area)
    return [*(Page(DETAIL_SERIES, DETAILS_TITLE, tuple(here), (), 1.0, NO_SCALE, free) for here, free in made), *pages]


def _marked(scene: Scene, page: FlowPage) -> FlowPage:
    """A sheet of the diagram with the marks of the latest revision."""
    ground = Ground(1.0)
    ground.enter(page.items, scene.symbols)
    return replace(page, items=(*page.items, *marks_of_tags(scene, ground, page.items)))
