"""Words that take several lines: one paragraph, which files for CAD keep whole."""

from __future__ import annotations

from collections.abc import Sequence

from drafter.drawing import Anchor, Text
from drafter.geometry import Point
from drafter.lettering import Weight


def paragraph(
    layer: str,
    at: Point,
    lines: Sequence[str],
    height_mm: float,
    pitch_mm: float,
    anchor: Anchor = "bottom left",
    weight: Weight = "regular",
) -> list[Text]:
    """Return the lines of a paragraph, empty ones left out.

    Args:
        at: of the first line, where its anchor says.
        pitch_mm: from line to line, downwards.
    """
    found: list[Text] = []
    for number, line in enumerate(lines):
        if line:
            place = Point(at.x, at.y - number * pitch_mm)
            found.append(Text(layer, place, line, height_mm, anchor, weight=weight, goes_on=bool(found)))
    return found
