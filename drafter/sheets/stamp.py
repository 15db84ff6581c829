"""The stamp of a design that has errors: on every sheet, with every view, so that nobody builds from it."""

from __future__ import annotations

from dataclasses import replace

from drafter.drawing import Drawing, Text, View
from drafter.geometry import Box, Point
from drafter.lettering import text_width_mm

TEXT_MM, DROP_MM = 5.0, 8.0


def stamp_of(errors: int) -> str:
    """Return the words of the stamp; an empty text where there are no errors."""
    return f"NOT FOR CONSTRUCTION - {errors} ERROR{'' if errors == 1 else 'S'}" if errors else ""


def titled(view: View, stamp: str) -> View:
    """Return a view whose title, which CAD files show below it, bears the stamp."""
    return replace(view, title=f"{stamp}: {view.title}") if stamp else view


def stamped_below(drawing: Drawing, view: str) -> Drawing:
    """Return a drawing whose view of that name has the stamp below it, for pictures of the view alone."""
    shown, stamp = drawing.view(view), drawing.stamp
    if not stamp:
        return drawing
    box, layer = shown.box, next(layer.name for layer in drawing.layers if layer.name.endswith("-ANNO-TTLB"))
    text = Text(layer, Point(box.left, box.bottom - DROP_MM * shown.scale), stamp, TEXT_MM, weight="bold")
    right = max(box.right, box.left + text_width_mm(stamp, TEXT_MM, "bold") * shown.scale)
    larger = Box(box.left, box.bottom - (DROP_MM + 2.0) * shown.scale, right, box.top)
    stamped = replace(shown, items=(*shown.items, text), box=larger)
    return replace(drawing, views=tuple(stamped if each is shown else each for each in drawing.views))
