"""What on the plan points at its enlarged plan: a frame round what that shows, and the sheet where it stands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from drafter.drawing import Item, Link, Polyline, Text, View
from drafter.geometry import Box, Point
from drafter.sheets.enlarged_region import Region
from drafter.sheets.item_boxes import text_box
from drafter.sheets.layers import before_number
from drafter.sheets.placing import Ground, Label
from drafter.sheets.scene import Scene

ENLARGED = "enlarged-plan"
"""Name of the view."""

WORDS_MM = 2.5
RINGS_MM = (1.4, 4.0, 8.0, 13.0, 19.0, 26.0)


def frame_of(scene: Scene, region: Region) -> list[Item]:
    return [Polyline(scene.layers.refer, region.box.corners, True)]


def reference_to(scene: Scene, region: Region, ground: Ground) -> list[Item]:
    """Say beside the frame where it is drawn enlarged, on a sheet that `with_sheet` names; the words lead there."""
    layer, corners = scene.layers.tag, region.box.corners
    middles = [Point((a.x + b.x) / 2, (a.y + b.y) / 2) for a, b in pairwise(corners)]
    words = (f"see {region.title}", _sheet_words(scene, None))
    label = Label(
        layer, layer, corners[3], words, WORDS_MM, rings=RINGS_MM, others=(corners[2], *corners[:2], *middles)
    )
    items = ground.label(label)
    if not items:
        return items
    scale = ground.scale
    spots = [corner for item in items if isinstance(item, Text) for corner in text_box(item, scale).corners]
    around = Box.around([Point(at.x * scale, at.y * scale) for at in spots])
    return [*items, Link(layer, around, ENLARGED)]


def with_sheet(scene: Scene, plan: View, number: str) -> View:
    """The plan with the number of the sheet that its enlarged plan stands on."""
    blank, said = _sheet_words(scene, None), _sheet_words(scene, number)
    return replace(plan, items=_named(plan.items, blank, said))


def _named(items: Sequence[Item], blank: str, said: str) -> tuple[Item, ...]:
    return tuple(replace(item, text=said) if isinstance(item, Text) and item.text == blank else item for item in items)


def _sheet_words(scene: Scene, number: str | None) -> str:
    """The words with a sheet's number; before it is known with another that takes as much room."""
    return f"sheet {number or before_number(scene.site.drawing.discipline) + '000'}"
