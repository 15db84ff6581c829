"""A text longer than a TEXT of a DXF may be, as several that stand one behind the other."""

from __future__ import annotations

from dataclasses import replace

from drafter.backends.dxf_strings import lines_of
from drafter.backends.poses import text_start
from drafter.drawing import Text
from drafter.geometry import Point
from drafter.lettering import drawable, text_width_mm


def short_texts(text: Text, scale: float) -> list[Text]:
    """Return the text itself, or its parts along its base line, where millimetres on paper count ``scale`` times."""
    parts = lines_of(text.text)
    if len(parts) == 1:
        return [text]
    at, along = text_start(text, scale), Point(1.0, 0.0).turned(text.angle_deg)
    texts = []
    for part in parts:
        texts.append(replace(text, at=at, text=part, anchor="bottom left"))
        at = at.plus(along, text_width_mm(drawable(part), text.height_mm, text.weight) * scale)
    return texts
