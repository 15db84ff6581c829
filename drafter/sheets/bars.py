"""The bar that shows whether a sheet was printed at its size, and the scale bar."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.drawing import Area, Item, Line, Polyline, Text
from drafter.geometry import Box, Point
from drafter.sheets.layers import Layers
from drafter.sheets.paper import scales
from drafter.site.model import Site

CHECK_MM = 100.0
CHECK_INCHES = 4


def print_and_scale_bars(
    site: Site, scale: float, box: Box, heights_mm: tuple[float, float], layers: Layers
) -> Iterator[Item]:
    """The print-check bar, and a scale bar where the sheet has one scale.

    Args:
        scale: N of the scale 1:N of its first view, 1 where the sheet has none.
        heights_mm: of both above the bottom of the box.
    """
    left, y = box.left + 6.0, box.bottom + heights_mm[0]
    length = CHECK_INCHES * 25.4 if site.imperial else CHECK_MM
    name = f"{CHECK_INCHES} in" if site.imperial else f"{CHECK_MM:.0f} mm"
    yield Line(layers.title, Point(left, y), Point(left + length, y))
    yield Line(layers.title, Point(left, y - 1.5), Point(left, y + 1.5))
    yield Line(layers.title, Point(left + length, y - 1.5), Point(left + length, y + 1.5))
    yield Text(layers.title, Point(left, y - 5.0), f"This bar measures {name} when printed at 100 %.", 2.2)
    if scale > 1:
        at = Point(left, box.bottom + heights_mm[1])
        yield from scale_bar(site, scale, at, layers)
        yield Text(
            layers.title, Point(at.x, at.y + 8.0), f"Scale {scales(site.imperial)[int(scale)]}", 2.5, weight="bold"
        )


def scale_bar(site: Site, scale: float, at: Point, layers: Layers) -> list[Item]:
    """A bar of four divisions with its lower left corner at a point, for a scale 1:N."""
    unit = 304.8 if site.imperial else 1000.0
    steps = (1, 2, 4, 8, 16, 32) if site.imperial else (0.2, 0.5, 1, 2, 5, 10)
    division = next((s for s in steps if s * unit / scale >= 14.0), steps[-1])
    step = division * unit / scale
    items: list[Item] = []
    for i in range(4):
        box = Box(at.x + i * step, at.y, at.x + (i + 1) * step, at.y + 2.0)
        items.append(Polyline(layers.title, box.corners, True))
        if i % 2 == 0:
            items.append(Area(layers.title, box.corners))
        items.append(Text(layers.title, Point(box.left, at.y + 3.2), f"{i * division:g}", 2.2, "bottom"))
    last = f"{4 * division:g} {'ft' if site.imperial else 'm'}"
    items.append(Text(layers.title, Point(at.x + 4 * step, at.y + 3.2), last, 2.2, "bottom"))
    return items
