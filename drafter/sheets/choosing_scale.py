"""The scale of a view, and whether it is shown whole or in parts: the largest that fits where every label has room."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from drafter.drawing import Symbol, View
from drafter.geometry import Box
from drafter.sheets.cuts import UNCUT, Cuts
from drafter.sheets.paper import scales
from drafter.sheets.view_parts import Part, cuts_of, parts_of, whole

Draw = Callable[[int, str, Cuts], tuple[View, list[str]]]
"""Draws a view at a scale, to be cut at match lines; also returns the labels that found no room."""

LABELS_PAST_MM = 8.0
"""How far labels set anew beside match lines may reach past the view as it was first drawn."""

MOST_PARTS = 16


@dataclass(frozen=True)
class Sheets:
    """What one sheet holds of a view [mm on paper], and the scales it may have.

    Attributes:
        room: for the whole.
        part_room: for a part, beside its match lines and with its key plan.
        order: scales for the whole, the best first.
        in_parts: scales for a view in parts, the one with the fewest parts first.
        imperial: how scales are written.
    """

    room: Box
    part_room: Box
    order: Sequence[int]
    in_parts: Sequence[int]
    imperial: bool


def shown_whole(draw: Draw, size_m: tuple[float, float], sheets: Sheets) -> Part | None:
    """Draw a view whole at the first scale that fits and shows every label; None where none does."""
    words = scales(sheets.imperial)
    for scale in sheets.order:
        if not _too_large(size_m, scale, sheets.room):
            view, lost = draw(scale, words[scale], UNCUT)
            if not lost and not _is_past(view, sheets.room):
                return whole(view)[0]
    return None


def shown(draw: Draw, size_m: tuple[float, float], sheets: Sheets, symbols: Mapping[str, Symbol]) -> tuple[Part, ...]:
    """Draw a view whole at the first scale that fits and shows every label; where none does, in parts.

    Where labels find no room in parts either, what misses the fewest is taken, and its parts say which. What has no
    room in a view that is not cut is not looked for in its parts.

    Args:
        size_m: width and height of what is drawn without its labels.
    """
    words = scales(sheets.imperial)
    best: tuple[int, tuple[Part, ...]] | None = None
    uncut: dict[int, tuple[View, list[str]]] = {}
    for scale in sheets.order:
        if _too_large(size_m, scale, sheets.room):
            continue
        view, lost = uncut[scale] = draw(scale, words[scale], UNCUT)
        if _is_past(view, sheets.room):
            continue
        if not lost:
            return whole(view)
        if best is None or len(lost) < best[0]:
            best = len(lost), whole(view, lost)
    for scale in sheets.in_parts:
        first, lost = uncut.get(scale) or draw(scale, words[scale], UNCUT)
        if best is not None and len(lost) >= best[0]:
            continue
        parts = _in_parts(draw, first, sheets.part_room, symbols)
        if parts is None:
            continue
        if not parts[0].lost:
            return parts
        if best is None or len(parts[0].lost) < best[0]:
            best = len(parts[0].lost), parts
    if best is not None:
        return best[1]
    smallest = list(words)[-1]
    return whole(*draw(smallest, words[smallest], UNCUT))


def _too_large(size_m: tuple[float, float], scale: int, room: Box) -> bool:
    return size_m[0] * 1000.0 / scale > room.width or size_m[1] * 1000.0 / scale > room.height


def _is_past(view: View, room: Box) -> bool:
    return view.box.width / view.scale > room.width or view.box.height / view.scale > room.height


def _in_parts(draw: Draw, first: View, room: Box, symbols: Mapping[str, Symbol]) -> tuple[Part, ...] | None:
    """Choose match lines in a view, and draw it anew with labels off these; nothing if it is too large."""
    scale, words = int(first.scale), first.scale_text
    width_mm, height_mm = room.width - LABELS_PAST_MM, room.height - LABELS_PAST_MM
    if first.box.width / scale * first.box.height / scale > MOST_PARTS * width_mm * height_mm:
        return None
    for _ in range(2):
        cuts = cuts_of(first, width_mm, height_mm, symbols)
        view, lost = draw(scale, words, cuts)
        parts = parts_of(view, cuts, lost, symbols)
        if len(parts) > MOST_PARTS:
            return None
        boxes = [part.box for part in parts]
        if all(box.width / scale <= room.width and box.height / scale <= room.height for box in boxes):
            return parts
        width_mm, height_mm = width_mm - LABELS_PAST_MM, height_mm - LABELS_PAST_MM
    return None
